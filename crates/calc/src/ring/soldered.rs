//! What stretches a soldered ring, and what breaks it.

use std::f64::consts::PI;

use super::Strength;
use crate::limits::{LimitError, SHARE};
use crate::quantity::Force;

impl Strength {
    /// Pull at which a soldered ring begins to stretch oval for good: `4 Mp/R`.
    ///
    /// # Units
    /// A force.
    /// # Validity
    /// Point loads. Soldering softens the ring: take the flow stress of annealed metal, a half to a
    /// third of the wound wire's.
    /// # Source
    /// Four plastic hinges; DeRuntz and Hodge 1963 for the pressed ring, from memory.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// assert!((strength.soldered_stretch_onset().n() - 4.0 * strength.opens_at().n()).abs() < 1e-9);
    /// ```
    pub fn soldered_stretch_onset(self) -> Force {
        Force::from_n(4.0 * self.opens_at().n())
    }

    /// Pull at which a soldered ring first yields where it is loaded: `pi sy Ze/(Ki R k2)`,
    /// `k2 = 1 - e/R`.
    ///
    /// # Units
    /// A force.
    /// # Validity
    /// Stress-free, as soldering leaves it; flow stress as for
    /// [`soldered_stretch_onset`](Strength::soldered_stretch_onset).
    /// # Source
    /// Thick ring under two loads, constants as Roark's ring tables print them; own combination.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// assert!((strength.soldered_first_yield().n() - 79.5597881).abs() < 1e-6);
    /// ```
    pub fn soldered_first_yield(self) -> Force {
        let my_n_mm =
            self.input.yield_strength.mpa() * self.input.wire.elastic_section_modulus_mm3();
        let k2 = 1.0 - self.beam.eccentricity_ratio();
        Force::from_n(PI * my_n_mm / (self.beam.inner_factor() * self.r_mm * k2))
    }

    /// Pull that no soldered ring outlasts: both sides torn, `2 A su` times the joint's efficiency.
    ///
    /// # Units
    /// `joint_efficiency` is the joint's strength over the wire's, 0 to 1; a force out.
    /// # Validity
    /// An upper bound: the ring has been pulled to a slot by then.
    /// # Errors
    /// [`LimitError`] if the efficiency is not a share of one.
    /// # Source
    /// Statics.
    ///
    /// ```
    /// # use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// # use linkwright_calc::ring::{Strength, StrengthInput};
    /// # let strength = Strength::of(StrengthInput {
    /// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(), aspect_ratio: 4.0,
    /// #     yield_strength: Stress::from_mpa(450.0), tensile_strength: Stress::from_mpa(520.0),
    /// #     youngs_modulus: Stress::from_mpa(110_000.0) }).unwrap();
    /// assert!((strength.soldered_upper_bound(1.0).unwrap().n() - 1361.368524).abs() < 1e-5);
    /// ```
    pub fn soldered_upper_bound(self, joint_efficiency: f64) -> Result<Force, LimitError> {
        let efficiency = SHARE.named("joint_efficiency").check(joint_efficiency)?;
        let whole_n = 2.0 * self.input.wire.section().mm2() * self.input.tensile_strength.mpa();
        Ok(Force::from_n(whole_n * efficiency))
    }
}
