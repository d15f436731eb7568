//! The worked examples of the batch interface for coils.
//!
//! Source: the design's batch page, asks `coil` and `turns_in_length`; ten printed digits.

use linkwright_calc::coil::{
    Coil, InsideDiameter, Pitch, RelaxedTurns, coil_length, gap_fraction, touching_pitch,
    turns_in_length,
};
use linkwright_calc::quantity::{Density, Length};
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
fn coil_is_as_printed() {
    let wire = Wire::new(mm(2.053)).expect("within limits");
    let inside = InsideDiameter::new(mm(9.6)).expect("within limits");
    let pitch = Pitch::new(mm(2.056_235_843)).expect("within limits");
    let turns = RelaxedTurns::new(40.0);
    let coil = Coil::new(wire, inside, pitch).expect("within limits");
    let length = coil.wire_length(turns, mm(120.0));
    agrees(touching_pitch(wire, inside).advance().mm(), 2.056_235_843);
    agrees(coil.turn_length().mm(), 36.666_680_56);
    agrees(coil_length(wire, pitch, turns).expect("within limits").mm(), 84.302_433_72);
    agrees(gap_fraction(wire, pitch).expect("within limits"), 0.001_573_673_089);
    agrees(length.mm(), 1_586.667_222);
    agrees(wire.mass(length, Density::from_g_cm3(8.53)).g(), 44.802_542_59);
}

#[test]
fn turns_in_length_are_exact() {
    let wire = Wire::new(mm(1.291)).expect("within limits");
    let turns = turns_in_length(wire, Pitch::new(mm(1.35)).expect("within limits"), mm(80.0))
        .expect("within limits");
    assert_eq!(turns, RelaxedTurns::new(58.0));
}
