//! Germination of seeds, 21 plates: the published logit-normal fit.
//! Source: Crowder 1978, Applied Statistics 27:34-37, table 3, as copied in open data collections;
//! the maximum was computed for the project's reference (`trials.md`, section 10) with 41 nodes.

use linkwright_trials::{CoilCount, coil_term};

/// (germinated, seeds, seed is O. aegyptiaca 73, extract is cucumber), 1 for yes.
const PLATES: [(u32, u32, f64, f64); 21] = [
    (10, 39, 0.0, 0.0),
    (23, 62, 0.0, 0.0),
    (23, 81, 0.0, 0.0),
    (26, 51, 0.0, 0.0),
    (17, 39, 0.0, 0.0),
    (5, 6, 0.0, 1.0),
    (53, 74, 0.0, 1.0),
    (55, 72, 0.0, 1.0),
    (32, 51, 0.0, 1.0),
    (46, 79, 0.0, 1.0),
    (10, 13, 0.0, 1.0),
    (8, 16, 1.0, 0.0),
    (10, 30, 1.0, 0.0),
    (8, 28, 1.0, 0.0),
    (23, 45, 1.0, 0.0),
    (0, 4, 1.0, 0.0),
    (3, 12, 1.0, 1.0),
    (22, 41, 1.0, 1.0),
    (15, 30, 1.0, 1.0),
    (32, 51, 1.0, 1.0),
    (3, 7, 1.0, 1.0),
];
/// Constant, O. aegyptiaca 73, cucumber, both; then the scatter between plates.
const MOST_LIKELY: [f64; 4] = [-0.548_432, 0.096_989, 1.337_039, -0.810_456];
/// See [`MOST_LIKELY`].
const SCATTER: f64 = 0.236_242;

fn ln_likelihood(weights: [f64; 4], scatter: f64) -> f64 {
    let plate = |(germinated, seeds, seed_73, cucumber): (u32, u32, f64, f64)| {
        let [constant, of_seed, of_cucumber, of_both] = weights;
        let log_odds =
            constant + of_seed * seed_73 + of_cucumber * cucumber + of_both * seed_73 * cucumber;
        coil_term(CoilCount::new(germinated, seeds), log_odds, scatter, 0.0, 0.0).ln_likelihood
    };
    PLATES.into_iter().map(plate).sum()
}

#[test]
fn the_published_seeds_have_the_printed_log_likelihood() {
    // Printed to six decimals, the same for 41 and for seven nodes.
    let off = ln_likelihood(MOST_LIKELY, SCATTER) + 53.757_421;
    assert!(off.abs() < 1e-6, "{off:e}");
}

#[test]
fn the_printed_fit_of_the_seeds_is_the_most_likely_one() {
    let top = ln_likelihood(MOST_LIKELY, SCATTER);
    for i in 0..4 {
        for step in [-0.02, 0.02] {
            let mut weights = MOST_LIKELY;
            weights[i] += step;
            assert!(ln_likelihood(weights, SCATTER) < top, "weight {i} {step}");
        }
    }
    assert!(ln_likelihood(MOST_LIKELY, 0.22) < top && ln_likelihood(MOST_LIKELY, 0.25) < top);
}
