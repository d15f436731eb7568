//! Reading the table as a moving slider does, a pattern and an aspect ratio at a time; never a gate.

use divan::{Bencher, black_box};
use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::{ClosedRing, answer};
use linkwright_linkage::pattern::{Pattern, craft};
use linkwright_linkage::solve::{Patient, Search};
use linkwright_linkage::table::entry;

const PATTERNS: [&str; 3] = ["cable_1in1", "byzantine", "japanese_12in2"];
/// Above every limit of [`PATTERNS`], between two rows of the table.
const ASPECT_RATIO: f64 = 5.43;

fn main() {
    divan::main();
}

fn pattern(name: &str) -> Pattern {
    Pattern::new(craft::named(name).expect("a craft pattern")).expect("valid")
}

/// From a checked pattern to its numbers.
#[divan::bench(args = PATTERNS)]
fn numbers(bencher: Bencher<'_, '_>, name: &str) {
    let pattern = pattern(name);
    bencher.bench_local(|| {
        let entry = entry(black_box(&pattern)).expect("in the table");
        entry.at(black_box(ASPECT_RATIO)).expect("in its range")
    });
}

/// A pose to draw.
#[divan::bench(args = PATTERNS)]
fn pose(bencher: Bencher<'_, '_>, name: &str) {
    let pattern = pattern(name);
    let entry = entry(&pattern).expect("in the table");
    bencher.bench_local(|| entry.pose_below(&pattern, black_box(ASPECT_RATIO)));
}

/// The whole answer to a jeweller's question, pattern looked up by name.
#[divan::bench(args = ["cable_1in1", "byzantine"])]
fn whole_answer(bencher: Bencher<'_, '_>, name: &str) {
    let wire = Wire::new(Length::from_mm(1.0)).expect("a wire");
    let ring = ClosedRing::new(wire, Length::from_mm(ASPECT_RATIO)).expect("a ring");
    bencher.bench_local(|| {
        let pattern = pattern(black_box(name));
        answer(&pattern, &[ring], Search::default(), &mut Patient).expect("answered")
    });
}
