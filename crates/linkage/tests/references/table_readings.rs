//! What is read between the rows of the table, against closed forms and the reference collection.
//!
//! Source: derivations in `docs/theory/chain.md`, section 7; printed values from the project reference
//! collection (`chain.md`, sections 6.6, 6.7 and 9).

use linkwright_linkage::closed_form::{
    cable_pitch, doubled_cable_limit, doubled_cable_pitch, european_row_pitch, japanese_lattice,
};
use linkwright_linkage::opening::Fits;
use linkwright_linkage::solve::Way;
use linkwright_linkage::table::{Entry, entries};

fn entry(name: &str) -> &'static Entry {
    entries().iter().find(|entry| entry.name == name).expect("in the table")
}

/// Aspect ratios from one to another, closer together towards the first; none of them is a row.
fn between(low: f64, high: f64) -> impl Iterator<Item = f64> {
    (0..400).map(move |step| low + (high - low) * ((f64::from(step) + 0.37) / 400.0).powi(2))
}

/// Relative tolerance of a solved row: climbs of one answer, 1e-5, where rings turn freely.
const SOLVED: f64 = 2e-5;

#[test]
fn between_rows_lengths_are_those_of_the_closed_forms_within_what_is_stated() {
    type Form = fn(f64) -> f64;
    let japanese: Form = |ar| {
        // The small ring of the pattern's own proportion; its wire is the same.
        let small = entry_share("japanese_12in2") * (ar + 1.0) - 1.0;
        japanese_lattice(ar, small).expect("flat")
    };
    let forms: [(&str, f64, Form); 5] = [
        ("cable_1in1", 2.0, |ar| cable_pitch(ar, 0.0).expect("possible")),
        ("double_2in2", doubled_cable_limit(), doubled_cable_pitch),
        // From the least ratio printed; nearer the limit the unlinked ring touches, too.
        ("european_4in1_strip3", 3.0, european_row_pitch),
        ("european_4in1_sheet", 3.0, european_row_pitch),
        ("japanese_12in2", 4.87, japanese),
    ];
    for (name, from, form) in forms {
        let entry = entry(name);
        for ar in between(from * 1.00001, 12.0) {
            let (read, formula) = (entry.at(ar).expect("in range").advance, form(ar));
            let off = (read - formula).abs() / formula;
            assert!(off < entry.within + SOLVED, "{name} at {ar}: {read}, {formula}");
        }
    }
}

/// Radius of the small ring as a share of the big one's.
fn entry_share(name: &str) -> f64 {
    use linkwright_linkage::pattern::craft;
    craft::named(name).expect("a craft pattern").sizes[1].radius
}

#[test]
fn a_spiral_is_held_below_aspect_ratio_four_and_hangs_straight_from_there() {
    // Section 6.6: four wires in line need AR 4; from there on the pitch is half the inside diameter.
    let spiral = entry("spiral_4in1");
    for ar in between(4.005, 12.0) {
        let read = spiral.at(ar).expect("in range").advance;
        assert!((read - 0.5 * ar).abs() < (spiral.within + SOLVED) * read, "{ar}: {read}");
    }
    let slope = |ar: f64| {
        let at = |ar: f64| spiral.at(ar).expect("in range").advance;
        (at(ar + 0.01) - at(ar - 0.01)) / 0.02
    };
    assert!(slope(3.98) > 3.0 && slope(4.02) < 0.51);
    // Printed value.
    assert!((spiral.at(3.75).expect("in range").advance - 1.4379).abs() < 2e-3);
}

#[test]
fn a_japanese_sheet_lies_flat_from_where_twelve_wires_go_round_the_rim() {
    // Section 6.7: AR_b >= 1 + 1/sin 15 deg = 4.8637; below it crumples, and the state changes.
    let rim = 1.0 + 1.0 / 15.0_f64.to_radians().sin();
    let sheet = entry("japanese_12in2");
    let states: Vec<_> = sheet.states().collect();
    let &[crumpled, flat] = &states[..] else { panic!("{} states", states.len()) };
    let (below, above) = (crumpled[crumpled.len() - 1].aspect_ratio, flat[0].aspect_ratio);
    assert!(below < rim && rim <= above, "{below} to {above}, {rim}");
    assert!(above - below < 1e-3, "told to a thousandth");
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
fn bends_in_the_table_are_at_least_as_tight_as_in_the_collection() {
    for &(name, ar, way, turn_deg, middle) in BENDS {
        let bends = entry(name).bends(way);
        let read = bends.at(ar).expect("in the table");
        assert!(!read.limp, "{name} AR {ar} {way:?}");
        // Printed to a degree and to two digits.
        assert!(read.row.turn_deg > turn_deg - 0.5, "{name} AR {ar} {way:?}: {read:?}");
        assert!(read.row.middle_radius < middle * 1.03, "{name} AR {ar} {way:?}: {read:?}");
        // Found tighter by so much would mean rings that pass through each other.
        assert!(read.row.turn_deg < 1.25 * turn_deg, "{name} AR {ar} {way:?}: {read:?}");
    }
}

#[test]
fn in_the_table_too_cable_and_doubled_cable_fold_limp() {
    for (name, ar) in [("cable_1in1", 3.0), ("cable_1in1", 4.0), ("double_2in2", 3.5)] {
        for way in [Way::OverFace, Way::Edgewise] {
            let read = entry(name).bends(way).at(ar).expect("in the table");
            assert!(read.limp, "{name} AR {ar} {way:?}");
        }
    }
}

#[test]
fn the_last_ring_goes_in_where_makers_make_their_chains() {
    // Common practice, no source; section 12 of the collection, from memory: what is customary is
    // above the limit by enough for the last ring, or at most tight.
    for (name, customary) in [("byzantine", 3.5), ("half_persian_3in1", 4.5), ("cable_1in1", 3.0)] {
        let last = entry(name).last_ring.at(customary).expect("possible");
        assert_ne!(last.fits(), Fits::DoesNot, "{name}: {last:?}");
    }
}
