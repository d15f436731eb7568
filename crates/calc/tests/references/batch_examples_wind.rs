//! The worked examples of the batch interface for winding.
//!
//! Source: the design's batch page, asks `wind`, `mandrel` and `clad_wire`; ten printed digits.

use linkwright_calc::coil::WoundTurns;
use linkwright_calc::metal::{Clad, FlowLaw, Layer, clad_wire};
use linkwright_calc::quantity::{Curvature, Density, Force, Length, Stress};
use linkwright_calc::wind::{
    CoilWanted, Crank, Mandrel, Winding, Wound, hand_force, mandrel_for, wind, winding_torque,
};
use linkwright_calc::wire::Wire;

/// Agreement wanted for closed forms, relative.
const CLOSED: f64 = 1e-6;

fn agrees(found: f64, printed: f64) {
    assert!((found / printed - 1.0).abs() <= CLOSED, "{found} is not {printed}");
}

fn wire(d_mm: f64) -> Wire {
    Wire::new(Length::from_mm(d_mm)).expect("a usual wire")
}

const fn half_hard_brass() -> FlowLaw {
    FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) }
}

fn wound(d_mm: f64, mandrel_mm: f64) -> Wound {
    wind(&Winding {
        wire: wire(d_mm),
        mandrel: Mandrel::new(Length::from_mm(mandrel_mm)).expect("a usual rod"),
        youngs_modulus: Stress::from_mpa(110_000.0),
        flow: half_hard_brass(),
        natural_curvature: Curvature::from_per_mm(0.0),
    })
    .expect("a usual metal")
}

#[test]
fn wind_springs_open_as_printed() {
    let wound = wound(2.053, 14.0);
    agrees(wound.mean_radius.mm(), 8.0265);
    agrees(wound.outer_fibre_strain, 0.127_888_868_1);
    agrees(wound.bending_moment.n_mm(), 648.643_240_6);
    agrees(wound.relaxed_curvature.per_mm(), 0.117_825_112_3);
    assert!(wound.takes_set);
    agrees(wound.coil_inside_diameter.unwrap().mm(), 14.921_310_16);
    agrees(wound.growth.unwrap().mm(), 0.921_310_156_4);
}

#[test]
fn wind_asks_the_hand_for_the_printed_force() {
    let torque = winding_torque(&wound(1.628, 6.0), Force::from_n(20.0)).unwrap();
    agrees(torque.exact.n_mm(), 392.643_617_6);
    agrees(torque.upper_bound.n_mm(), 399.832_440_4);
    let crank = Crank { arm: Length::from_mm(60.0), efficiency: 1.0 };
    agrees(hand_force(torque.exact, crank).unwrap().n(), 6.544_060_294);
}

#[test]
fn wind_kicks_back_by_the_printed_turns() {
    let kick = wound(1.291, 5.0).kick_back(WoundTurns::new(60)).unwrap();
    agrees(kick.left.get(), 57.969_854_9);
    agrees(kick.run_back, 2.030_145_102);
}

#[test]
fn mandrel_is_the_printed_one() {
    let mandrel = mandrel_for(&CoilWanted {
        wire: wire(1.291),
        coil_inside_diameter: Length::from_mm(5.0),
        youngs_modulus: Stress::from_mpa(110_000.0),
        flow: half_hard_brass(),
        natural_curvature: Curvature::from_per_mm(0.0),
    });
    agrees(mandrel.unwrap().unwrap().diameter().mm(), 4.794_103_321);
}

#[test]
fn clad_wire_is_as_printed() {
    let layer = |g_cm3, modulus_mpa, flow_mpa| Layer {
        density: Density::from_g_cm3(g_cm3),
        youngs_modulus: Stress::from_mpa(modulus_mpa),
        flow_stress: Stress::from_mpa(flow_mpa),
    };
    let whole = clad_wire(&Clad {
        wire: wire(1.024),
        clad_mass_fraction: 0.05,
        core: layer(8.8, 117_000.0, 325.0),
        clad: layer(13.07, 95_000.0, 500.0),
    })
    .unwrap();
    agrees(whole.density.g_cm3(), 8.946_136_196);
    agrees(whole.clad_thickness.mm(), 0.008_837_599_579);
    agrees(whole.flexural_modulus.mpa(), 115_519.915);
    agrees(whole.equivalent_flow_stress.mpa(), 333.906_473_3);
}
