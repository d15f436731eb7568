//! Log likelihood of one coil at one gate, its slope and its curvature.

use std::f64::consts::{PI, SQRT_2};

use super::hermite::NODES_7;
use super::lanes::{LANES, exp, ln_1p};
use crate::geometry::logistic;

/// Share of coils whose clamp goes wrong altogether, so that any yield is equally likely. Set with
/// the reference's simulated workshops; no real trial was available.
pub const WRITE_OFF_SHARE: f64 = 0.01;

/// Steps of the inner search at most, and the furthest it may go in one of them, in log odds.
const INNER_STEPS: usize = 8;
/// See [`INNER_STEPS`].
const INNER_STEP_MAX: f64 = 1.5;
/// The inner search ends with a step below this, in log odds: it is then within its square.
const INNER_CLOSE: f64 = 2e-3;
/// Curvature is never taken below this share of what the coil's scatter alone would leave.
const CURVATURE_FLOOR: f64 = 0.05;

/// Rings of one coil that came to a gate and passed it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilCount {
    passed: f64,
    came: f64,
    ln_choose: f64,
}

/// What one coil says about the log odds of a gate, at given log odds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilTerm {
    /// Log likelihood.
    pub ln_likelihood: f64,
    /// Its slope over the log odds.
    pub slope: f64,
    /// Less its curvature, never below nothing.
    pub curvature: f64,
    /// How far this coil's own log odds most likely lie from an ordinary coil's.
    pub shift: f64,
}

impl CoilCount {
    /// `passed` of `came` rings.
    pub fn new(passed: u32, came: u32) -> CoilCount {
        CoilCount {
            passed: f64::from(passed),
            came: f64::from(came),
            ln_choose: ln_choose(came, passed.min(came)),
        }
    }

    /// Whether no ring came to the gate, so that the coil says nothing.
    pub fn is_silent(self) -> bool {
        self.came < 0.5
    }
}

/// What one coil says about the log odds of a gate.
///
/// `y | eta ~ Binomial(m, L(eta + eps))`, `eps ~ N(0, sigma^2)` once per coil, integrated by seven
/// Gauss-Hermite nodes about the most likely `eps`, scaled by `sigma / sqrt(1 + sigma^2 m p (1-p))`.
/// Slope `E[y - m p]`; curvature `E[m p (1-p)] - Var[y - m p]`, floored. With a share of write-offs
/// `pi` the likelihood is `(1 - pi) L + pi/(m + 1)`, and slope and curvature are weighed by the
/// chance that the coil was none. `shift` is where the inner search starts.
///
/// # Units
/// Log odds and natural logarithms.
/// # Validity
/// `sigma > 0`.
/// # Source
/// Adaptive quadrature: Pinheiro & Bates 1995, from memory. `docs/theory/trials.md`, section 2.
pub fn coil_term(
    count: CoilCount,
    log_odds: f64,
    coil_scatter: f64,
    write_off_share: f64,
    shift: f64,
) -> CoilTerm {
    let CoilCount { passed, came, ln_choose } = count;
    let precision = 1.0 / (coil_scatter * coil_scatter);
    let mut shift = shift;
    let mut share = logistic(log_odds + shift);
    for _ in 0..INNER_STEPS {
        let slope = passed - came * share - precision * shift;
        let step = slope / (came * share * (1.0 - share) + precision);
        shift += step.clamp(-INNER_STEP_MAX, INNER_STEP_MAX);
        if step.abs() < INNER_CLOSE {
            // The spread needs the share to no more than this.
            share += share * (1.0 - share) * step;
            break;
        }
        share = logistic(log_odds + shift);
    }
    let spread = 1.0 / (came * share * (1.0 - share) + precision).sqrt();

    // Logarithm of the integrand at each node, then sums relative to the largest. The eighth lane
    // is idle: it stands at the middle and has no weight.
    let mut odds = [log_odds + shift; LANES];
    let mut ln_terms = [f64::NEG_INFINITY; LANES];
    for (i, (x, _)) in NODES_7.into_iter().enumerate() {
        let own = shift + SQRT_2 * spread * x;
        odds[i] = log_odds + own;
        ln_terms[i] = x * x - 0.5 * precision * own * own - (came - passed) * odds[i];
    }
    let below = exp(odds.map(|odds| -odds.abs()));
    let ln_above = ln_1p(below);
    let mut shares = [0.0; LANES];
    for i in 0..LANES {
        let top = if odds[i] >= 0.0 { 1.0 } else { below[i] };
        shares[i] = top / (1.0 + below[i]);
        ln_terms[i] += came * (odds[i].min(0.0) - ln_above[i]);
    }
    let largest = ln_terms.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let weights = exp(ln_terms.map(|ln_term| ln_term - largest));
    let (mut total, mut first, mut second, mut binomial) = (0.0, 0.0, 0.0, 0.0);
    for (i, (_, w)) in NODES_7.into_iter().enumerate() {
        let weight = w * weights[i];
        let residual = passed - came * shares[i];
        total += weight;
        first += weight * residual;
        second += weight * residual * residual;
        binomial += weight * came * shares[i] * (1.0 - shares[i]);
    }
    let ln_likelihood = ln_choose + largest + (total * spread / (PI.sqrt() * coil_scatter)).ln();
    let slope = first / total;
    let binomial = binomial / total;
    let least = CURVATURE_FLOOR * binomial / (1.0 + coil_scatter * coil_scatter * binomial);
    let curvature = (binomial - (second / total - slope * slope)).max(least);
    if write_off_share <= 0.0 {
        return CoilTerm { ln_likelihood, slope, curvature, shift };
    }
    let ordinary = (1.0 - write_off_share) * ln_likelihood.exp();
    let either = ordinary + write_off_share / (came + 1.0);
    let chance = ordinary / either;
    CoilTerm {
        ln_likelihood: either.ln(),
        slope: chance * slope,
        curvature: chance * curvature,
        shift,
    }
}

/// Logarithm of the number of ways to choose `k` of `n`.
fn ln_choose(n: u32, k: u32) -> f64 {
    (0..k.min(n - k)).map(|i| (f64::from(n - i) / f64::from(i + 1)).ln()).sum()
}
