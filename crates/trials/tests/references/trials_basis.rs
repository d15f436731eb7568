//! The smooth basis as printed, and against the exact resemblance of two sizes.
//! Source: the project's reference on the statistics of the trials (`trials.md`), sections 4 and 10.

use linkwright_trials::{SMOOTH_TERMS, smooth_basis};

fn together(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (a, b) = (smooth_basis(a.0, a.1), smooth_basis(b.0, b.1));
    (0..SMOOTH_TERMS).map(|i| a[i] * b[i]).sum()
}

/// Squared exponential, length 0.5 in the logarithm of the wire and 0.6 in that of the mandrel.
fn resemblance(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (wire, mandrel) = ((a.0 / b.0).ln() / 0.5, (a.1 / b.1).ln() / 0.6);
    (-0.5 * (wire * wire + mandrel * mandrel)).exp()
}

#[test]
fn the_printed_basis_agrees() {
    let printed = [0.678_428, 0.052_033, -0.420_824, -0.051_269, 0.161_894, -0.094_590];
    for (ours, printed) in smooth_basis(1.0, 5.0).into_iter().zip(printed) {
        assert!((ours - printed).abs() < 0.6e-6, "{ours} is not {printed}"); // last digit printed
    }
    assert!((together((1.0, 5.0), (1.0, 5.0)) - 0.991_401).abs() < 0.6e-6);
}

#[test]
fn the_basis_gives_the_exact_resemblance_within_the_printed_error() {
    // Ten gauges by eighteen mandrels, evenly spaced in logarithms over the chart.
    let even = |low: f64, high: f64, i: u32, of: u32| {
        low * (high / low).powf(f64::from(i) / f64::from(of - 1))
    };
    let sizes: Vec<(f64, f64)> =
        (0..180).map(|i| (even(0.4, 2.1, i / 18, 10), even(2.0, 14.0, i % 18, 18))).collect();
    for &a in &sizes {
        assert!(together(a, a) >= 0.9635, "variance at {a:?}"); // .964 printed
        for &b in &sizes {
            let off = together(a, b) - resemblance(a, b);
            assert!(off.abs() < 0.0365, "{a:?} {b:?}: {off}"); // .036 printed
        }
    }
}
