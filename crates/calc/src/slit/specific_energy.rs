//! Energy to cut a volume of metal, by metal.

use super::SpecificEnergy;
use crate::limits::{LimitError, SPECIFIC_ENERGY};
use crate::metal::{Family, Metal, Verified};

/// Watts in a mechanical horsepower of 550 foot pounds-force a second. NIST SP 811 (2008),
/// appendix B.8.
const W_PER_HORSEPOWER: f64 = 745.699_9;
/// Cubic millimetres in a cubic inch of exactly 25.4 mm edge.
const MM3_PER_CUBIC_INCH: f64 = 16_387.064;

/// Chips of a fine blade are thinner than those the table was measured with: it takes two to four
/// times the energy below 0.01 mm. From memory.
pub const THIN_CHIP_FACTOR: [f64; 2] = [2.0, 4.0];

/// Energy to cut one kind of metal, with full-size chips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpecificEnergyBand {
    /// Low end, J/mm3.
    pub j_per_mm3_low: f64,
    /// High end, J/mm3.
    pub j_per_mm3_high: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// How that was checked.
    pub verified: Verified,
}

const fn band(
    [j_per_mm3_low, j_per_mm3_high]: [f64; 2],
    source: &'static str,
    verified: Verified,
) -> SpecificEnergyBand {
    SpecificEnergyBand { j_per_mm3_low, j_per_mm3_high, source, verified }
}

const DATA_HANDBOOK: &str = "Mechanical Engineer's Data Handbook, page 192, as scanned";

/// Energy to cut a metal; nothing where no value is known, as for silver and gold.
///
/// # Units
/// Joules for a cubic millimetre.
/// # Validity
/// Chips of a tenth of a millimetre; thin chips take [`THIN_CHIP_FACTOR`] times as much.
/// # Source
/// On each band; mechanics D16-D18.
///
/// ```
/// use linkwright_calc::{metal::Catalogue, slit::specific_energy};
/// let catalogue = Catalogue::built_in();
/// let brass = specific_energy(catalogue.find("brass_c260").unwrap()).unwrap();
/// assert_eq!(brass.j_per_mm3_low, 1.25);
/// assert_eq!(specific_energy(catalogue.find("sterling_925").unwrap()), None);
/// ```
pub fn specific_energy(metal: &Metal) -> Option<SpecificEnergyBand> {
    Some(match metal.family() {
        Family::Aluminium => band([0.7, 0.7], DATA_HANDBOOK, Verified::TextSeen),
        Family::Brass => band([1.25, 1.25], DATA_HANDBOOK, Verified::TextSeen),
        Family::Copper => band([2.0, 3.0], "from memory", Verified::FromMemory),
        Family::Steel => band(
            [1.2, 2.13],
            "Mechanical Engineer's Data Handbook, page 192; Machinery's Handbook, 31st edition, \
             page 1147, plain carbon steel to 180 Brinell",
            Verified::TextSeen,
        ),
        Family::Stainless => band([2.5, 3.5], "from memory", Verified::FromMemory),
        Family::Titanium => band([3.0, 4.0], "from memory", Verified::FromMemory),
        _ => return None,
    })
}

impl SpecificEnergy {
    /// From horsepower minutes for a cubic inch, as American handbooks print it.
    ///
    /// # Units
    /// hp min/in3; one of them is 2.73 J/mm3.
    /// # Validity
    /// Within [`SPECIFIC_ENERGY`].
    /// # Errors
    /// [`LimitError`] naming `specific_energy_mpa`.
    /// # Source
    /// Definition of the units.
    ///
    /// ```
    /// use linkwright_calc::slit::SpecificEnergy;
    /// let steel = SpecificEnergy::from_hp_min_per_in3(0.66).unwrap();
    /// assert!((steel.j_per_mm3() - 1.80).abs() < 0.005);
    /// ```
    pub fn from_hp_min_per_in3(hp_min_per_in3: f64) -> Result<SpecificEnergy, LimitError> {
        let j_per_mm3 = hp_min_per_in3 * W_PER_HORSEPOWER * 60.0 / MM3_PER_CUBIC_INCH;
        SpecificEnergy::from_mpa(SPECIFIC_ENERGY.check(1000.0 * j_per_mm3)?)
    }
}
