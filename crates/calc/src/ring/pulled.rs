//! The metal of a ring as it is when the ring is pulled, and what the ring then bears.

use super::{Strength, StrengthInput};
use crate::basis::Answer;
use crate::limits::LimitError;
use crate::metal::{Metal, MetalError, Temper};
use crate::quantity::{Force, Stress};
use crate::wire::Wire;

/// How a ring is closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// Its ends only touch, the wire is as wound.
    Touching,
    /// Soldered or fused, and so soft.
    Soldered,
}

/// The metal of a ring as it is when the ring is pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingMetal {
    /// Stress at which the wire flows where it bends, right through its section.
    pub flow_stress: Stress,
    /// Stress at which it first takes a set: the flow stress of wound wire, the 0.2 % proof strength of
    /// soft metal, which hardens several times over before it flows right through.
    pub first_set_stress: Stress,
    /// Tensile strength.
    pub tensile_strength: Stress,
    /// Young's modulus.
    pub youngs_modulus: Stress,
    /// How the rings are closed.
    pub joint: Joint,
}

/// Pulls that a closed ring bears across a diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingPulls {
    /// From here on it takes a set; without inner stress.
    pub first_set: Force,
    /// Here it opens, or, soldered, draws out oval for good.
    pub gives_way: Force,
}

impl RingMetal {
    /// The metal of a ring wound from wire of a temper, and, if it is soldered, softened by that.
    ///
    /// A hinge forms where the wire flows right through its section, and a hinge does not know where its
    /// stress came from. Winding took the wire to its bending flow stress and left it there, so that this
    /// and not the 0.2 % proof strength of the wire before winding is what opens an unsoldered ring. A
    /// soldered ring flows as the soft temper of its metal does. Where no flow stress is on record, the
    /// tensile strength stands in, as for [winding](Metal::flow_law).
    ///
    /// # Units
    /// Stresses. The basis is that of the flow stress.
    /// # Validity
    /// The soft flow stress is that of a bend of 20 % strain at the outside, an aspect ratio of 4; it is
    /// some 10 to 30 % less for aspect ratios twice as large. Reversed bending may begin to flow earlier
    /// (Bauschinger's effect); what bends the ring open is reached all the same.
    /// # Errors
    /// [`MetalError::NoValue`] if no strength of the temper, no stiffness, or, for a soldered ring, no soft
    /// temper is on record.
    /// # Source
    /// Own rule, as for [`Metal::flow_law`]; `docs/theory/ring.md`, section 5.
    ///
    /// ```
    /// use linkwright_calc::{metal::Catalogue, ring::{Joint, RingMetal}};
    /// let metals = Catalogue::built_in();
    /// let sterling = metals.find("sterling").unwrap();
    /// let hard = sterling.temper("hard").unwrap();
    /// let wound = RingMetal::of(sterling, hard, Joint::Touching).unwrap().value;
    /// assert_eq!(wound.flow_stress.mpa(), 496.0);
    /// let soldered = RingMetal::of(sterling, hard, Joint::Soldered).unwrap().value;
    /// assert_eq!((soldered.flow_stress.mpa(), soldered.first_set_stress.mpa()), (238.0, 124.0));
    /// ```
    pub fn of(
        metal: &Metal,
        temper: &Temper,
        joint: Joint,
    ) -> Result<Answer<RingMetal>, MetalError> {
        let temper = match joint {
            Joint::Touching => temper,
            Joint::Soldered => metal.soft_temper()?,
        };
        let flow = metal.flow_stress(temper)?;
        let first_set = match joint {
            Joint::Touching => flow,
            Joint::Soldered => temper.yield_strength().unwrap_or(flow),
        };
        let value = RingMetal {
            flow_stress: flow.typical(),
            first_set_stress: first_set.typical(),
            tensile_strength: temper.tensile_strength().unwrap_or(flow).typical(),
            youngs_modulus: metal.youngs_modulus()?.typical(),
            joint,
        };
        Ok(Answer { value, basis: flow.basis(), cautions: Vec::new() })
    }

    /// The loads of one ring of this metal, by its flow stress.
    ///
    /// # Units
    /// The aspect ratio of the closed ring has none.
    /// # Validity
    /// As [`Strength::of`].
    /// # Errors
    /// [`LimitError`] if the aspect ratio or a stress is outside its limits.
    /// # Source
    /// As [`Strength::of`].
    ///
    /// ```
    /// use linkwright_calc::{metal::Catalogue, quantity::Length, wire::Wire};
    /// use linkwright_calc::ring::{Joint, RingMetal};
    /// let metals = Catalogue::built_in();
    /// let sterling = metals.find("sterling").unwrap();
    /// let hard = RingMetal::of(sterling, sterling.temper("hard").unwrap(), Joint::Touching).unwrap();
    /// let ring = hard.value.strength(Wire::new(Length::from_mm(1.0)).unwrap(), 4.0).unwrap();
    /// // Mp/R with Mp = 496 MPa x 1 mm3 / 6 and R = 2.5 mm.
    /// assert!((ring.opens_at().n() - 496.0 / 6.0 / 2.5).abs() < 1e-9);
    /// ```
    pub fn strength(self, wire: Wire, aspect_ratio: f64) -> Result<Strength, LimitError> {
        Strength::of(StrengthInput {
            wire,
            aspect_ratio,
            yield_strength: self.flow_stress,
            tensile_strength: self.tensile_strength,
            youngs_modulus: self.youngs_modulus,
        })
    }

    /// What one ring of this metal bears when its neighbours pull it across a diameter.
    ///
    /// # Units
    /// The aspect ratio of the closed ring has none; forces out.
    /// # Validity
    /// Not soldered: [`Strength::opens_at_with_axial`] and [`Strength::open_first_yield`]; soldered:
    /// [`Strength::soldered_stretch_onset`] and [`Strength::soldered_first_yield`]. A ring as wound takes a
    /// small set far earlier, see [`Strength::cautions`].
    /// # Errors
    /// [`LimitError`] if the aspect ratio or a stress is outside its limits.
    /// # Source
    /// `docs/theory/ring.md`, section 5.
    ///
    /// ```
    /// use linkwright_calc::{quantity::{Length, Stress}, wire::Wire};
    /// use linkwright_calc::ring::{Joint, RingMetal};
    /// let metal = RingMetal {
    ///     flow_stress: Stress::from_mpa(450.0),
    ///     first_set_stress: Stress::from_mpa(450.0),
    ///     tensile_strength: Stress::from_mpa(520.0),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     joint: Joint::Touching,
    /// };
    /// let pulls = metal.pulls(Wire::new(Length::from_mm(1.291)).unwrap(), 4.0).unwrap();
    /// assert!((pulls.gives_way.n() - 49.67134667).abs() < 1e-7);
    /// assert!((pulls.first_set.n() - 24.04551165).abs() < 1e-7);
    /// ```
    pub fn pulls(self, wire: Wire, aspect_ratio: f64) -> Result<RingPulls, LimitError> {
        let flows = self.strength(wire, aspect_ratio)?;
        let sets = RingMetal { flow_stress: self.first_set_stress, ..self };
        let sets = sets.strength(wire, aspect_ratio)?;
        Ok(match self.joint {
            Joint::Touching => RingPulls {
                first_set: sets.open_first_yield(),
                gives_way: flows.opens_at_with_axial(),
            },
            Joint::Soldered => RingPulls {
                first_set: sets.soldered_first_yield(),
                gives_way: flows.soldered_stretch_onset(),
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Joint, RingMetal};
    use crate::metal::{Catalogue, Hardness, Metal, MetalError};
    use crate::quantity::Length;
    use crate::wire::Wire;

    fn wire() -> Wire {
        Wire::new(Length::from_mm(1.0)).unwrap()
    }

    fn gives_way_n(metal: &Metal, temper: &str, joint: Joint) -> f64 {
        let temper = metal.temper_for_wire(temper, wire()).unwrap().value;
        let ring = RingMetal::of(metal, temper, joint).unwrap().value;
        ring.pulls(wire(), 4.0).unwrap().gives_way.n()
    }

    #[test]
    fn a_soldered_ring_forgets_how_hard_its_wire_was() {
        let metals = Catalogue::built_in();
        let sterling = metals.find("sterling").unwrap();
        let [soft, hard] = ["soft", "hard"].map(|t| gives_way_n(sterling, t, Joint::Soldered));
        assert_eq!(soft.to_bits(), hard.to_bits());
        assert!(soft > gives_way_n(sterling, "hard", Joint::Touching));
    }

    #[test]
    fn a_ring_of_any_temper_takes_a_set_before_it_gives_way() {
        for metal in Catalogue::built_in().metals() {
            for temper in metal.tempers() {
                for joint in [Joint::Touching, Joint::Soldered] {
                    let Ok(ring) = RingMetal::of(metal, temper, joint) else { continue };
                    let pulls = ring.value.pulls(wire(), 4.0).unwrap();
                    let name = (metal.key().as_str(), temper.name().as_str());
                    assert!(pulls.first_set.n() < pulls.gives_way.n(), "{name:?} {joint:?}");
                }
            }
        }
    }

    #[test]
    fn without_a_soft_record_nothing_is_said_of_a_soldered_ring() {
        let metals = Catalogue::built_in();
        let music = metals.find("music_wire").unwrap();
        assert!(music.tempers().iter().all(|temper| temper.hardness() != Hardness::Annealed));
        let drawn = &music.tempers()[0];
        assert!(RingMetal::of(music, drawn, Joint::Touching).is_ok());
        let soldered = RingMetal::of(music, drawn, Joint::Soldered);
        assert!(matches!(soldered, Err(MetalError::NoValue { .. })), "{soldered:?}");
    }
}
