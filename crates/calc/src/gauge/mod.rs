//! Wire gauges: numbers that mean nothing without their system.

mod american_steel;
mod awg;
mod british;
mod nearest;

pub use american_steel::diameter as american_steel_diameter;
pub use nearest::{BothSystems, Nearest, in_both_systems, nearest};

use std::fmt;

use thiserror::Error;

use crate::quantity::Length;

/// A gauge number together with its system, thick sizes negative: 0000 and 4/0 are -3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Gauge {
    /// American wire gauge, also called B&S.
    Awg(i8),
    /// British standard wire gauge, the "SWG" of British catalogues.
    BritishStandard(i8),
}

/// Which series of sizes a gauge number counts in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GaugeSystem {
    /// American wire gauge.
    Awg,
    /// British standard wire gauge.
    BritishStandard,
}

/// A number its system does not have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error(
    "{system} has no number {}; it runs from {} to {}",
    Number(*number), Number(*number_min), Number(*number_max)
)]
pub struct NoSuchGauge {
    /// The system.
    pub system: GaugeSystem,
    /// The number that was asked for; 4/0 is -3.
    pub number: i64,
    /// Thickest size of the system.
    pub number_min: i64,
    /// Finest size of the system.
    pub number_max: i64,
}

impl GaugeSystem {
    /// The gauge of this number.
    ///
    /// # Units
    /// A gauge number; 4/0 is -3.
    /// # Validity
    /// AWG 0000 to 56, British 7/0 to 50.
    /// # Errors
    /// [`NoSuchGauge`] outside that range.
    /// # Source
    /// AWG: sizes tabulated in ASTM B258-02. British: sizes of the standard of 1884.
    ///
    /// ```
    /// use linkwright_calc::gauge::{Gauge, GaugeSystem};
    /// assert_eq!(GaugeSystem::Awg.gauge(18), Ok(Gauge::Awg(18)));
    /// let error = GaugeSystem::BritishStandard.gauge(51).unwrap_err();
    /// assert_eq!(error.to_string(), "SWG (British) has no number 51; it runs from 7/0 to 50");
    /// ```
    pub fn gauge(self, number: i64) -> Result<Gauge, NoSuchGauge> {
        let numbers = match self {
            GaugeSystem::Awg => awg::NUMBERS,
            GaugeSystem::BritishStandard => british::NUMBERS,
        };
        match i8::try_from(number) {
            Ok(number) if numbers.contains(&number) => Ok(match self {
                GaugeSystem::Awg => Gauge::Awg(number),
                GaugeSystem::BritishStandard => Gauge::BritishStandard(number),
            }),
            _ => Err(NoSuchGauge {
                system: self,
                number,
                number_min: i64::from(*numbers.start()),
                number_max: i64::from(*numbers.end()),
            }),
        }
    }
}

impl Gauge {
    /// The system.
    pub const fn system(self) -> GaugeSystem {
        match self {
            Gauge::Awg(_) => GaugeSystem::Awg,
            Gauge::BritishStandard(_) => GaugeSystem::BritishStandard,
        }
    }

    /// The number; 4/0 is -3.
    pub const fn number(self) -> i8 {
        match self {
            Gauge::Awg(number) | Gauge::BritishStandard(number) => number,
        }
    }

    /// Diameter of round wire of this gauge.
    ///
    /// AWG: `d = 0.127 * 92^((36 - n)/39)` mm. British: from the table, in tenths of a thou.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// The unrounded AWG formula; printed tables round it to a tenth of a thou, which moves the
    /// diameter by up to 0.4 % between 10 and 30 AWG.
    /// # Errors
    /// [`NoSuchGauge`] if the system has no such number.
    /// # Source
    /// AWG: ASTM B258, rule as quoted in public text. British: Order in Council of 1883, later
    /// BS 3737:1964 (withdrawn, not seen), numbers from `data/wire-gauges.csv`.
    ///
    /// ```
    /// use linkwright_calc::gauge::Gauge;
    /// assert!((Gauge::Awg(12).diameter().unwrap().mm() - 2.052525388).abs() < 5e-10);
    /// assert_eq!(Gauge::BritishStandard(16).diameter().unwrap().mm(), 1.6256);
    /// assert!(Gauge::BritishStandard(51).diameter().is_err());
    /// ```
    pub fn diameter(self) -> Result<Length, NoSuchGauge> {
        self.system().gauge(i64::from(self.number()))?;
        Ok(match self {
            Gauge::Awg(number) => awg::diameter(number),
            Gauge::BritishStandard(number) => british::diameter(number),
        })
    }
}

impl fmt::Display for GaugeSystem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            GaugeSystem::Awg => "AWG",
            GaugeSystem::BritishStandard => "SWG (British)",
        })
    }
}

impl fmt::Display for Gauge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Number(i64::from(self.number())), self.system())
    }
}

/// A number as printed: 18, 0, 2/0.
struct Number(i64);

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            number @ 0.. => write!(f, "{number}"),
            number => write!(f, "{}/0", 1 + number.unsigned_abs()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Gauge, GaugeSystem};

    #[test]
    fn thick_sizes_print_as_a_count_of_noughts() {
        assert_eq!(Gauge::Awg(-3).to_string(), "4/0 AWG");
        assert_eq!(Gauge::Awg(0).to_string(), "0 AWG");
        assert_eq!(Gauge::BritishStandard(-6).to_string(), "7/0 SWG (British)");
    }

    #[test]
    fn numbers_beyond_either_end_are_refused_with_the_ends() {
        for (system, number, says) in [
            (GaugeSystem::Awg, -4, "AWG has no number 5/0; it runs from 4/0 to 56"),
            (GaugeSystem::Awg, 57, "AWG has no number 57; it runs from 4/0 to 56"),
            (
                GaugeSystem::BritishStandard,
                -7,
                "SWG (British) has no number 8/0; it runs from 7/0 to 50",
            ),
            (
                GaugeSystem::Awg,
                i64::MIN,
                "AWG has no number 9223372036854775809/0; it runs from 4/0 to 56",
            ),
        ] {
            assert_eq!(system.gauge(number).unwrap_err().to_string(), says);
        }
        assert!(Gauge::Awg(i8::MAX).diameter().is_err());
        assert!(Gauge::BritishStandard(i8::MIN).diameter().is_err());
    }

    #[test]
    fn each_size_is_finer_than_the_one_before() {
        for system in [GaugeSystem::Awg, GaugeSystem::BritishStandard] {
            let sizes_mm: Vec<f64> = (-6..=56)
                .filter_map(|number| system.gauge(number).ok())
                .map(|gauge| gauge.diameter().expect("in the series").mm())
                .collect();
            assert!(sizes_mm.len() >= 57, "{system}: {}", sizes_mm.len());
            assert!(sizes_mm.windows(2).all(|pair| pair[0] > pair[1]), "{system}");
        }
    }
}
