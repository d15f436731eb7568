//! The table of metals against its own published ties: strength coefficients and flow stresses.
//!
//! Source: `K = UTS (e/n)^n` (Considere, from memory); bending of a power-law wire without elastic
//! core, `s_eq = 1.5 B((n+2)/2, 3/2) K e^n` at `e = 0.2` (own derivation, with printed factors).

use linkwright_calc::metal::{Catalogue, Hardness};
use statrs::function::beta::beta;

/// (n, 1.5 B((n+2)/2, 3/2) as printed to 0.001).
const FACTORS: [(f64, f64); 5] =
    [(0.1, 0.939), (0.2, 0.885), (0.3, 0.835), (0.4, 0.790), (0.5, 0.749)];

fn factor(n: f64) -> f64 {
    1.5 * beta((n + 2.0) / 2.0, 1.5)
}

#[test]
fn the_bending_factor_is_as_printed() {
    for (n, printed) in FACTORS {
        assert!((factor(n) - printed).abs() <= 0.0005, "n {n}: {}", factor(n));
    }
}

#[test]
fn annealed_flow_stress_follows_from_coefficient_and_exponent() {
    let metals = Catalogue::built_in();
    for metal in metals.metals() {
        for temper in metal.tempers() {
            let (Some(k), Some(n)) = (temper.strength_coefficient(), temper.hardening_exponent())
            else {
                continue;
            };
            let n = n.typical();
            let flow_mpa = temper.flow_stress().unwrap().typical().mpa();
            let worked_mpa = factor(n) * k.typical().mpa() * 0.2_f64.powf(n);
            // Printed in whole MPa, from a K printed in whole MPa.
            assert!((flow_mpa - worked_mpa).abs() <= 1.0, "{}: {worked_mpa}", metal.key());
        }
    }
}

#[test]
fn drawn_metal_bends_near_its_tensile_strength() {
    let metals = Catalogue::built_in();
    for metal in metals.metals() {
        for temper in metal.tempers().iter().filter(|t| t.hardness() > Hardness::Annealed) {
            let (Some(flow), Some(tensile)) = (temper.flow_stress(), temper.tensile_strength())
            else {
                continue;
            };
            assert_eq!(flow.typical(), tensile.typical(), "{} {}", metal.key(), temper.name());
        }
    }
}

#[test]
fn a_harder_temper_of_one_product_is_stronger() {
    let metals = Catalogue::built_in();
    for metal in metals.metals() {
        for pair in metal.tempers().windows(2) {
            let [softer, harder] = pair else { continue };
            if softer.product() != harder.product() || softer.hardness() == harder.hardness() {
                continue;
            }
            let mpa = |t: &linkwright_calc::metal::Temper| t.flow_stress().unwrap().typical().mpa();
            assert!(mpa(softer) < mpa(harder), "{} {}", metal.key(), harder.name());
        }
    }
}
