//! What opens a ring that is closed and not soldered.

use std::f64::consts::PI;

use super::CurvedBeam;
use super::bracket::crossing;
use crate::basis::Caution;
use crate::limits::{ASPECT_RATIO, FORCE, LENGTH, LimitError, STRESS, YOUNGS_MODULUS};
use crate::quantity::{Force, Length, Stress, Torque};
use crate::wire::Wire;

/// A ring and its metal as it is when it is pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrengthInput {
    /// The wire.
    pub wire: Wire,
    /// Aspect ratio of the closed ring.
    pub aspect_ratio: f64,
    /// `sy`, the stress at which the wound wire flows; of the annealed wire once it is soldered.
    pub yield_strength: Stress,
    /// `su`.
    pub tensile_strength: Stress,
    /// `E`.
    pub youngs_modulus: Stress,
}

/// The stress that winding left in the ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Residual {
    /// As wound: opening the ring un-bends it, and the wire yields early in that direction.
    AsWound,
    /// Annealed or soldered after winding: no stress, and the flow stress of soft metal.
    Softened,
}

/// Loads on one closed ring, pulled across a diameter by its neighbours.
///
/// `R` centre radius, `A` section, `Ze` and `Zp` elastic and plastic section modulus, `Mp = sy Zp`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    pub(super) input: StrengthInput,
    pub(super) beam: CurvedBeam,
    /// Centre radius of the ring.
    pub(super) r_mm: f64,
}

impl Strength {
    /// Prepares the loads of one ring.
    ///
    /// # Units
    /// Lengths and stresses; the aspect ratio has none.
    /// # Validity
    /// Plane sections, no crushing where the wires touch, loads through the centre; see
    /// [`cautions`](Strength::cautions).
    /// # Errors
    /// [`LimitError`] if the aspect ratio or a stress is outside its limits.
    /// # Source
    /// Statics of the curved bar; `docs/theory/ring.md`, section 5.
    ///
    /// ```
    /// use linkwright_calc::{quantity::{Force, Length, Stress}, wire::Wire};
    /// use linkwright_calc::ring::{Strength, StrengthInput};
    /// let strength = Strength::of(StrengthInput {
    ///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
    ///     aspect_ratio: 4.0,
    ///     yield_strength: Stress::from_mpa(450.0),
    ///     tensile_strength: Stress::from_mpa(520.0),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    /// }).unwrap();
    /// assert!((strength.opens_at().n() - 50.00043).abs() < 1e-6);
    /// assert!((strength.soldered_stretch_onset().n() - 200.00172).abs() < 1e-5);
    /// assert!((strength.seam_gap(Force::from_n(1.0)).unwrap().mm() - 0.0080038).abs() < 1e-8);
    /// ```
    pub fn of(input: StrengthInput) -> Result<Strength, LimitError> {
        ASPECT_RATIO.check(input.aspect_ratio)?;
        let stress = |field, stress: Stress| STRESS.named(field).check(stress.mpa());
        stress("yield_strength_mpa", input.yield_strength)?;
        stress("tensile_strength_mpa", input.tensile_strength)?;
        YOUNGS_MODULUS.check(input.youngs_modulus.mpa())?;
        Ok(Strength {
            input,
            beam: CurvedBeam::of_ring(input.aspect_ratio)?,
            r_mm: input.wire.diameter().mm() * (input.aspect_ratio + 1.0) / 2.0,
        })
    }

    /// Pull that bends an unsoldered ring open: `P = Mp/R = sy d^3/(6 R)`.
    ///
    /// # Units
    /// A force.
    /// # Validity
    /// The slit carries nothing and does not lie under a neighbour; it makes no odds where else it
    /// lies. Pull along the wire is left out: [`opens_at_with_axial`](Strength::opens_at_with_axial).
    /// # Source
    /// Plastic hinge opposite the slit, arm `R`; own derivation.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let of = |d: f64| Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(d)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// // Twice the wire at the same aspect ratio holds four times the pull.
    /// assert!((of(2.0).opens_at().n() / of(1.0).opens_at().n() - 4.0).abs() < 1e-12);
    /// ```
    pub fn opens_at(self) -> Force {
        Force::from_n(self.hinge_moment_n_mm() / self.r_mm)
    }

    /// The same with the pull along the wire counted: 0.5 to 1 % less for aspect ratios 3 to 5.
    ///
    /// Solves `Np n(q) R = Mp (1 - q^2)^1.5` with `n(q) = (2/pi)(asin q + q sqrt(1 - q^2))` and
    /// `Np = sy A`; then `P = Np n(q)`.
    ///
    /// # Units
    /// A force.
    /// # Validity
    /// As [`opens_at`](Strength::opens_at).
    /// # Source
    /// Fully plastic round section with the neutral line off the middle; own derivation.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// assert!((strength.opens_at_with_axial().n() - 49.67134667).abs() < 1e-7);
    /// ```
    pub fn opens_at_with_axial(self) -> Force {
        let np_n = self.input.yield_strength.mpa() * self.input.wire.section().mm2();
        let mp_over_r_n = self.opens_at().n();
        let n = |q: f64| (2.0 / PI) * (q.asin() + q * (1.0 - q * q).sqrt());
        // At q = 0 the left side is nought, at q = 1 the right side is: the root lies between.
        let q = crossing(0.0, 1.0, |q| np_n * n(q) - mp_over_r_n * (1.0 - q * q).powf(1.5));
        Force::from_n(np_n * n(q))
    }

    /// Pull at which an unsoldered, stress-free ring first yields: `P = sy/(1/A + Ki R/Ze)`.
    ///
    /// # Units
    /// A force.
    /// # Validity
    /// Stress-free, so annealed. As wound it is lower:
    /// [`open_first_yield_as_wound`](Strength::open_first_yield_as_wound).
    /// # Source
    /// Curved beam with pull; Machinery's Handbook, 31st edition, page 275, for `Ki`.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// assert!((strength.open_first_yield().n() - 24.04551165).abs() < 1e-7);
    /// ```
    pub fn open_first_yield(self) -> Force {
        self.yields_inside_at(self.input.yield_strength.mpa())
    }

    /// The same for a ring as wound, given the moment that first yields it the other way.
    ///
    /// `P = s/(1/A + Ki R/Ze)` with `s = Mr/Ze`, the elastic stress of the reverse-yield moment `Mr`;
    /// a stress-free ring has `Mr = sy Ze` and gives [`open_first_yield`](Strength::open_first_yield).
    ///
    /// # Units
    /// A moment in, a force out.
    /// # Validity
    /// `Mr` of the same wire and metal, negative counted as nought; the least load that leaves any
    /// set, far below the load that opens the ring.
    /// # Source
    /// Own derivation, untested at the bench.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress, Torque}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// // Wire wound fully plastic keeps 30 % of its yield moment the other way.
    /// let reverse = Torque::from_n_mm(28.77275357);
    /// assert!((strength.open_first_yield_as_wound(reverse).n() - 7.28).abs() < 0.005);
    /// ```
    pub fn open_first_yield_as_wound(self, reverse_yield_moment: Torque) -> Force {
        let ze_mm3 = self.input.wire.elastic_section_modulus_mm3();
        self.yields_inside_at(reverse_yield_moment.n_mm().max(0.0) / ze_mm3)
    }

    /// How far the slit gapes under a pull that leaves no set: `g = (2 + pi/2) P R^3/(E I)`.
    ///
    /// # Units
    /// A force in, a length out.
    /// # Validity
    /// Elastic; the slit lies midway between the two pulls. Thick wire changes it by 1 % at an
    /// aspect ratio of 3.
    /// # Errors
    /// [`LimitError`] if the force is outside [`FORCE`].
    /// # Source
    /// Castigliano on the split ring; own derivation, `docs/theory/ring.md`, section 5.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Force, Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// let gap = strength.seam_gap(Force::from_n(10.0)).unwrap();
    /// assert!((gap.mm() - 0.080).abs() < 0.0005);
    /// ```
    pub fn seam_gap(self, force: Force) -> Result<Length, LimitError> {
        let p_n = FORCE.check(force.n())?;
        Ok(Length::from_mm(p_n * self.gap_per_newton_mm()))
    }

    /// Pull that opens the slit to a visible gap: `P = g E I/(3.571 R^3)`.
    ///
    /// # Units
    /// A length in, a force out.
    /// # Validity
    /// As [`seam_gap`](Strength::seam_gap).
    /// # Errors
    /// [`LimitError`] if the gap is not a length.
    /// # Source
    /// Inverse of [`seam_gap`](Strength::seam_gap).
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// let pull = strength.force_for_seam_gap(Length::from_mm(0.05)).unwrap();
    /// assert!((pull.n() - 6.25).abs() < 0.005);
    /// ```
    pub fn force_for_seam_gap(self, gap: Length) -> Result<Force, LimitError> {
        let g_mm = LENGTH.named("seam_gap_mm").check(gap.mm())?;
        Ok(Force::from_n(g_mm / self.gap_per_newton_mm()))
    }

    /// What to watch about these loads, for a ring in that state.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// One caution on inner stress or softness always; one more below an aspect ratio of 2.5.
    /// # Source
    /// `docs/theory/ring.md`, section 5.
    ///
    /// ```
    /// use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// use linkwright_calc::ring::{Residual, Strength, StrengthInput};
    /// let strength = Strength::of(StrengthInput {
    ///     wire: Wire::new(Length::from_mm(1.0)).unwrap(), aspect_ratio: 2.0,
    ///     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    ///     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// let cautions = strength.cautions(Residual::AsWound);
    /// assert!(cautions[0].to_string().starts_with("as wound"));
    /// assert_eq!(cautions.len(), 2);
    /// ```
    pub fn cautions(self, residual: Residual) -> Vec<Caution> {
        let state = match residual {
            Residual::AsWound => {
                "as wound, the ring takes a small set well below the first-yield pull: opening \
                 un-bends it, and winding has already used up part of that way; the pull that \
                 opens it is not changed by this"
            }
            Residual::Softened => {
                "softened by annealing or soldering: the pulls hold for the flow stress of soft \
                 metal, often a half to a third of the wound wire's"
            }
        };
        let mut cautions = vec![Caution::Note(state.to_owned())];
        if self.input.aspect_ratio < LEAST_TRIED_ASPECT_RATIO {
            cautions.push(Caution::OutsideTriedRange {
                quantity: "aspect ratio",
                given: self.input.aspect_ratio,
                low: LEAST_TRIED_ASPECT_RATIO,
                high: ASPECT_RATIO.high,
                unit: "-",
            });
        }
        cautions
    }

    fn hinge_moment_n_mm(self) -> f64 {
        self.input.yield_strength.mpa() * self.input.wire.plastic_section_modulus_mm3()
    }

    /// Pull on the open ring at which its inside, opposite the slit, reaches a stress.
    fn yields_inside_at(self, stress_mpa: f64) -> Force {
        let a_mm2 = self.input.wire.section().mm2();
        let ze_mm3 = self.input.wire.elastic_section_modulus_mm3();
        let per_newton = 1.0 / a_mm2 + self.beam.inner_factor() * self.r_mm / ze_mm3;
        Force::from_n(stress_mpa / per_newton)
    }

    fn gap_per_newton_mm(self) -> f64 {
        let ei_n_mm2 = self.input.youngs_modulus.mpa() * self.input.wire.second_moment_mm4();
        (2.0 + PI / 2.0) * self.r_mm.powi(3) / ei_n_mm2
    }
}

/// Below this the wire is too thick for its ring for plane sections; own judgement.
const LEAST_TRIED_ASPECT_RATIO: f64 = 2.5;

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::{Residual, Strength, StrengthInput};
    use crate::quantity::{Force, Length, Stress, Torque};
    use crate::wire::Wire;

    fn strength(d_mm: f64, aspect_ratio: f64, yield_mpa: f64) -> Strength {
        Strength::of(StrengthInput {
            wire: Wire::new(Length::from_mm(d_mm)).unwrap(),
            aspect_ratio,
            yield_strength: Stress::from_mpa(yield_mpa),
            tensile_strength: Stress::from_mpa(2.0 * yield_mpa),
            youngs_modulus: Stress::from_mpa(110_000.0),
        })
        .unwrap()
    }

    #[test]
    fn a_stress_free_ring_is_the_limit_of_the_wound_one() {
        let free = strength(1.0, 4.0, 450.0);
        let my_n_mm = 450.0 * std::f64::consts::PI / 32.0;
        let wound = free.open_first_yield_as_wound(Torque::from_n_mm(my_n_mm));
        assert!((wound.n() - free.open_first_yield().n()).abs() < 1e-12); // rounding
    }

    #[test]
    fn a_thick_ring_carries_its_caution() {
        let cautions =
            |aspect_ratio| strength(1.0, aspect_ratio, 450.0).cautions(Residual::AsWound);
        assert_eq!(cautions(2.4).len(), 2);
        assert_eq!(cautions(2.5).len(), 1);
    }

    proptest! {
        #[test]
        fn loads_scale_with_stress_and_with_the_square_of_size(
            ratio in 2.5..12.0, size in 0.5..4.0_f64, stress in 0.5..3.0_f64,
        ) {
            let (one, other) = (strength(1.0, ratio, 300.0), strength(size, ratio, 300.0 * stress));
            let factor = size * size * stress;
            for (a, b) in [
                (one.opens_at(), other.opens_at()),
                (one.opens_at_with_axial(), other.opens_at_with_axial()),
                (one.open_first_yield(), other.open_first_yield()),
                (one.soldered_first_yield(), other.soldered_first_yield()),
            ] {
                prop_assert!((b.n() - factor * a.n()).abs() < 1e-11 * b.n()); // rounding
            }
        }

        #[test]
        fn pull_along_the_wire_opens_a_ring_a_little_sooner(ratio in 2.5..12.0) {
            let ring = strength(1.0, ratio, 300.0);
            let share = ring.opens_at_with_axial().n() / ring.opens_at().n();
            prop_assert!(share < 1.0 && share > 0.98);
            prop_assert!(ring.open_first_yield().n() < ring.opens_at_with_axial().n());
        }

        #[test]
        fn gap_and_force_are_an_inverse_pair(ratio in 2.5..12.0, force_n in 0.01..100.0) {
            let ring = strength(1.0, ratio, 300.0);
            let gap = ring.seam_gap(Force::from_n(force_n)).unwrap();
            let back = ring.force_for_seam_gap(gap).unwrap();
            prop_assert!((back.n() - force_n).abs() < 1e-14 * force_n * 4.0); // four roundings
        }
    }
}
