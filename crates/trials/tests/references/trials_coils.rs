//! Log likelihood of one coil, and the long-run share, as printed and by brute force.
//! Source: the project's reference on the statistics of the trials (`trials.md`), section 10,
//! computed there with an independent program; brute force is a fine trapezium sum here.

use std::f64::consts::PI;

use linkwright_trials::{
    CoilCount, WRITE_OFF_SHARE, coil_term, share_passing, share_passing_twice,
};

/// (passed, came, log odds, scatter, exact, seven nodes, exact slope), as printed.
const PRINTED: [(u32, u32, f64, f64, f64, f64, f64); 5] = [
    (27, 30, 2.0, 0.7, -1.904_354_388_65, -1.904_350_729_0, 0.325_722_701),
    (30, 30, 3.0, 0.5, -1.384_277_962_46, -1.384_278_007_7, 1.170_657_6),
    (3, 30, 2.0, 0.5, -20.302_214_728_6, -20.302_214_770_7, -9.420_228_95),
    (15, 20, 0.0, 1.0, -2.888_253_967_03, -2.888_259_414_8, 0.909_198_775),
    (1, 1, 0.5, 1.0, -0.507_452_763_565, -0.507_454_681_9, 0.330_527_351),
];

/// Log likelihood by 40 000 steps over twenty standard deviations to either side.
fn brute_force(passed: u32, came: u32, log_odds: f64, scatter: f64) -> f64 {
    let steps = 40_000;
    let choose: f64 = (0..passed).map(|i| f64::from(came - i) / f64::from(i + 1)).product();
    let width = 40.0 * scatter / f64::from(steps);
    let sum: f64 = (0..=steps)
        .map(|i| {
            let own = -20.0 * scatter + f64::from(i) * width;
            let share = 1.0 / (1.0 + (-log_odds - own).exp());
            share.powf(f64::from(passed))
                * (1.0 - share).powf(f64::from(came - passed))
                * (-0.5 * (own / scatter).powi(2)).exp()
        })
        .sum();
    (choose * sum * width / (scatter * (2.0 * PI).sqrt())).ln()
}

#[test]
fn the_printed_coils_agree_with_seven_nodes() {
    for (passed, came, log_odds, scatter, exact, seven, slope) in PRINTED {
        let term = coil_term(CoilCount::new(passed, came), log_odds, scatter, 0.0, 0.0);
        // Ten digits are printed; the centre of the rule is searched to 1e-5, which moves them less.
        let off = term.ln_likelihood - seven;
        assert!(off.abs() < 2e-10, "{passed}/{came}: {off:e}");
        let off = brute_force(passed, came, log_odds, scatter) - exact;
        assert!(off.abs() < 1e-10, "brute force {passed}/{came}: {off:e}");
        // The reference's own rule is off by up to 6e-6 in the likelihood; its slope by 1e-4.
        let off = term.slope - slope;
        assert!(off.abs() < 1e-4 * slope.abs().max(1.0), "slope {passed}/{came}: {off:e}");
    }
}

#[test]
fn seven_nodes_agree_with_brute_force_over_a_range_of_coils() {
    for came in [1_u32, 5, 30, 80] {
        for passed in [0, came / 3, came - came / 10, came] {
            for log_odds in [-3.0, 0.0, 2.5, 6.0] {
                for scatter in [0.2, 0.5, 1.0] {
                    let count = CoilCount::new(passed, came);
                    let term = coil_term(count, log_odds, scatter, 0.0, 0.0);
                    let off = term.ln_likelihood - brute_force(passed, came, log_odds, scatter);
                    // Seven nodes about the mode: worst for wide scatter and one-sided counts.
                    assert!(off.abs() < 2e-4, "{passed}/{came} {log_odds} {scatter}: {off:e}");
                }
            }
        }
    }
}

#[test]
fn slope_and_curvature_are_derivatives_of_the_log_likelihood() {
    for (passed, came, log_odds, scatter) in
        [(27, 30, 2.0, 0.5), (18, 20, 1.0, 0.8), (9, 9, 3.0, 0.3)]
    {
        let count = CoilCount::new(passed, came);
        let at = |log_odds| coil_term(count, log_odds, scatter, 0.0, 0.0);
        let step = 1e-3;
        let (below, here, above) = (at(log_odds - step), at(log_odds), at(log_odds + step));
        let slope = (above.ln_likelihood - below.ln_likelihood) / (2.0 * step);
        let curvature = -(above.slope - below.slope) / (2.0 * step);
        // The rule moves with the log odds, so its own error is differentiated too.
        assert!((here.slope - slope).abs() < 2e-3, "{} is not {slope}", here.slope);
        assert!((here.curvature - curvature).abs() < 2e-2, "{} is not {curvature}", here.curvature);
    }
}

#[test]
fn a_write_off_is_explained_by_its_own_share_and_pulls_no_more() {
    let count = CoilCount::new(3, 30);
    let plain = coil_term(count, 4.0, 0.5, 0.0, 0.0);
    let mixed = coil_term(count, 4.0, 0.5, WRITE_OFF_SHARE, 0.0);
    // (1 - pi) L + pi/(m + 1), where L is far below the second term.
    let exact = ((1.0 - 0.01) * plain.ln_likelihood.exp() + 0.01 / 31.0).ln();
    assert!((mixed.ln_likelihood - exact).abs() < 1e-12);
    assert!(mixed.slope.abs() < 1e-3 && plain.slope < -5.0);
}

#[test]
fn the_printed_long_run_shares_agree() {
    // (log odds, scatter, mean, second moment)
    for (log_odds, scatter, once, twice) in [
        (2.0, 1.0, 0.844_537_481_47, 0.728_779_497_853),
        (0.0, 1.0, 0.5, 0.293_379_035_858),
        (3.0, 0.5, 0.947_330_046_019, 0.898_100_277_165),
        (-1.0, 2.0, 0.352_273_561_474, 0.211_775_324_608),
    ] {
        // Nine nodes against the printed exact mean: 3e-5 at scatter 1, 3e-3 at scatter 2.
        let within = if scatter > 1.5 { 3e-3 } else { 3e-5 };
        assert!((share_passing(log_odds, scatter) - once).abs() < within);
        assert!((share_passing_twice(log_odds, scatter) - twice).abs() < within);
    }
}
