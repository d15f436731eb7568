//! Any diameter in both gauge systems, with how far off each is.

use std::fmt;

use super::{Gauge, awg, british};
use crate::quantity::Length;

/// The nearest size of each system to a diameter, and how far the diameter is from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// Nearest American wire gauge.
    pub awg: Gauge,
    /// Diameter less that gauge, in percent of the gauge: positive if the wire is thicker.
    pub awg_error_percent: f64,
    /// Nearest British standard wire gauge.
    pub british: Gauge,
    /// Diameter less that gauge, in percent of the gauge: positive if the wire is thicker.
    pub british_error_percent: f64,
}

/// A diameter printed in mm, inches and both gauge systems.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BothSystems(Length);

/// The nearest gauge of each system to a diameter.
///
/// `error = 100 (d - d_gauge) / d_gauge`; nearest is the smallest error without its sign.
///
/// # Units
/// A length in; errors in percent.
/// # Validity
/// Positive diameters. Beyond the end of a system its last size is nearest, with a large error.
/// # Source
/// Definition.
///
/// ```
/// use linkwright_calc::{gauge::{nearest, Gauge}, quantity::Length};
/// let near = nearest(Length::from_mm(1.0));
/// assert_eq!((near.awg, near.british), (Gauge::Awg(18), Gauge::BritishStandard(19)));
/// assert!((near.awg_error_percent - -2.3139).abs() < 5e-5); // 1.0 against 1.023687
/// assert!((near.british_error_percent - -1.5748).abs() < 5e-5); // 1.0 against 1.016
/// ```
pub fn nearest(diameter: Length) -> Nearest {
    let d_mm = diameter.mm();
    let percent_off = |gauge: Length| 100.0 * (d_mm - gauge.mm()) / gauge.mm();
    let (awg, awg_error_percent) = awg::NUMBERS
        .map(|n| (Gauge::Awg(n), percent_off(awg::diameter(n))))
        .reduce(closer)
        .unwrap_or((Gauge::Awg(0), f64::NAN));
    let (british, british_error_percent) = british::NUMBERS
        .map(|n| (Gauge::BritishStandard(n), percent_off(british::diameter(n))))
        .reduce(closer)
        .unwrap_or((Gauge::BritishStandard(0), f64::NAN));
    Nearest { awg, awg_error_percent, british, british_error_percent }
}

fn closer(one: (Gauge, f64), other: (Gauge, f64)) -> (Gauge, f64) {
    if other.1.abs() < one.1.abs() { other } else { one }
}

/// A diameter ready to print in both systems.
///
/// # Units
/// Millimetres to three places, inches to four, gauge errors to a tenth of a percent.
/// # Validity
/// For reading, not for reckoning: the digits are cut. Within a thousandth of a percent of a
/// gauge it says "exactly".
/// # Source
/// Layout of our own.
///
/// ```
/// use linkwright_calc::gauge::{Gauge, in_both_systems};
/// let wire = Gauge::Awg(18).diameter().unwrap();
/// assert_eq!(
///     in_both_systems(wire).to_string(),
///     "1.024 mm, 0.0403 in, 18 AWG exactly / 19 SWG (British) +0.8 %"
/// );
/// ```
pub const fn in_both_systems(diameter: Length) -> BothSystems {
    BothSystems(diameter)
}

impl fmt::Display for BothSystems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let near = nearest(self.0);
        write!(
            f,
            "{:.3} mm, {:.4} in, {}{} / {}{}",
            self.0.mm(),
            self.0.inches(),
            near.awg,
            Off(near.awg_error_percent),
            near.british,
            Off(near.british_error_percent)
        )
    }
}

/// How far off a gauge is, as printed after it.
struct Off(f64);

/// Below this a diameter is the gauge itself: far finer than any tolerance of drawn wire, and not told
/// from nothing at the places printed.
const EXACT_PERCENT: f64 = 0.005;

impl fmt::Display for Off {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let percent = self.0;
        if percent.abs() < EXACT_PERCENT {
            f.write_str(" exactly")
        } else if percent.abs() < 0.1 {
            write!(f, " {percent:+.2} %")
        } else {
            write!(f, " {percent:+.1} %")
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::{in_both_systems, nearest};
    use crate::gauge::{Gauge, GaugeSystem};
    use crate::quantity::Length;

    #[test]
    fn every_gauge_is_nearest_to_itself() {
        for number in -6..=56 {
            if let Ok(gauge) = GaugeSystem::Awg.gauge(number) {
                let near = nearest(gauge.diameter().expect("in the series"));
                assert_eq!((near.awg, near.awg_error_percent.abs() > 0.0), (gauge, false));
            }
            if let Ok(gauge) = GaugeSystem::BritishStandard.gauge(number) {
                let near = nearest(gauge.diameter().expect("in the series"));
                assert_eq!((near.british, near.british_error_percent.abs() > 0.0), (gauge, false));
            }
        }
    }

    #[test]
    fn beyond_the_ends_the_last_size_is_nearest() {
        let thick = nearest(Length::from_mm(100.0));
        assert_eq!((thick.awg, thick.british), (Gauge::Awg(-3), Gauge::BritishStandard(-6)));
        let fine = nearest(Length::from_mm(0.001));
        assert_eq!((fine.awg, fine.british), (Gauge::Awg(56), Gauge::BritishStandard(50)));
    }

    #[test]
    fn a_small_error_is_printed_and_not_called_exact() {
        assert_eq!(
            in_both_systems(Length::from_mm(1.024)).to_string(),
            "1.024 mm, 0.0403 in, 18 AWG +0.03 % / 19 SWG (British) +0.8 %"
        );
    }

    proptest! {
        #[test]
        fn between_two_awg_sizes_the_error_stays_below_half_a_step(d_mm in 0.0125..11.6) {
            // Two sizes in the ratio r = 92^(1/39) are equally far at (r - 1)/(r + 1) = 5.79 %.
            let near = nearest(Length::from_mm(d_mm));
            prop_assert!(near.awg_error_percent.abs() <= 5.80);
        }
    }
}
