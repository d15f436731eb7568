//! Patterns solved from cold, one start a limit and twelve a length, beside a pose pulled again for a
//! slider; never a gate.

use divan::Bencher;
use linkwright_linkage::pattern::{Pattern, craft};
use linkwright_linkage::solve::{
    Patient, Pull, Search, Way, bent, taut, taut_again, taut_from, thickest_wire,
};

/// From one ring a cell to seven rings of two sizes.
const PATTERNS: [&str; 9] = [
    "cable_1in1",
    "double_2in2",
    "box",
    "byzantine",
    "half_persian_4in1",
    "full_persian_6in1",
    "european_4in1_sheet",
    "japanese_12in2",
    "square_8in2_sheet",
];
/// Wire of an aspect ratio at which all of them go together.
const WIRE: f64 = 2.0 / 7.0;

fn main() {
    divan::main();
}

fn pattern(name: &str) -> Pattern {
    Pattern::new(craft::named(name).expect("a craft pattern")).expect("valid")
}

#[divan::bench(args = PATTERNS, sample_count = 5)]
fn limit_from_cold(bencher: Bencher, name: &str) {
    let pattern = pattern(name);
    let search = Search { starts: 1, seed: 1 };
    bencher.bench_local(|| thickest_wire(&pattern, search, &mut Patient));
}

#[divan::bench(args = PATTERNS, sample_count = 3)]
fn length_of_twelve_starts_from_cold(bencher: Bencher, name: &str) {
    let pattern = pattern(name);
    let search = Search { starts: 12, seed: 1 };
    bencher.bench_local(|| taut(&pattern, WIRE, Pull::Along, search, &[], &mut Patient));
}

#[divan::bench(args = PATTERNS, sample_count = 20)]
fn pulled_again_in_thinner_wire(bencher: Bencher, name: &str) {
    let pattern = pattern(name);
    let start = taut_from(pattern.start(), 1.05 * WIRE, Pull::Along, &mut Patient);
    let start = start.expect("not stopped").expect("possible").pose;
    bencher.bench_local(|| taut_again(&start, WIRE, Pull::Along, &mut Patient));
}

#[divan::bench(args = ["cable_1in1", "box", "byzantine"], sample_count = 3)]
fn tightest_bend_of_six_starts(bencher: Bencher, name: &str) {
    let pattern = pattern(name);
    let search = Search { starts: 6, seed: 1 };
    bencher.bench_local(|| bent(&pattern, WIRE, Way::OverFace, search, &mut Patient));
}
