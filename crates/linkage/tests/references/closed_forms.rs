//! The solver against closed forms.
//!
//! Source: derivations in `docs/theory/chain.md`, section 7; printed values from the project reference
//! collection (`chain.md`, sections 6.3 to 6.7).

use linkwright_linkage::closed_form::{
    cable_pitch, doubled_cable_limit, doubled_cable_pitch, european_limit, european_row_pitch,
    hole_bound, japanese_lattice,
};
use linkwright_linkage::pattern::{Cell, Pattern, SizeSpec, craft};
use linkwright_linkage::solve::{Patient, Pull, Search, taut, thickest_wire};

fn pattern(name: &str) -> Pattern {
    Pattern::new(craft::named(name).expect("a craft pattern")).expect("valid")
}

fn search(starts: u32) -> Search {
    Search { starts, seed: 1 }
}

pub(crate) fn limit(name: &str, starts: u32) -> f64 {
    let found = thickest_wire(&pattern(name), search(starts), &mut Patient).expect("not stopped");
    2.0 / found.room - 1.0
}

/// Length per cell in wire diameters.
pub(crate) fn length(pattern: &Pattern, aspect_ratio: f64, starts: u32) -> f64 {
    let wire = 2.0 / (aspect_ratio + 1.0);
    let found = taut(pattern, wire, Pull::Along, search(starts), &[], &mut Patient)
        .expect("not stopped")
        .expect("possible");
    found.value / wire
}

// Solver tolerances: climbs end when 20 steps gain less than 1e-9 of the radius, so 1e-6 leaves a
// wide margin; limits converge to the same.
const SOLVED: f64 = 1e-6;

#[test]
fn a_cable_chain_reaches_the_hole_bound_and_its_pitch_is_its_inside_diameter() {
    let cable = pattern("cable_1in1");
    assert!((limit("cable_1in1", 2) - 2.0).abs() < SOLVED);
    for ar in [2.5, 3.0, 5.0] {
        let pitch = cable_pitch(ar, 0.0).expect("possible");
        // Free turning makes the optimum flat: the last digits come slowly.
        assert!((length(&cable, ar, 2) - pitch).abs() < 1e-5 * pitch);
    }
}

#[test]
fn a_twisted_cable_chain_is_as_short_as_the_formula_says() {
    // Values printed in the reference collection, section 6.3.
    for (ar, off_deg, printed) in
        [(3.0, 40.0, 2.92291), (3.0, 50.0, 2.56510), (5.0, 50.0, 4.92343), (5.0, 60.0, 4.43399)]
    {
        let mut spec = craft::named("cable_1in1").expect("known");
        let off = f64::to_radians(off_deg);
        spec.cell = Cell::Screw {
            period: 1.2,
            twist_rad: std::f64::consts::FRAC_PI_2 - off,
            twist_free: false,
        };
        let twisted = Pattern::new(spec).expect("still linked");
        let formula = cable_pitch(ar, off).expect("possible");
        assert!((formula - printed).abs() < 5e-6, "printed to 5 decimals");
        // Turned by 90 + a instead, the planes stand at the same angle, yet rings that lean off the
        // axis find a longer chain (AR 3, 50 deg: 2.628 wires): the formula has them on the axis.
        let solved = length(&twisted, ar, 2);
        assert!((solved - formula).abs() < SOLVED * 10.0, "AR {ar}: {solved} {formula}");
    }
}

#[test]
fn a_doubled_cable_chain_has_the_derived_pitch_and_limit() {
    let doubled = pattern("double_2in2");
    assert!((limit("double_2in2", 1) - doubled_cable_limit()).abs() < SOLVED);
    // Printed values of section 6.4.
    for (ar, printed) in
        [(3.0, 2.747175), (4.0, 3.831502), (5.0, 4.873964), (6.0, 5.899382), (8.0, 7.928308)]
    {
        assert!((doubled_cable_pitch(ar) - printed).abs() < 5e-7);
        assert!((length(&doubled, ar, 2) - printed).abs() < 2.0 * SOLVED);
    }
}

#[test]
fn european_4in1_has_the_derived_row_pitch_and_limit_as_sheet_and_as_strip() {
    for name in ["european_4in1_sheet", "european_4in1_strip3"] {
        assert!((limit(name, 2) - european_limit()).abs() < SOLVED, "{name}");
        let pattern = pattern(name);
        for (ar, printed) in [(3.5, 3.39853), (4.0, 4.24264), (5.0, 5.91608)] {
            assert!((european_row_pitch(ar) - printed).abs() < 5e-6);
            let solved = length(&pattern, ar, 2);
            assert!((solved - european_row_pitch(ar)).abs() < 1e-5, "{name} AR {ar}: {solved}");
        }
    }
}

#[test]
fn a_flat_japanese_sheet_has_the_derived_lattice() {
    // Radius ratio for inside diameters 6 and 3 wires: 2/3.5.
    let (big, small) = (6.0, 3.0);
    let sizes = [SizeSpec::MAIN, SizeSpec { radius: (small + 1.0) / (big + 1.0), wire: 1.0 }];
    let sheet = pattern("japanese_12in2").with_sizes(&sizes).expect("still linked");
    let solved = length(&sheet, big, 2);
    let formula = japanese_lattice(big, small).expect("possible");
    assert!((formula - 8.8990).abs() < 5e-5, "printed in section 9");
    assert!((solved - formula).abs() < 1e-5, "{solved}");
}

#[test]
fn a_rosette_of_three_reaches_the_hole_bound() {
    // Without symmetry the hole bound 2 is reached, slowly, along a flat ridge.
    assert!((limit("rosette_3", 12) - 2.0).abs() < 1e-3);
}

#[test]
fn alternating_sizes_add_their_inside_diameters() {
    // Two linked rings have centres at most half the sum of their inside diameters apart; once a cell
    // goes by two such hops, its length is that sum. Small ring: 0.6 (AR + 1) - 1 wires.
    let chain = pattern("large_and_small");
    let ar = 5.0;
    let both = ar + 0.6 * (ar + 1.0) - 1.0;
    assert!((length(&chain, ar, 3) - both).abs() < 1e-4);
}

#[test]
fn no_limit_is_below_the_hole_bound() {
    for (name, links) in [
        ("cable_1in1", 2),
        ("double_2in2", 4),
        ("half_persian_3in1", 3),
        ("half_persian_4in1", 4),
        ("full_persian_6in1", 6),
        ("european_4in1_strip3", 4),
        ("pairs_and_singles", 4),
        ("triple_3in3", 6),
    ] {
        let bound = hole_bound(links).expect("tabulated");
        let limit = limit(name, 1);
        assert!(limit > bound - SOLVED, "{name}: {limit} below {bound}");
    }
}
