//! Source: check values of the project's reference collection (`chain.md` sections 6 and 9, and the limits in
//! `weaves.json`), found there by another program and printed to four or five digits.

use linkwright_linkage::extent::extent;
use linkwright_linkage::pattern::{Pattern, craft};
use linkwright_linkage::solve::{Patient, Pull, Search, Way, bent, taut};

use crate::closed_forms::{length, limit};

/// (pattern, starts, limit). Six digits printed, the last one from a search.
const LIMITS: &[(&str, u32, f64)] = &[
    ("cable_1in1", 2, 2.0),
    ("double_2in2", 1, 2.62128),
    ("european_4in1_strip3", 1, 2.98093),
    ("european_4in1_sheet", 1, 2.98093),
    ("byzantine", 4, 3.2655),
    ("half_persian_3in1", 1, 3.8928),
    ("two_row_european_6in1", 1, 3.9360),
];

/// (pattern, starts, aspect ratio, length per cell in wires, half a unit of the last printed digit).
const LENGTHS: &[(&str, u32, f64, f64, f64)] = &[
    // Printed with +-1 %: "5.754, 6.919, 9.17".
    ("byzantine", 2, 3.5, 5.754, 0.0006),
    ("byzantine", 2, 4.0, 6.919, 0.0006),
    ("byzantine", 3, 5.0, 9.17, 0.005),
    ("half_persian_3in1", 2, 4.5, 3.7487, 0.00006),
    ("half_persian_3in1", 6, 5.0, 4.3058, 0.00006),
    ("half_persian_3in1", 6, 6.0, 5.3935, 0.00006),
    ("half_persian_4in1", 8, 5.5, 3.4335, 0.00006),
    ("half_persian_4in1", 12, 6.0, 3.8006, 0.00006),
    ("two_row_european_6in1", 3, 4.5, 2.7775, 0.00006),
    ("two_row_european_6in1", 3, 5.0, 3.2020, 0.00006),
    ("box", 2, 5.0, 4.2959, 0.00006),
    ("box", 2, 6.0, 5.4767, 0.00006),
    ("full_persian_6in1", 1, 6.0, 5.1126, 0.00006),
    ("full_persian_6in1", 1, 7.0, 6.1452, 0.00006),
    ("spiral_4in1", 4, 3.75, 1.4379, 0.00006),
    ("spiral_4in1", 6, 4.5, 2.25, 0.0006),
    ("three_stack_spiral_4in1", 1, 2.8, 1.2999, 0.00006),
    ("three_stack_spiral_4in1", 6, 3.0, 1.4467, 0.00006),
];

fn pattern(name: &str) -> Pattern {
    Pattern::new(craft::named(name).expect("a craft pattern")).expect("valid")
}

#[test]
fn limits_agree_with_the_collection() {
    for &(name, starts, printed) in LIMITS {
        let limit = limit(name, starts);
        assert!((limit - printed).abs() < 1e-4, "{name}: {limit}, printed {printed}");
    }
}

#[test]
fn lengths_agree_with_the_collection() {
    for &(name, starts, ar, printed, within) in LENGTHS {
        let solved = length(&pattern(name), ar, starts);
        assert!((solved - printed).abs() < within, "{name} AR {ar}: {solved}, printed {printed}");
    }
}

#[test]
fn widths_agree_with_the_collection_within_their_looseness() {
    // Section 9: widths are soft by 10 % where rings carry nothing; of these, all rings carry.
    // A cable chain is as wide as its rings are outside, by definition of the words.
    for (name, ar, width) in [
        ("cable_1in1", 4.0, 6.0),
        ("double_2in2", 4.0, 6.10),
        ("box", 5.0, 7.34),
        ("full_persian_6in1", 6.0, 7.80),
        ("european_4in1_strip3", 4.0, 12.0),
    ] {
        let wire = 2.0 / (ar + 1.0);
        let search = Search { starts: 2, seed: 1 };
        let found = taut(&pattern(name), wire, Pull::Along, search, &[], &mut Patient)
            .expect("not stopped")
            .expect("possible");
        let seen = extent(&found.pose, wire);
        let wires = seen.width / wire;
        assert!((wires - width).abs() < 0.03 * width, "{name}: {wires}, printed {width}");
    }
}

#[test]
fn every_pattern_of_the_craft_stands_and_its_wire_grows() {
    let patterns = craft::all();
    assert!(patterns.len() >= 20, "fourteen of the collection and at least six more");
    for spec in patterns {
        let name = spec.name.clone();
        let pattern = Pattern::new(spec).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(pattern.start_wire() > 0.05, "{name}: {}", pattern.start_wire());
        assert!(pattern.spec().linking.ends_with('.'), "{name} does not say how it is linked");
    }
}

/// (pattern, aspect ratio, way, turn per cell in degrees, mean centre radius in wires), as printed: two
/// digits, "local optima: read as at least this tight".
const BENDS: &[(&str, f64, Way, f64, f64)] = &[
    ("box", 5.0, Way::OverFace, 31.0, 6.6),
    ("full_persian_6in1", 6.0, Way::OverFace, 21.4, 12.0),
    ("full_persian_6in1", 7.0, Way::OverFace, 39.0, 7.1),
    ("european_4in1_strip3", 3.5, Way::OverFace, 48.0, 3.5),
    ("european_4in1_strip3", 3.5, Way::Edgewise, 22.0, 7.6),
];

#[test]
fn bends_are_at_least_as_tight_as_in_the_collection() {
    for &(name, ar, way, turn_deg, radius) in BENDS {
        let search = Search { starts: 6, seed: 1 };
        let wire = 2.0 / (ar + 1.0);
        let bent = bent(&pattern(name), wire, way, search, &mut Patient);
        let bent = bent.expect("not stopped").expect("a chain");
        // Printed to a degree and to two digits.
        let turn = bent.found.value.to_degrees();
        assert!(turn > turn_deg - 0.5 && !bent.limp, "{name} AR {ar} {way:?}: {turn}");
        let middle = bent.middle_radius / wire;
        assert!(middle < radius * 1.02, "{name} AR {ar} {way:?}: {middle}");
        assert!(bent.inside_radius < bent.middle_radius, "{name}");
    }
}

#[test]
fn cable_and_doubled_cable_fold_limp_as_in_the_collection() {
    for (name, ar) in [("cable_1in1", 3.0), ("cable_1in1", 4.0), ("double_2in2", 3.5)] {
        for way in [Way::OverFace, Way::Edgewise] {
            let search = Search { starts: 6, seed: 1 };
            let bent = bent(&pattern(name), 2.0 / (ar + 1.0), way, search, &mut Patient);
            assert!(bent.expect("not stopped").expect("a chain").limp, "{name} AR {ar} {way:?}");
        }
    }
}
