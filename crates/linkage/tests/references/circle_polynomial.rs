//! Source: the degree-8 polynomial, derived in `docs/theory/chain.md`, section 2; no other text.
//!
//! Circle distance against the roots of its degree-8 polynomial.
//!
//! `F' = 0` reads `W' = R2 S'/sqrt(S)`, with `W = |w|^2` and `S = W - h^2`. Squared, `W'^2 S - R2^2 S'^2`
//! is a trigonometric polynomial of degree 4, that is a polynomial of degree 8 in `z = e^(it)`. Its
//! coefficients are read off by a discrete Fourier sum, its roots found all at once by the
//! Weierstrass (Durand-Kerner) iteration. None of this is used by the crate.

use std::f64::consts::TAU;

use linkwright_linkage::circle::{Circle, distance};
use linkwright_linkage::vector::Vec3;

type Complex = (f64, f64);

fn mul(a: Complex, b: Complex) -> Complex {
    (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
}

fn div(a: Complex, b: Complex) -> Complex {
    let n = b.0 * b.0 + b.1 * b.1;
    ((a.0 * b.0 + a.1 * b.1) / n, (a.1 * b.0 - a.0 * b.1) / n)
}

/// Distance from the point at angle `t` of the first circle to the second, straight from coordinates.
fn point_distance(first: Circle, second: Circle, t: f64) -> f64 {
    let [e1, e2] = first.normal.frame();
    let point = first.centre + (e1 * t.cos() + e2 * t.sin()) * first.radius;
    let w = point - second.centre;
    let h = w.dot(second.normal);
    let rho = (w - second.normal * h).norm();
    h.hypot(rho - second.radius)
}

fn by_roots(first: Circle, second: Circle) -> f64 {
    let [e1, e2] = first.normal.frame();
    let value = |t: f64| {
        let point = first.centre + (e1 * t.cos() + e2 * t.sin()) * first.radius - second.centre;
        let along = (e2 * t.cos() - e1 * t.sin()) * first.radius;
        let (h, h1) = (point.dot(second.normal), along.dot(second.normal));
        let (w, w1) = (point.dot(point), 2.0 * point.dot(along));
        let (s, s1) = (w - h * h, w1 - 2.0 * h * h1);
        w1 * w1 * s - second.radius * second.radius * s1 * s1
    };
    let n = 16;
    let coefficient = |k: i32| {
        let sum = (0..n).fold((0.0, 0.0), |sum: Complex, m| {
            let t = TAU * f64::from(m) / f64::from(n);
            let angle = -f64::from(k) * t;
            (sum.0 + value(t) * angle.cos(), sum.1 + value(t) * angle.sin())
        });
        (sum.0 / f64::from(n), sum.1 / f64::from(n))
    };
    let coefficients: Vec<Complex> = (-4..=4).map(coefficient).collect();
    let monic: Vec<Complex> = coefficients.iter().map(|&c| div(c, coefficients[8])).collect();
    let mut roots: Vec<Complex> = (0..8)
        .map(|k| {
            let angle = 0.4 + TAU * f64::from(k) / 8.0;
            (1.1 * angle.cos(), 1.1 * angle.sin())
        })
        .collect();
    for _ in 0..400 {
        for i in 0..8 {
            let z = roots[i];
            let p = monic.iter().rev().fold((0.0, 0.0), |sum, &c| {
                let grown = mul(sum, z);
                (grown.0 + c.0, grown.1 + c.1)
            });
            let others = (0..8).filter(|&j| j != i);
            let q = others
                .fold((1.0, 0.0), |product, j| mul(product, (z.0 - roots[j].0, z.1 - roots[j].1)));
            let step = div(p, q);
            roots[i] = (z.0 - step.0, z.1 - step.1);
        }
    }
    // Every stationary angle is the argument of a root; other roots only give larger distances.
    roots
        .iter()
        .map(|z| point_distance(first, second, z.1.atan2(z.0)))
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn two_thousand_random_pairs_agree_with_the_polynomial_roots() {
    // A fixed arithmetic sequence in place of random numbers: golden-ratio steps fill the ranges evenly.
    let mut state = 0.0_f64;
    let mut next = |low: f64, high: f64| {
        state = (state + 0.618_033_988_749_895 + state * 1e-3).fract();
        low + (high - low) * state
    };
    let mut worst = 0.0_f64;
    let mut pairs = 0;
    while pairs < 2000 {
        let mut circle = |spread: f64| {
            let mut three = |s: f64| Vec3::new(next(-s, s), next(-s, s), next(-s, s));
            let (centre, normal) = (three(spread), three(1.0));
            Circle { centre, normal: normal.unit().expect("not zero"), radius: next(0.3, 2.0) }
        };
        let (first, second) = (circle(2.0), circle(2.0));
        worst = worst.max((distance(first, second) - by_roots(first, second)).abs());
        pairs += 1;
    }
    // The roots carry rounding of coefficients near 1e2: the reference states 4e-11 over 2000 pairs.
    assert!(worst < 1e-9, "worst {worst:e}");
}
