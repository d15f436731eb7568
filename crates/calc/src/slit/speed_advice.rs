//! How fast to run a blade in a metal, by the handbook and by custom, and what to watch.

use std::fmt;

use super::handbook::{RUBS_BELOW, feed_mm_per_min};
use super::{Blade, Chip, CuttingSpeed, FlexibleShaft, Rpm, SurfaceSpeed, cutting_speed};
use crate::limits::LimitError;
use crate::metal::{Family, Metal};

/// A range of speeds of turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RpmRange {
    /// Slow end.
    pub low: Rpm,
    /// Fast end.
    pub high: Rpm,
}

/// How fast to run a blade in a metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedAdvice {
    /// The handbook row it rests on.
    pub handbook: &'static CuttingSpeed,
    /// Turns a minute by the handbook.
    pub by_handbook: RpmRange,
    /// Turns a minute as flexible shafts are run in silver and copper alloys; common practice, no
    /// source. Nothing for other metals, where no custom is known and a fast blade does harm.
    pub by_custom: Option<RpmRange>,
    /// Feed along the coil at the middle of the handbook speed, low and high, in mm a minute;
    /// nothing if the teeth are not counted.
    pub feed_mm_per_min: Option<[f64; 2]>,
}

/// What to watch about speed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum SpeedCaution {
    /// The chip is so thin that the teeth rub.
    Rubs {
        /// Thickest place of the chip.
        chip_um: f64,
    },
    /// The teeth run faster than the handbook has it.
    AboveHandbook {
        /// Speed of the teeth.
        m_per_min: f64,
        /// Fast end of the handbook range.
        m_per_min_high: f64,
    },
}

impl fmt::Display for SpeedCaution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SpeedCaution::Rubs { chip_um } => write!(
                f,
                "each tooth takes {chip_um:.2} um at most: it rubs, it does not cut; run slower or push a little more"
            ),
            SpeedCaution::AboveHandbook { m_per_min, m_per_min_high } => write!(
                f,
                "the teeth run at {m_per_min:.0} m/min, above the handbook's {m_per_min_high:.0} m/min: blade life falls"
            ),
        }
    }
}

/// Speeds of turn for a blade in a metal; nothing if no handbook row fits the metal.
///
/// `n = 1000 v/(pi Db)` at both ends of the handbook range; the customary range beside it.
///
/// # Units
/// Turns a minute, millimetres a minute.
/// # Validity
/// Never above the speed that blade and handpiece are made for.
/// # Errors
/// [`LimitError`] naming `rpm` if the blade's size takes a range out of its limits.
/// # Source
/// Mechanics D15 and the rows of [`CUTTING_SPEEDS`](super::CUTTING_SPEEDS).
///
/// ```
/// use linkwright_calc::{metal::Catalogue, quantity::Length};
/// use linkwright_calc::slit::{Blade, BladeParts, Kerf, speed_advice};
/// let blade = Blade::new(BladeParts {
///     diameter: Length::from_mm(31.75),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     teeth: None,
///     hub_diameter: None,
/// }).unwrap();
/// let metals = Catalogue::built_in();
/// let advice = speed_advice(blade, metals.find("sterling").unwrap()).unwrap().unwrap();
/// // 45 to 75 m/min: some 450 to 750 turns a minute.
/// assert_eq!(advice.by_handbook.low.per_min().round(), 451.0);
/// assert_eq!(advice.by_handbook.high.per_min().round(), 752.0);
/// ```
pub fn speed_advice(blade: Blade, metal: &Metal) -> Result<Option<SpeedAdvice>, LimitError> {
    let Some(handbook) = cutting_speed(metal) else { return Ok(None) };
    let turn = |m_per_min| Rpm::new(SurfaceSpeed::new(m_per_min)?.turns_per_min(blade));
    let by_handbook =
        RpmRange { low: turn(handbook.m_per_min_low)?, high: turn(handbook.m_per_min_high)? };
    let by_custom = match metal.family() {
        Family::Silver | Family::Copper | Family::Brass | Family::Bronze | Family::NickelSilver => {
            let custom = FlexibleShaft::customary(blade)?;
            Some(RpmRange { low: custom.low, high: custom.high })
        }
        _ => None,
    };
    let middle = Rpm::new((by_handbook.low.per_min() + by_handbook.high.per_min()) / 2.0)?;
    Ok(Some(SpeedAdvice {
        handbook,
        by_handbook,
        by_custom,
        feed_mm_per_min: blade.teeth().map(|teeth| feed_mm_per_min(handbook, teeth, middle)),
    }))
}

/// What to watch at a tooth speed, with its chip if that is known.
///
/// # Units
/// As in the types.
/// # Validity
/// A chip below about 1 um rubs; from memory.
/// # Source
/// Mechanics D13, D14.
///
/// ```
/// use linkwright_calc::{metal::Catalogue, slit::{SpeedCaution, SurfaceSpeed, cautions_for}};
/// let metals = Catalogue::built_in();
/// let silver = metals.find("sterling").unwrap();
/// let fast = SurfaceSpeed::new(690.0).unwrap();
/// assert!(matches!(cautions_for(silver, fast, None)[..], [SpeedCaution::AboveHandbook { .. }]));
/// ```
pub fn cautions_for(metal: &Metal, speed: SurfaceSpeed, chip: Option<&Chip>) -> Vec<SpeedCaution> {
    let rubs = chip
        .filter(|chip| chip.thickest < RUBS_BELOW)
        .map(|chip| SpeedCaution::Rubs { chip_um: chip.thickest.mm() * 1000.0 });
    let fast = cutting_speed(metal)
        .filter(|handbook| speed.m_per_min() > handbook.m_per_min_high)
        .map(|handbook| SpeedCaution::AboveHandbook {
            m_per_min: speed.m_per_min(),
            m_per_min_high: handbook.m_per_min_high,
        });
    rubs.into_iter().chain(fast).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metal::Catalogue;
    use crate::quantity::Length;
    use crate::slit::{BladeParts, Kerf};

    fn blade(teeth: Option<u32>) -> Blade {
        Blade::new(BladeParts {
            diameter: Length::from_mm(31.75),
            kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
            teeth,
            hub_diameter: None,
        })
        .unwrap()
    }

    #[test]
    fn every_built_in_metal_has_a_handbook_speed() {
        for metal in Catalogue::built_in().metals() {
            let advice = speed_advice(blade(None), metal).unwrap();
            let advice = advice.unwrap_or_else(|| panic!("{}", metal.key().as_str()));
            assert!(advice.by_handbook.low < advice.by_handbook.high);
            assert_eq!(advice.feed_mm_per_min, None);
        }
    }

    #[test]
    fn custom_is_told_for_silver_and_copper_alloys_and_kept_from_titanium_and_steel() {
        let catalogue = Catalogue::built_in();
        let custom = |name| {
            let metal = catalogue.find(name).unwrap();
            speed_advice(blade(None), metal).unwrap().unwrap().by_custom
        };
        let told = custom("sterling_925").unwrap();
        assert_eq!((told.low.per_min(), told.high.per_min()), (1000.0, 3000.0));
        assert!(custom("copper_c110").is_some());
        assert_eq!((custom("ti_gr1"), custom("ss_304"), custom("al_5356")), (None, None, None));
    }

    #[test]
    fn the_feed_gives_each_tooth_the_chip_of_the_table() {
        let catalogue = Catalogue::built_in();
        let silver = catalogue.find("sterling_925").unwrap();
        let advice = speed_advice(blade(Some(100)), silver).unwrap().unwrap();
        let middle = (advice.by_handbook.low.per_min() + advice.by_handbook.high.per_min()) / 2.0;
        let [low, high] = advice.feed_mm_per_min.unwrap();
        // 0.005 to 0.012 mm for each of 100 teeth.
        assert!((low / (0.005 * 100.0 * middle) - 1.0).abs() < 1e-12);
        assert!((high / (0.012 * 100.0 * middle) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_chip_of_half_a_micrometre_rubs_and_one_of_five_does_not() {
        let catalogue = Catalogue::built_in();
        let brass = catalogue.find("brass_c260").unwrap();
        let speed = SurfaceSpeed::new(62.2).unwrap();
        let chip = |mm: f64| Chip {
            feed_per_tooth: Length::from_mm(2.0 * mm),
            thickest: Length::from_mm(mm),
            mean: Length::from_mm(0.8 * mm),
        };
        let rubs = cautions_for(brass, speed, Some(&chip(0.0005)));
        assert!(matches!(rubs[..], [SpeedCaution::Rubs { .. }]), "{rubs:?}");
        assert!(rubs[0].to_string().contains("it rubs, it does not cut"));
        assert_eq!(cautions_for(brass, speed, Some(&chip(0.005))), []);
    }
}
