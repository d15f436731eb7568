//! Tasks T1 and T2 of the design: turns and wire.
//!
//! Source: the design's worked tasks T1 and T2; numbers as printed there, the agreement half of
//! their last digit.

use linkwright_calc::coil::{
    InsideDiameter, Pitch, RelaxedTurns, WoundTurns, coil_length, turns_in_length, wire_to_wind,
};
use linkwright_calc::quantity::{Density, Length};
use linkwright_calc::slit::{Kerf, kerf_dust};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// Task, wire, rod and open inside diameter; pitch is 1.01 times the wire, tails are 40 mm a coil.
struct Task {
    wire: Wire,
    rod: Mandrel,
    inside: InsideDiameter,
}

impl Task {
    fn new(d_mm: f64, rod_mm: f64, inside_mm: f64) -> Task {
        Task {
            wire: Wire::new(mm(d_mm)).expect("within limits"),
            rod: Mandrel::new(mm(rod_mm)).expect("within limits"),
            inside: InsideDiameter::new(mm(inside_mm)).expect("within limits"),
        }
    }

    fn pitch(&self) -> Pitch {
        Pitch::new(mm(1.01 * self.wire.diameter().mm())).expect("within limits")
    }

    /// Relaxed turns that fit the holder less its head start.
    fn most_turns(&self, holder_mm: f64, head_start_mm: f64) -> RelaxedTurns {
        turns_in_length(self.wire, self.pitch(), mm(holder_mm - head_start_mm))
            .expect("within limits")
    }

    fn to_wind(&self, relaxed: f64) -> WoundTurns {
        RelaxedTurns::new(relaxed).to_wind(self.wire, self.rod, self.inside.diameter())
    }

    fn wire_mm(&self, turns: WoundTurns) -> f64 {
        wire_to_wind(self.wire, self.rod, self.pitch(), turns, mm(40.0))
            .expect("within limits")
            .mm()
    }

    fn length_mm(&self, relaxed: f64) -> f64 {
        coil_length(self.wire, self.pitch(), RelaxedTurns::new(relaxed))
            .expect("within limits")
            .mm()
    }
}

#[test]
fn t1_three_coils_of_45_relaxed_turns() {
    let task = Task::new(1.02, 4.0, 4.14);
    assert_eq!(task.most_turns(60.0, 8.0), RelaxedTurns::new(49.0));
    let wound = task.to_wind(45.0);
    assert_eq!(wound.get(), 47);
    let left = wound.relaxed(task.wire, task.rod, task.inside.diameter());
    assert!((left.get() - 45.7).abs() < 0.05);
    assert!((task.length_mm(45.0) - 47.4).abs() < 0.05);
    let wire_mm = task.wire_mm(wound);
    assert!((wire_mm - 782.8).abs() < 0.05);
    assert!((3.0 * wire_mm / 1000.0 - 2.348).abs() < 0.0005);
    let sterling = Density::from_g_cm3(10.36);
    assert!((task.wire.mass(mm(3.0 * wire_mm), sterling).g() - 19.88).abs() < 0.005);
    let dust = kerf_dust(task.wire, Kerf::new(mm(0.25)).expect("within limits"), sterling);
    // 118 rings wanted, 120 made: both print as 0.25 g.
    assert!((119.0 * dust.g() - 0.25).abs() < 0.005);
}

#[test]
fn t2_thirty_coils_of_52_wound_turns() {
    let task = Task::new(1.29, 5.0, 5.18);
    assert_eq!(task.most_turns(75.0, 8.0), RelaxedTurns::new(50.0));
    assert!((task.length_mm(50.0) - 66.4).abs() < 0.05);
    let wound = task.to_wind(50.0);
    assert_eq!(wound.get(), 52);
    let wire_mm = task.wire_mm(wound);
    assert!((wire_mm / 1000.0 - 1.070).abs() < 0.0005);
    assert!((30.0 * wire_mm / 1000.0 - 32.09).abs() < 0.005);
    let copper = Density::from_g_cm3(8.94);
    let mass = task.wire.mass(mm(30.0 * wire_mm), copper);
    assert!((mass.g() - 375.0).abs() < 0.5);
    assert!((mass.avoirdupois_pounds() - 0.827).abs() < 0.0005);
}

#[test]
fn t5_twelve_thousand_slits_make_25_4_g_of_dust() {
    let wire = Wire::new(mm(1.02)).expect("within limits");
    let kerf = Kerf::new(mm(0.25)).expect("within limits");
    let dust_g = kerf_dust(wire, kerf, Density::from_g_cm3(10.36)).g();
    assert!((12_000.0 * dust_g - 25.4).abs() < 0.05);
}
