//! How fast to run a blade in a metal, by the handbook and by custom, and what to watch.

use std::fmt;

use super::handbook::{RUBS_BELOW, feed_mm_per_min};
use super::{Blade, Chip, CuttingSpeed, FlexibleShaft, Rpm, SurfaceSpeed, cutting_speed};
use crate::limits::LimitError;
use crate::metal::Metal;

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
    /// Turns a minute as flexible shafts are run; common practice, no source.
    pub by_custom: RpmRange,
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
    let custom = FlexibleShaft::customary(blade)?;
    let middle = Rpm::new((by_handbook.low.per_min() + by_handbook.high.per_min()) / 2.0)?;
    Ok(Some(SpeedAdvice {
        handbook,
        by_handbook,
        by_custom: RpmRange { low: custom.low, high: custom.high },
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
