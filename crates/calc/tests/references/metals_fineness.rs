//! Fine shares against karat arithmetic and fineness marks.
//!
//! Source: karat is 24 parts by mass (definition); marks from the UK hallmark standards page of the
//! Hallmarking Convention (text seen) and ISO 9202 (from memory), minimum values.

use linkwright_calc::metal::{Catalogue, FineMetal};

/// (key, mark in permille, karat, surely fine in permille printed to 0.0001).
const GOLD: [(&str, f64, f64, f64); 7] = [
    ("gold_10k_yellow", 417.0, 10.0, 416.6667),
    ("gold_14k_yellow", 585.0, 14.0, 583.3333),
    ("gold_14k_rose", 585.0, 14.0, 583.3333),
    ("gold_14k_white_ni", 585.0, 14.0, 583.3333),
    ("gold_18k_yellow", 750.0, 18.0, 750.0),
    ("gold_18k_rose", 750.0, 18.0, 750.0),
    ("gold_18k_white_ni", 750.0, 18.0, 750.0),
];

/// Half the last printed digit, in permille.
const PRINTED_PERMILLE: f64 = 0.000_05;

#[test]
fn gold_counts_by_the_smaller_of_mark_and_karat() {
    let metals = Catalogue::built_in();
    for (key, mark, karat, fine) in GOLD {
        let metal = metals.find(key).unwrap();
        assert_eq!(metal.fine_metal(), Some(FineMetal::Gold), "{key}");
        assert!((metal.stamp_permille().unwrap() - mark).abs() < 1e-12, "{key}");
        let share = metal.fine_share().unwrap();
        assert!((1000.0 * share - fine).abs() <= PRINTED_PERMILLE, "{key}");
        assert!((1000.0 * karat / 24.0 - fine).abs() <= PRINTED_PERMILLE, "{key}");
    }
}

#[test]
fn silver_counts_by_its_mark() {
    let metals = Catalogue::built_in();
    for (key, permille) in
        [("fine_silver", 999.0), ("sterling_925", 925.0), ("silver_935_ge", 935.0)]
    {
        let share = metals.find(key).unwrap().fine_share().unwrap();
        assert!((1000.0 * share - permille).abs() < 1e-9, "{key}");
    }
}

#[test]
fn gold_filled_counts_the_gold_of_its_layer_only() {
    let metals = Catalogue::built_in();
    // One twentieth of 14/24: 0.02917, printed to 0.00001.
    for key in ["gf_14_20_c220", "gf_14_20_c226", "gf_14_20_c260"] {
        let share = metals.find(key).unwrap().fine_share().unwrap();
        assert!((share - 0.02917).abs() <= 0.000_005, "{key}");
    }
}

#[test]
fn base_metal_holds_nothing_a_refiner_pays_for() {
    let metals = Catalogue::built_in();
    for key in ["copper_c110", "nickel_silver_c752", "ti_gr1"] {
        assert_eq!(metals.find(key).unwrap().fine_share(), None, "{key}");
    }
}
