//! Nominal yield strengths that the scale of the crush index belongs to.

use linkwright_calc::quantity::Stress;

/// Nominal yield strength of a metal, soft and hard; half hard is their geometric mean.
///
/// # Units
/// Stresses; see [`Stress`].
/// # Validity
/// Not what a testing machine shows: the priors of the crush steps were set with these numbers.
/// # Source
/// Copper's pair is printed in the project's reference on the statistics of the cutting trials,
/// section 10. The other eight numbers were found by least squares from the twelve values it prints
/// for the gates KEPT and ROUND; all came out round to within 0.5 MPa, and the twelve values agree
/// at the round numbers.
///
/// ```
/// use linkwright_trials::NominalYield;
/// let copper = NominalYield::of("copper").unwrap();
/// assert!((copper.half_hard().mpa() - (70.0_f64 * 300.0).sqrt()).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NominalYield {
    metal: &'static str,
    annealed_mpa: f64,
    hard_mpa: f64,
}

const fn metal(metal: &'static str, annealed_mpa: f64, hard_mpa: f64) -> NominalYield {
    NominalYield { metal, annealed_mpa, hard_mpa }
}

const ALL: [NominalYield; 5] = [
    metal("copper", 70.0, 300.0),
    metal("sterling", 140.0, 330.0),
    metal("brass", 120.0, 420.0),
    metal("bronze", 150.0, 500.0),
    metal("steel304", 240.0, 800.0),
];

impl NominalYield {
    /// That of "copper", "sterling", "brass", "bronze" or "steel304"; `None` for any other metal.
    pub fn of(metal: &str) -> Option<NominalYield> {
        ALL.into_iter().find(|known| known.metal == metal)
    }

    /// Of soft wire.
    pub fn annealed(self) -> Stress {
        Stress::from_mpa(self.annealed_mpa)
    }

    /// Of half hard wire.
    pub fn half_hard(self) -> Stress {
        Stress::from_mpa((self.annealed_mpa * self.hard_mpa).sqrt())
    }

    /// Of hard wire.
    pub fn hard(self) -> Stress {
        Stress::from_mpa(self.hard_mpa)
    }
}
