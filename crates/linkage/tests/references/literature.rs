//! Values printed outside this project, each with its source.
//!
//! Sources: equal discs in a disc, after S. Kravitz, "Packing cylinders into cylindrical containers",
//! Mathematics Magazine 40 (1967), as listed on an optimisation vendor's example page and copied in the
//! project's reference collection (`chain.md`, section 6.1); the three-fold rosette, MathOverflow
//! question 82350 (five digits); one ring under two loads, textbooks of strength, from memory, in
//! `under_load`.

use linkwright_linkage::closed_form::{hole_bound, three_fold_rosette_limit};

/// Discs and the diameter of the disc that just holds them, in disc diameters, as printed.
const DISCS: [(u32, f64, f64); 7] = [
    (2, 2.0, 0.0),
    (3, 2.1547, 5e-5),
    (4, 2.4142, 5e-5),
    (5, 2.7013, 5e-5),
    (6, 3.0, 0.0),
    (8, 3.3048, 5e-5),
    (12, 4.029, 5e-4),
];

#[test]
fn the_hole_bound_is_the_printed_packing_of_discs() {
    for (discs, printed, within) in DISCS {
        let bound = hole_bound(discs).expect("tabulated");
        // Half a unit of the last printed digit, and rounding.
        assert!((bound - printed).abs() <= within + 1e-12, "{discs}: {bound}, printed {printed}");
    }
    // Seven go where six go: one in the middle.
    let seven = hole_bound(7).zip(hole_bound(6)).map(|(seven, six)| (seven - six).abs());
    assert!(seven.expect("tabulated") < 1e-12);
    assert_eq!(hole_bound(9), None);
}

#[test]
fn discs_stand_in_the_hole_bound_without_overlap() {
    // The packings behind the bound: a circle of discs, with one in the middle from seven on.
    for round in [2_u32, 3, 4, 5, 6, 7] {
        let hole = hole_bound(if round == 7 { 8 } else { round }).expect("tabulated");
        let middle = 0.5 * (hole - 1.0);
        let apart = 2.0 * middle * (std::f64::consts::PI / f64::from(round)).sin();
        assert!((apart - 1.0).abs() < 1e-12, "{round}: neighbours touch");
        assert!(round < 6 || middle >= 1.0 - 1e-12, "{round}: room for one in the middle");
    }
}

#[test]
fn the_three_fold_rosette_has_the_printed_distance() {
    // 0.64576 of the radius, read as truncated to five digits.
    let distance = 2.0 / (three_fold_rosette_limit() + 1.0);
    assert!((distance - 0.64576).abs() < 1e-5, "{distance}");
}
