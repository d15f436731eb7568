//! Conversion factors against those of the Python library `pint`.
//!
//! Source: `data/pint_*.csv`, written by `cargo xtask references`; each names the version.

use linkwright_calc::quantity::{
    G_PER_AVOIRDUPOIS_OUNCE, G_PER_GRAIN, G_PER_PENNYWEIGHT, G_PER_POUND, G_PER_TROY_OUNCE, Length,
    MM_PER_INCH, Mass,
};

use crate::table::rows;

/// Both sides are exact by definition and differ by the rounding of a product or two.
const ROUNDING: f64 = 4.0 * f64::EPSILON;

fn factor(unit: &str) -> f64 {
    rows(include_str!("data/pint_units.csv"))
        .iter()
        .find(|row| row.text("unit") == unit)
        .unwrap_or_else(|| panic!("no {unit}"))
        .number("factor")
}

#[test]
fn each_factor_is_that_of_the_library() {
    for (unit, ours) in [
        ("inch", MM_PER_INCH),
        ("thou", MM_PER_INCH / 1000.0),
        ("foot", 12.0 * MM_PER_INCH),
        ("yard", 36.0 * MM_PER_INCH),
        ("grain", G_PER_GRAIN),
        ("pennyweight", G_PER_PENNYWEIGHT),
        ("troy ounce", G_PER_TROY_OUNCE),
        ("avoirdupois ounce", G_PER_AVOIRDUPOIS_OUNCE),
        ("avoirdupois pound", G_PER_POUND),
        ("foot per minute", 12.0 * MM_PER_INCH / 1000.0),
        ("pound per cubic inch", G_PER_POUND / (MM_PER_INCH / 10.0).powi(3)),
    ] {
        let off = ours / factor(unit) - 1.0;
        assert!(off.abs() <= ROUNDING, "{unit}: off by {off:e}");
    }
}

#[test]
fn readers_divide_by_the_same_factors() {
    let near = |ours: f64, theirs: f64| (ours / theirs - 1.0).abs() <= ROUNDING;
    assert!(near(Length::from_mm(1.0).inches(), 1.0 / factor("inch")));
    assert!(near(Mass::from_g(1.0).troy_ounces(), 1.0 / factor("troy ounce")));
    assert!(near(Mass::from_g(1.0).pennyweights(), 1.0 / factor("pennyweight")));
    assert!(near(Mass::from_g(1.0).avoirdupois_pounds(), 1.0 / factor("avoirdupois pound")));
}
