//! A turn that still carries the stress of winding is marked by far less than an annealed one.

use super::{HeldTurn, HeldTurnParts, HoldError};
use crate::coil::InsideDiameter;
use crate::limits::YIELD_STRENGTH;
use crate::quantity::{Curvature, Force, Length, Stress, Torque};
use crate::wind::{ElasticPlastic, Winding, wind};
use crate::wire::Wire;

/// When a turn as it comes off the mandrel first stays bent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AsWound {
    /// Mean radius after springback.
    pub mean_radius: Length,
    /// Un-bending moment at which the surface first yields.
    pub reverse_yield_moment: Torque,
    /// Force per turn between plates that brings it about.
    pub first_yield_force: Force,
}

/// Un-bending moment at which wire that was wound and let go first yields again,
/// `Mr = 2 My - M_wind`, and never more than `My = sy Ze`.
///
/// Letting go already swings the surface back by `M_wind / Ze`, most of the `2 sy` between yield
/// one way and yield the other; only the rest is left for the clamp.
///
/// # Units
/// A stress and moments; `yield_strength` is the stress the wire's surface reached in winding.
/// # Validity
/// Surface yields at the same stress both ways. With a Bauschinger effect it yields earlier.
/// # Errors
/// - [`HoldError::Limit`] outside [`YIELD_STRENGTH`];
/// - [`HoldError::YieldsOnRelease`] if `M_wind > 2 My`.
/// # Source
/// Mechanics C6; own derivation, `docs/theory/holding.md`, section 3.
///
/// ```
/// use linkwright_calc::hold::reverse_yield_moment;
/// use linkwright_calc::quantity::{Length, Stress, Torque};
/// use linkwright_calc::wire::Wire;
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let sy = Stress::from_mpa(450.0);
/// let plastic = Torque::from_n_mm(450.0 * wire.plastic_section_modulus_mm3());
/// let first = 450.0 * wire.elastic_section_modulus_mm3();
/// let reverse = reverse_yield_moment(wire, sy, plastic).unwrap();
/// // Fully plastic winding leaves 0.302 of the moment of first yield.
/// assert!((reverse.n_mm() / first - 0.302).abs() < 0.0005);
/// ```
pub fn reverse_yield_moment(
    wire: Wire,
    yield_strength: Stress,
    winding_moment: Torque,
) -> Result<Torque, HoldError> {
    let yield_mpa = YIELD_STRENGTH.check(yield_strength.mpa())?;
    let yield_moment_n_mm = yield_mpa * wire.elastic_section_modulus_mm3();
    let winding_moment_n_mm = winding_moment.n_mm();
    let left_n_mm = 2.0 * yield_moment_n_mm - winding_moment_n_mm;
    if left_n_mm >= 0.0 {
        Ok(Torque::from_n_mm(left_n_mm.min(yield_moment_n_mm)))
    } else {
        Err(HoldError::YieldsOnRelease { winding_moment_n_mm, yield_moment_n_mm })
    }
}

/// When a turn as it comes off the mandrel first stays bent between plates.
///
/// The winding is run through its flow law; the stress its surface reached is taken as the stress
/// at which it yields the other way, and the radius is that after springback.
///
/// # Units
/// As [`Winding`] in; lengths, moments and forces out.
/// # Validity
/// As [`reverse_yield_moment`]; not annealed since winding.
/// # Errors
/// - [`HoldError::Limit`] if the metal is outside its limits;
/// - [`HoldError::KeepsNoCoil`] if the wire springs back straight;
/// - [`HoldError::YieldsOnRelease`] as [`reverse_yield_moment`].
/// # Source
/// Mechanics C6; own derivation, `docs/theory/holding.md`, section 3.
///
/// ```
/// use linkwright_calc::hold::as_wound;
/// use linkwright_calc::metal::FlowLaw;
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::{Mandrel, Winding};
/// use linkwright_calc::wire::Wire;
/// let held = as_wound(&Winding {
///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
///     mandrel: Mandrel::new(Length::from_mm(5.0)).unwrap(),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     flow: FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) },
///     natural_curvature: Curvature::from_per_mm(0.0),
/// }).unwrap();
/// assert!((held.first_yield_force.n() - 27.76).abs() < 0.005);
/// ```
pub fn as_wound(winding: &Winding) -> Result<AsWound, HoldError> {
    let metal = ElasticPlastic::new(winding.youngs_modulus, winding.flow)?;
    let wound = wind(winding)?;
    let (wire, mandrel) = (winding.wire, winding.mandrel);
    let Some(inside) = wound.coil_inside_diameter else {
        return Err(HoldError::KeepsNoCoil {
            mandrel_diameter_mm: mandrel.diameter().mm(),
            wire_diameter_mm: wire.diameter().mm(),
        });
    };
    let surface_stress = metal.stress(surface_strain(winding));
    let reverse_yield = reverse_yield_moment(wire, surface_stress, wound.bending_moment)?;
    let turn = HeldTurn::new(HeldTurnParts {
        wire,
        inside: InsideDiameter::new(inside)?,
        youngs_modulus: winding.youngs_modulus,
        poisson_ratio: 0.0, // the thin ring's moment does not depend on it
        yield_strength: surface_stress,
    })?;
    Ok(AsWound {
        mean_radius: turn.mean_radius(),
        reverse_yield_moment: reverse_yield,
        first_yield_force: turn.first_yield_force_as_wound(reverse_yield)?,
    })
}

/// Strain of the outermost fibre on the mandrel, counted from the wire as it arrived.
fn surface_strain(winding: &Winding) -> f64 {
    let Winding { wire, mandrel, natural_curvature, .. } = winding;
    let d_mm = wire.diameter().mm();
    let on_mandrel = Curvature::from_per_mm(2.0 / (mandrel.diameter().mm() + d_mm));
    (on_mandrel - *natural_curvature).per_mm() * d_mm / 2.0
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;
    use crate::metal::FlowLaw;
    use crate::wind::Mandrel;

    fn wire() -> Wire {
        Wire::new(Length::from_mm(1.0)).unwrap()
    }

    fn winding(mandrel_mm: f64, flow: FlowLaw) -> Winding {
        Winding {
            wire: wire(),
            mandrel: Mandrel::new(Length::from_mm(mandrel_mm)).unwrap(),
            youngs_modulus: Stress::from_mpa(110_000.0),
            flow,
            natural_curvature: Curvature::from_per_mm(0.0),
        }
    }

    const FLAT: FlowLaw =
        FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) };

    proptest! {
        /// Layer by layer: strain the section on the mandrel, unload it to no moment, un-bend it
        /// until a layer reaches the yield stress the other way.
        #[test]
        fn layers_of_the_wire_yield_back_where_the_formula_says(mandrel_mm in 3.0..60.0) {
            let held = as_wound(&winding(mandrel_mm, FLAT)).unwrap();
            let (e_mpa, sy_mpa, kappa) = (110_000.0, 450.0, 2.0 / (mandrel_mm + 1.0));
            let layers = 200_000;
            let height_mm = |i: u32| 0.5 * (f64::from(i) + 0.5) / f64::from(layers);
            let on_mandrel = |y_mm: f64| (e_mpa * kappa * y_mm).min(sy_mpa);
            let moment: f64 = (0..layers)
                .map(|i| {
                    let y_mm = height_mm(i);
                    let width_mm = 2.0 * (0.25 - y_mm * y_mm).sqrt();
                    2.0 * on_mandrel(y_mm) * y_mm * width_mm * 0.5 / f64::from(layers)
                })
                .sum();
            let i_mm4 = wire().second_moment_mm4();
            // Room of each layer before it yields back, as a moment; the least one counts.
            let room_n_mm = (0..layers)
                .map(|i| {
                    let y_mm = height_mm(i);
                    let left_mpa = on_mandrel(y_mm) - moment * y_mm / i_mm4;
                    (left_mpa + sy_mpa) * i_mm4 / y_mm
                })
                .fold(f64::INFINITY, f64::min);
            // Outermost of 200 000 layers lies half a layer inside, 2.5e-6 of the radius.
            let off = held.reverse_yield_moment.n_mm() / room_n_mm - 1.0;
            prop_assert!(off.abs() < 1e-4, "{off:e}");
        }

        #[test]
        fn annealing_always_raises_the_force_that_marks(mandrel_mm in 3.0..60.0) {
            let winding = winding(mandrel_mm, FLAT);
            let held = as_wound(&winding).unwrap();
            let soft_n = std::f64::consts::PI * 450.0 * wire().elastic_section_modulus_mm3()
                / held.mean_radius.mm();
            prop_assert!(held.first_yield_force.n() < soft_n);
        }
    }

    #[test]
    fn hardening_wire_is_judged_by_the_stress_its_surface_reached() {
        let hollomon = FlowLaw::Hollomon {
            strength_coefficient: Stress::from_mpa(900.0),
            hardening_exponent: 0.49,
        };
        // A quarter of strain on a 3 mm rod: 900 x 0.25^0.49 = 456 MPa; M = f(n) K e^n Zp.
        let held = as_wound(&winding(3.0, hollomon)).unwrap();
        let surface_mpa = 900.0 * 0.25_f64.powf(0.49);
        let surface = Stress::from_mpa(surface_mpa);
        let moment = wind(&winding(3.0, hollomon)).unwrap().bending_moment;
        let by_hand = reverse_yield_moment(wire(), surface, moment).unwrap();
        assert!((held.reverse_yield_moment.n_mm() / by_hand.n_mm() - 1.0).abs() < 1e-12);
        // s_eq/s_surface = 0.75 at n 0.49, so 2 - 0.75 x 1.698 = 0.72 of My is left.
        let first_n_mm = surface_mpa * wire().elastic_section_modulus_mm3();
        assert!((held.reverse_yield_moment.n_mm() / first_n_mm - 0.72).abs() < 0.01);
    }

    #[test]
    fn wire_that_springs_back_straight_is_refused() {
        assert_eq!(
            as_wound(&winding(900.0, FLAT)),
            Err(HoldError::KeepsNoCoil { mandrel_diameter_mm: 900.0, wire_diameter_mm: 1.0 })
        );
    }

    #[test]
    fn a_moment_beyond_twice_first_yield_is_refused() {
        let first = 100.0 * wire().elastic_section_modulus_mm3();
        let moment = Torque::from_n_mm(2.1 * first);
        let refused = reverse_yield_moment(wire(), Stress::from_mpa(100.0), moment);
        assert!(matches!(refused, Err(HoldError::YieldsOnRelease { .. })), "{refused:?}");
        let nan =
            reverse_yield_moment(wire(), Stress::from_mpa(100.0), Torque::from_n_mm(f64::NAN));
        assert!(nan.is_err(), "{nan:?}");
    }
}
