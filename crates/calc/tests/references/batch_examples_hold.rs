//! The worked examples of the batch interface for holding.
//!
//! Source: the design's batch page, asks `clamp` and `clamp_as_wound`; ten printed digits.

use linkwright_calc::coil::InsideDiameter;
use linkwright_calc::hold::{HeldTurn, HeldTurnParts, as_wound};
use linkwright_calc::metal::FlowLaw;
use linkwright_calc::quantity::{Curvature, Force, Length, Stress};
use linkwright_calc::wind::{Mandrel, Winding};
use linkwright_calc::wire::Wire;

/// Agreement wanted for closed forms, relative.
const CLOSED: f64 = 1e-6;

fn agrees(found: f64, printed: f64) {
    assert!((found / printed - 1.0).abs() <= CLOSED, "{found} is not {printed}");
}

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

#[test]
fn clamp_is_as_printed() {
    let turn = HeldTurn::new(HeldTurnParts {
        wire: Wire::new(mm(1.291)).expect("within limits"),
        inside: InsideDiameter::new(mm(5.2)).expect("within limits"),
        youngs_modulus: Stress::from_mpa(110_000.0),
        poisson_ratio: 0.34,
        yield_strength: Stress::from_mpa(450.0),
    })
    .expect("within limits");
    let force = Force::from_n(19.889_248_23);
    let (thin, thick) = (
        turn.thin_ring(force).expect("within limits"),
        turn.thick_ring(force).expect("within limits"),
    );
    agrees(turn.collapse_force().n(), 198.892_482_3);
    agrees(turn.force_at_squeeze(mm(0.3)).expect("within limits").n(), 199.105_249_2);
    agrees(thin.shortening.mm(), 0.006_744_278_77);
    agrees(thin.widening.mm(), 0.006_193_115_975);
    agrees(thick.shortening.mm(), 0.008_021_330_462);
    agrees(thick.widening.mm(), 0.006_520_055_467);
    agrees(turn.first_yield_force().n(), 92.015_161_81);
}

#[test]
fn clamp_as_wound_is_as_printed() {
    let held = as_wound(&Winding {
        wire: Wire::new(mm(1.291)).expect("within limits"),
        mandrel: Mandrel::new(mm(5.0)).expect("within limits"),
        youngs_modulus: Stress::from_mpa(110_000.0),
        flow: FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) },
        natural_curvature: Curvature::from_per_mm(0.0),
    })
    .expect("within limits");
    agrees(held.mean_radius.mm(), 3.255_657_623);
    agrees(held.reverse_yield_moment.n_mm(), 28.772_753_57);
    agrees(held.first_yield_force.n(), 27.764_673_6);
}
