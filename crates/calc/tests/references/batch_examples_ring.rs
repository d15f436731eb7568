//! The worked examples of the batch interface for the ring.
//!
//! Source: the design's batch page, asks `ring`, `closing`, `strength`; ten printed digits.

use linkwright_calc::coil::Pitch;
use linkwright_calc::quantity::{Density, Force, Length, Stress};
use linkwright_calc::ring::{
    BendingLocalisation, Closing, ClosingInput, Ring, RingInput, Strength, StrengthInput,
};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;

/// Agreement wanted for closed forms, relative.
const CLOSED: f64 = 1e-6;

fn agrees(found: f64, printed: f64) {
    assert!((found / printed - 1.0).abs() <= CLOSED, "{found} is not {printed}");
}

fn wire(d_mm: f64) -> Wire {
    Wire::new(Length::from_mm(d_mm)).expect("within limits")
}

#[test]
fn ring_is_cut_and_closed_as_printed() {
    let ring = Ring::cut(RingInput {
        wire: wire(2.053),
        coil_inside: Length::from_mm(9.6),
        kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
        pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    })
    .unwrap();
    let density = Density::from_g_cm3(8.53);
    agrees(ring.turn_length().mm(), 36.66689184);
    agrees(ring.ring_length().mm(), 36.16594709);
    agrees(ring.closed_inside().mm(), 9.458978502);
    agrees(ring.closed_outside().mm(), 13.5649785);
    agrees(ring.aspect_ratio(), 4.607393328);
    agrees(ring.seam_v().mm(), 0.1761778083);
    agrees(ring.first_touch_inside().mm(), 9.487018071);
    agrees(ring.mass(density).g(), 1.021213751);
    agrees(ring.rings_per_troy_ounce(density), 30.45736192);
    agrees(ring.rings_per_metre(), 27.27255979);
}

#[test]
fn closing_on_a_hinge_is_as_printed() {
    let closing = Closing::of(ClosingInput {
        wire: wire(1.291),
        inside: Length::from_mm(5.0),
        kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
        bending: BendingLocalisation::Hinge,
    })
    .unwrap();
    agrees(closing.height().mm(), 6.289210459);
    agrees(closing.width().mm(), 6.140957319);
    agrees(closing.ovality().mm(), 0.1482531399);
    agrees(closing.end_rotation_factor(), 0.5);
}

#[test]
fn strength_is_as_printed() {
    let strength = Strength::of(StrengthInput {
        wire: wire(1.291),
        aspect_ratio: 4.0,
        yield_strength: Stress::from_mpa(450.0),
        tensile_strength: Stress::from_mpa(520.0),
        youngs_modulus: Stress::from_mpa(110_000.0),
    })
    .unwrap();
    agrees(strength.opens_at().n(), 50.00043);
    agrees(strength.opens_at_with_axial().n(), 49.67134667);
    agrees(strength.open_first_yield().n(), 24.04551165);
    agrees(strength.seam_gap(Force::from_n(1.0)).unwrap().mm(), 0.008003800946);
    agrees(strength.soldered_stretch_onset().n(), 200.00172);
    agrees(strength.soldered_first_yield().n(), 79.5597881);
    agrees(strength.soldered_upper_bound(1.0).unwrap().n(), 1361.368524);
}
