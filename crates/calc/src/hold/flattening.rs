//! How far a turn gives while it is still elastic: thin ring and thick ring.

use std::f64::consts::PI;

use super::{HeldTurn, HoldError};
use crate::limits::FORCE;
use crate::quantity::{Force, Length};
use crate::ring::CurvedBeam;

/// Shear factor of a round section, from Roark's ring tables.
const SHEAR_FACTOR: f64 = 10.0 / 9.0;

/// How far a turn gives between plates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flattening {
    /// Loss of diameter along the force.
    pub shortening: Length,
    /// Gain of diameter across it.
    pub widening: Length,
}

impl HeldTurn {
    /// Give of a thin elastic ring: shortening `(pi/4 - 2/pi) P R^3 / EI`, widening
    /// `(2/pi - 1/2) P R^3 / EI`.
    ///
    /// # Units
    /// Force per turn in, lengths out.
    /// # Validity
    /// Bending alone; some 23 % too little at an aspect ratio of 3, so prefer
    /// [`HeldTurn::curved_ring`]. Below first yield.
    /// # Errors
    /// [`HoldError::Limit`] if the force is outside [`FORCE`].
    /// # Source
    /// Mechanics C3: Roark's ring table, case 1, and Timoshenko, from memory; the shortening also
    /// in a finite-element verification page ("Pinched ring").
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Force, Length, Stress};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(4.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// let give = turn.thin_ring(Force::from_n(10.0)).unwrap();
    /// // 10 N times 2.5^3 over 110 000 times pi/64, times 0.14878.
    /// assert!((give.shortening.mm() - 0.004305).abs() < 5e-7);
    /// assert!(give.widening < give.shortening);
    /// ```
    pub fn thin_ring(self, force: Force) -> Result<Flattening, HoldError> {
        self.flattened(force, PI / 4.0 - 2.0 / PI, 2.0 / PI - 0.5)
    }

    /// Give of a thick elastic ring: shortening `(pi k1/4 - 2 k2^2/pi) P R^3 / EI`, widening
    /// `(k1/2 - k2 + 2 k2^2/pi) P R^3 / EI`.
    ///
    /// `k1 = 1 - alpha + beta`, `k2 = 1 - alpha`, `alpha = e/R`, `beta = 2 F (1 + nu) e/R`,
    /// `e` the shift of the neutral line, `F = 10/9` for round wire.
    ///
    /// # Units
    /// Force per turn in, lengths out.
    /// # Validity
    /// High by `A e R / I - 1`, 1.6 % at an aspect ratio of 3, since it keeps the straight bar's
    /// `I`; [`HeldTurn::curved_ring`] mends that. Below first yield.
    /// # Errors
    /// [`HoldError::Limit`] if the force is outside [`FORCE`], or the turn's aspect ratio outside
    /// its limits.
    /// # Source
    /// Mechanics C4: Roark's ring tables as given on an engineering web page.
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Force, Length, Stress};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(3.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// let force = Force::from_n(10.0);
    /// let (thin, thick) = (turn.thin_ring(force).unwrap(), turn.thick_ring(force).unwrap());
    /// assert!((1.0 - thin.shortening.mm() / thick.shortening.mm() - 0.23).abs() < 0.005);
    /// ```
    pub fn thick_ring(self, force: Force) -> Result<Flattening, HoldError> {
        self.flattened_as_thick(force, |_| 1.0)
    }

    /// Give of a curved elastic bar closed to a ring: [`HeldTurn::thick_ring`] with the curved
    /// bar's `A e R` in the place of `I`.
    ///
    /// # Units
    /// Force per turn in, lengths out.
    /// # Validity
    /// Plates taken as lines, so the flattening of the contact itself comes on top. Below first
    /// yield.
    /// # Errors
    /// As [`HeldTurn::thick_ring`].
    /// # Source
    /// Own derivation, `docs/theory/holding.md`, section 2; the energy integral of a curved bar
    /// gives the same.
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Force, Length, Stress};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(3.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// let force = Force::from_n(10.0);
    /// let (thick, curved) = (turn.thick_ring(force).unwrap(), turn.curved_ring(force).unwrap());
    /// assert!((thick.shortening.mm() / curved.shortening.mm() - 1.016).abs() < 0.0005);
    /// ```
    pub fn curved_ring(self, force: Force) -> Result<Flattening, HoldError> {
        let a_over_r = self.wire().diameter().mm() / 2.0 / self.mean_radius().mm();
        // I = A a^2 / 4.
        self.flattened_as_thick(force, |alpha| a_over_r * a_over_r / (4.0 * alpha))
    }

    /// Thick ring with its give multiplied by what `i_over_aer` makes of `alpha`.
    fn flattened_as_thick(
        self,
        force: Force,
        i_over_aer: impl Fn(f64) -> f64,
    ) -> Result<Flattening, HoldError> {
        let beam = CurvedBeam::of_ring(self.inside().aspect_ratio(self.wire()))?;
        let alpha = beam.eccentricity_ratio();
        let beta = 2.0 * SHEAR_FACTOR * (1.0 + self.poisson_ratio()) * alpha;
        let (k1, k2) = (1.0 - alpha + beta, 1.0 - alpha);
        let square = 2.0 * k2 * k2 / PI;
        let softer = i_over_aer(alpha);
        let (shorter, wider) = (PI * k1 / 4.0 - square, k1 / 2.0 - k2 + square);
        self.flattened(force, softer * shorter, softer * wider)
    }

    fn flattened(self, force: Force, shorter: f64, wider: f64) -> Result<Flattening, HoldError> {
        let give_mm = FORCE.check(force.n())? * self.give_mm_per_n();
        Ok(Flattening {
            shortening: Length::from_mm(shorter * give_mm),
            widening: Length::from_mm(wider * give_mm),
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;
    use crate::coil::InsideDiameter;
    use crate::hold::HeldTurnParts;
    use crate::quantity::Stress;
    use crate::wire::Wire;

    fn turn(aspect_ratio: f64) -> HeldTurn {
        HeldTurn::new(HeldTurnParts {
            wire: Wire::new(Length::from_mm(1.0)).unwrap(),
            inside: InsideDiameter::new(Length::from_mm(aspect_ratio)).unwrap(),
            youngs_modulus: Stress::from_mpa(110_000.0),
            poisson_ratio: 0.34,
            yield_strength: Stress::from_mpa(450.0),
        })
        .unwrap()
    }

    #[test]
    fn a_thick_ring_of_thin_wire_gives_as_a_thin_ring() {
        let force = Force::from_n(1e-3);
        let (thin, thick) =
            (turn(900.0).thin_ring(force).unwrap(), turn(900.0).thick_ring(force).unwrap());
        // Both corrections are a few times alpha = (a/R)^2 / 4 = 3e-7.
        assert!((thick.shortening.mm() / thin.shortening.mm() - 1.0).abs() < 1e-5);
        assert!((thick.widening.mm() / thin.widening.mm() - 1.0).abs() < 1e-5);
    }

    proptest! {
        #[test]
        fn a_thick_ring_gives_more_than_bending_alone(aspect_ratio in 2.5..20.0, force_n in 0.1..50.0) {
            let force = Force::from_n(force_n);
            let thin = turn(aspect_ratio).thin_ring(force).unwrap();
            let thick = turn(aspect_ratio).curved_ring(force).unwrap();
            prop_assert!(thick.shortening > thin.shortening);
            prop_assert!(thick.widening > thin.widening);
        }
    }
}
