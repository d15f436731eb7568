//! One turn between parallel plates: the force that collapses it and the force that first marks it.

use std::f64::consts::PI;

use super::HoldError;
use crate::coil::InsideDiameter;
use crate::limits::{FORCE, LimitError, POISSON_RATIO, SQUEEZE, YIELD_STRENGTH, YOUNGS_MODULUS};
use crate::quantity::{Force, Length, Stress, Torque};
use crate::wire::Wire;

/// What describes a held turn, before it is checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldTurnParts {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter of the coil after release.
    pub inside: InsideDiameter,
    /// `E`.
    pub youngs_modulus: Stress,
    /// Poisson's ratio.
    pub poisson_ratio: f64,
    /// The one stress at which the metal flows; for a hardened wire its flow stress.
    pub yield_strength: Stress,
}

/// One turn of a coil between parallel plates.
///
/// Forces are per turn; a clamp on twenty turns carries twenty times as much before it does harm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldTurn {
    parts: HeldTurnParts,
}

impl HeldTurn {
    /// A held turn of the given parts.
    ///
    /// # Units
    /// Lengths, stresses, a plain ratio.
    /// # Validity
    /// Within [`YOUNGS_MODULUS`], [`POISSON_RATIO`], [`YIELD_STRENGTH`].
    /// # Errors
    /// [`LimitError`] outside those ranges.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::coil::InsideDiameter;
    /// use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// use linkwright_calc::quantity::{Length, Stress};
    /// use linkwright_calc::wire::Wire;
    /// let parts = HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(5.2)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// };
    /// assert_eq!(HeldTurn::new(parts).unwrap().mean_radius().mm(), 3.2455);
    /// assert!(HeldTurn::new(HeldTurnParts { poisson_ratio: 0.7, ..parts }).is_err());
    /// ```
    pub fn new(parts: HeldTurnParts) -> Result<HeldTurn, LimitError> {
        YOUNGS_MODULUS.check(parts.youngs_modulus.mpa())?;
        POISSON_RATIO.check(parts.poisson_ratio)?;
        YIELD_STRENGTH.check(parts.yield_strength.mpa())?;
        Ok(HeldTurn { parts })
    }

    /// The wire.
    pub const fn wire(self) -> Wire {
        self.parts.wire
    }

    /// The inside diameter.
    pub const fn inside(self) -> InsideDiameter {
        self.parts.inside
    }

    /// The stress at which the metal flows.
    pub const fn yield_strength(self) -> Stress {
        self.parts.yield_strength
    }

    /// Poisson's ratio.
    pub const fn poisson_ratio(self) -> f64 {
        self.parts.poisson_ratio
    }

    /// Radius of the wire's centre line.
    pub const fn mean_radius(self) -> Length {
        self.parts.inside.mean_radius(self.parts.wire)
    }

    /// `R^3 / (E I)`: millimetres of give for each newton, the scale of all elastic answers here.
    pub(super) fn give_mm_per_n(self) -> f64 {
        let stiffness_n_mm2 = self.parts.youngs_modulus.mpa() * self.parts.wire.second_moment_mm4();
        self.mean_radius().mm().powi(3) / stiffness_n_mm2
    }

    /// Force at which the turn folds in four places, `P0 = 4 Mp / R` with `Mp = sy d^3 / 6`.
    ///
    /// Under the plates and at the sides the wire becomes a hinge; past this force it goes on
    /// flattening by itself.
    ///
    /// # Units
    /// Force per turn.
    /// # Validity
    /// Thin ring of a metal that flows at one stress; hardening only adds. Stress left from
    /// winding does not change it.
    /// # Source
    /// Mechanics C1: DeRuntz and Hodge, J. Appl. Mech. 30 (1963), from memory; four-hinge
    /// collapse of rings, abstract of a note in the Aeronautical Journal.
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Length, Stress};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.2)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(4.8)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// // 2/3 of 450 MPa times 1.728 mm3, over 3 mm.
    /// assert!((turn.collapse_force().n() - 172.8).abs() < 1e-9);
    /// ```
    pub fn collapse_force(self) -> Force {
        Force::from_n(4.0 * self.plastic_moment_n_mm() / self.mean_radius().mm())
    }

    /// Force that keeps a folding turn flattening once the plates have come together by `delta`:
    /// `P = P0 / sqrt(1 - (delta / 2R)^2)`.
    ///
    /// # Units
    /// Length in, force per turn out.
    /// # Validity
    /// As [`HeldTurn::collapse_force`]; real metal hardens and rises faster.
    /// # Errors
    /// - [`HoldError::Limit`] outside [`SQUEEZE`];
    /// - [`HoldError::SqueezedFlat`] once the squeeze is as large as the hole.
    /// # Source
    /// Mechanics C2, as [`HeldTurn::collapse_force`]: the four straight-lying quarters of the
    /// folded ring lean, and their lever arm shrinks.
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Length, Stress};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(4.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// // 3 of the mean diameter of 5: a 3-4-5 triangle, so a quarter more.
    /// let force = turn.force_at_squeeze(Length::from_mm(3.0)).unwrap();
    /// assert!((force.n() / turn.collapse_force().n() - 1.25).abs() < 1e-12);
    /// assert!(turn.force_at_squeeze(Length::from_mm(4.0)).is_err());
    /// ```
    pub fn force_at_squeeze(self, squeeze: Length) -> Result<Force, HoldError> {
        let squeeze_mm = SQUEEZE.check(squeeze.mm())?;
        let inside_diameter_mm = self.parts.inside.diameter().mm();
        if squeeze_mm >= inside_diameter_mm {
            return Err(HoldError::SqueezedFlat { squeeze_mm, inside_diameter_mm });
        }
        let lean = squeeze_mm / (2.0 * self.mean_radius().mm());
        Ok(Force::from_n(self.collapse_force().n() / (1.0 - lean * lean).sqrt()))
    }

    /// Force at which the surface of a stress-free turn first stays bent, `P = pi My / R` with
    /// `My = sy pi d^3 / 32`. Take this after annealing.
    ///
    /// # Units
    /// Force per turn.
    /// # Validity
    /// Thin ring; under the plate the moment is `P R / pi`.
    /// # Source
    /// Mechanics C5; Roark's ring table, case 1, and Timoshenko, from memory.
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Length, Stress};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(4.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// let ratio = turn.collapse_force().n() / turn.first_yield_force().n();
    /// assert!((ratio - 2.16).abs() < 0.005);
    /// ```
    pub fn first_yield_force(self) -> Force {
        Force::from_n(PI * self.yield_moment_n_mm() / self.mean_radius().mm())
    }

    /// Force at which a turn not annealed since winding first stays bent, `P = pi Mr / R`.
    ///
    /// # Units
    /// Moment of [`reverse_yield_moment`](super::reverse_yield_moment) in, force per turn out.
    /// # Validity
    /// As [`HeldTurn::first_yield_force`], which it never exceeds.
    /// # Errors
    /// [`LimitError`] naming `first_yield_force_n` for a moment that is negative or not a number.
    /// # Source
    /// Mechanics C6; own derivation, `docs/theory/holding.md`, section 3.
    ///
    /// ```
    /// # use linkwright_calc::coil::InsideDiameter;
    /// # use linkwright_calc::hold::{HeldTurn, HeldTurnParts};
    /// # use linkwright_calc::quantity::{Length, Stress, Torque};
    /// # use linkwright_calc::wire::Wire;
    /// let turn = HeldTurn::new(HeldTurnParts {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
    ///     inside: InsideDiameter::new(Length::from_mm(4.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     poisson_ratio: 0.34,
    ///     yield_strength: Stress::from_mpa(450.0),
    /// }).unwrap();
    /// let force = turn.first_yield_force_as_wound(Torque::from_n_mm(10.0)).unwrap();
    /// assert!((force.n() - 4.0 * std::f64::consts::PI).abs() < 1e-12);
    /// ```
    pub fn first_yield_force_as_wound(self, reverse_yield: Torque) -> Result<Force, LimitError> {
        let force_n = PI * reverse_yield.n_mm() / self.mean_radius().mm();
        Ok(Force::from_n(FORCE.named("first_yield_force_n").check(force_n)?))
    }

    fn plastic_moment_n_mm(self) -> f64 {
        self.parts.yield_strength.mpa() * self.parts.wire.plastic_section_modulus_mm3()
    }

    fn yield_moment_n_mm(self) -> f64 {
        self.parts.yield_strength.mpa() * self.parts.wire.elastic_section_modulus_mm3()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;

    fn turn(k: f64, yield_mpa: f64) -> HeldTurn {
        HeldTurn::new(HeldTurnParts {
            wire: Wire::new(Length::from_mm(k)).unwrap(),
            inside: InsideDiameter::new(Length::from_mm(4.0 * k)).unwrap(),
            youngs_modulus: Stress::from_mpa(110_000.0),
            poisson_ratio: 0.34,
            yield_strength: Stress::from_mpa(yield_mpa),
        })
        .unwrap()
    }

    proptest! {
        #[test]
        fn forces_scale_with_stress_and_with_the_square_of_size(k in 0.2..5.0, s in 0.2..3.0) {
            let (small, large) = (turn(1.0, 450.0), turn(k, 450.0 * s));
            for (small, large) in [
                (small.collapse_force(), large.collapse_force()),
                (small.first_yield_force(), large.first_yield_force()),
            ] {
                let wanted_n: f64 = small.n() * s * k * k;
                prop_assert!((large.n() - wanted_n).abs() <= 1e-12 * wanted_n); // rounding
            }
        }

        #[test]
        fn a_folding_turn_gets_stiffer_as_it_flattens(squeeze_mm in 0.0..3.9) {
            let at = |mm| turn(1.0, 450.0).force_at_squeeze(Length::from_mm(mm)).unwrap();
            prop_assert!(at(squeeze_mm) < at(squeeze_mm + 0.05));
            prop_assert!(at(squeeze_mm) >= turn(1.0, 450.0).collapse_force());
        }
    }

    #[test]
    fn a_squeeze_as_large_as_the_hole_is_refused_with_both_numbers() {
        let refused = turn(1.0, 450.0).force_at_squeeze(Length::from_mm(4.5));
        let flat = HoldError::SqueezedFlat { squeeze_mm: 4.5, inside_diameter_mm: 4.0 };
        assert_eq!(refused, Err(flat));
        assert_eq!(
            flat.to_string(),
            "squeeze_mm is 4.5 mm but the hole is only 4 mm across; the turn is flat by then"
        );
    }
}
