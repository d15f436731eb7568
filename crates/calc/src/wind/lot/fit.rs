//! What the measured rings of a lot say of its flow-stress ratio.

use super::prior::{LotPrior, WireState, Z_80};
use super::share::Bend;
use super::trial::RingTrial;
use crate::basis::{Answer, Basis, Caution, Input};
use crate::wind::root::rising_root;

/// Scatter of rings of one coil, over `ID + d`, before any is read: a hundredth of a millimetre on
/// a ring of 4 mm. It counts as much as two readings. Own choice.
const RING_SCATTER: (f64, f64) = (0.002, 2.0);

/// Coil-to-coil standard deviation of `ln q`, each with the belief in it: pull, speed and wire vary
/// by a few per cent. Own choice; the readings shift the weights.
const COIL_SCATTER: [(f64, f64); 5] =
    [(0.01, 0.20), (0.02, 0.30), (0.04, 0.30), (0.08, 0.15), (0.16, 0.05)];

/// A coil this many standard deviations off what the others say is pointed out.
const DISAGREEMENT: f64 = 2.5;

/// Fewer trials than this are few.
pub(super) const FEW: u32 = 3;

/// A wire lot in one state, learned from its trials.
#[derive(Clone, Debug, PartialEq)]
pub struct LotFit {
    pub(super) state: WireState,
    pub(super) prior_basis: Basis,
    pub(super) parts: Vec<Part>,
    /// Ring-to-ring standard deviation over `ID + d`.
    pub(super) ring_scatter: f64,
    pub(super) tried: Vec<Bend>,
    pub(super) last: Option<String>,
    disagreement: Option<f64>,
}

/// Belief given one size of the coil-to-coil scatter: a normal distribution of `ln q` at the
/// reference strain and of the exponent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Part {
    weight: f64,
    mean: [f64; 2],
    /// Variance of `ln q`, covariance, variance of the exponent.
    covariance: [f64; 3],
    coil_sd: f64,
}

/// A likely value with the range that holds it in four cases of five.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Likely {
    /// Low end of the 80 % range.
    pub low: f64,
    /// Most likely value.
    pub typical: f64,
    /// High end of the 80 % range.
    pub high: f64,
}

/// One coil, reduced: what was seen and how sharply.
struct Seen {
    bend: Bend,
    share: f64,
    /// Variance of the share from reading and ring-to-ring scatter.
    variance: f64,
}

impl LotFit {
    /// Learns a lot from any number of trials, none included, on any mandrels.
    ///
    /// Each coil is reduced to its springback share `A = (3 pi/16)(1 - (D+d)/(ID+d))`, which the
    /// model puts at `A(u) = [3 asin u + u sqrt(1-u^2)(5 - 2u^2)]/8` with `u = q_e/e` and
    /// `ln q_e = ln q + n ln(e/0.20) + coil`, `e` the outer strain. Beliefs in `ln q` and `n` are
    /// normal, combined with the coils by Newton steps on their joint probability, once for each
    /// of five sizes of the coil-to-coil scatter, which are then weighed by how well they explain
    /// the coils. The scatter within coils is pooled; rounding of a reading does not average out.
    ///
    /// # Units
    /// Plain numbers; the fit does not change if all lengths are multiplied alike.
    /// # Validity
    /// Trials of one lot in one state; a coil of another state makes the fit wide and is pointed
    /// out by [`LotFit::disagreement`].
    /// # Source
    /// Laplace's approximation with a few sizes of scatter (textbook, from memory); own derivation,
    /// `docs/theory/springback-from-trials.md`.
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::wind::{LotFit, LotPrior, Mandrel, RingTrial, WireState};
    /// use linkwright_calc::wire::Wire;
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// let wire = Wire::new(Length::from_mm(0.81)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(3.0)).unwrap();
    /// let read = [3.16, 3.17, 3.18].map(Length::from_mm);
    /// let trial = RingTrial::new(wire, mandrel, &read, Length::from_mm(0.01)).unwrap();
    /// let ratio = LotFit::new(&prior, &[trial]).flow_ratio().value;
    /// assert!((ratio.typical - 0.00535).abs() < 0.0001);
    /// assert!(ratio.high - ratio.low < 0.0009); // before the trial: 0.0025
    /// ```
    pub fn new(prior: &LotPrior, trials: &[RingTrial]) -> LotFit {
        let ring_scatter = ring_scatter(trials);
        let mut seen: Vec<Seen> = trials.iter().map(|trial| see(trial, ring_scatter)).collect();
        // A fixed order, so that the last digits do not depend on the order of the trials.
        seen.sort_by(|a, b| {
            a.bend.mean_mm.total_cmp(&b.bend.mean_mm).then(a.share.total_cmp(&b.share))
        });
        let fits = COIL_SCATTER.map(|(coil_sd, belief)| {
            let (part, log_evidence) = fit(prior, &seen, coil_sd);
            (part, belief.ln() + log_evidence)
        });
        let best = fits.iter().map(|fit| fit.1).fold(f64::NEG_INFINITY, f64::max);
        let total: f64 = fits.iter().map(|fit| (fit.1 - best).exp()).sum();
        let parts: Vec<Part> = fits
            .iter()
            .map(|&(part, log)| Part { weight: (log - best).exp() / total, ..part })
            .collect();
        let disagreement = (seen.len() > 1).then(|| worst(&seen, &parts));
        LotFit {
            state: prior.state,
            prior_basis: prior.basis.clone(),
            parts,
            ring_scatter,
            tried: seen.iter().map(|seen| seen.bend).collect(),
            last: trials.iter().filter_map(RingTrial::tried_on).max().map(str::to_owned),
            disagreement,
        }
    }

    /// Whether this is the wire as bought or softened at the bench.
    pub const fn state(&self) -> WireState {
        self.state
    }

    /// How many coils were measured.
    ///
    /// # Units
    /// A count.
    /// # Validity
    /// Always.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::wind::{LotFit, LotPrior, WireState};
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// assert_eq!(LotFit::new(&prior, &[]).trials(), 0);
    /// ```
    pub fn trials(&self) -> u32 {
        u32::try_from(self.tried.len()).unwrap_or(u32::MAX)
    }

    /// Flow stress over Young's modulus of the lot at 20 % outer strain, with its 80 % range.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// Of the lot on average; a coil scatters about it.
    /// # Source
    /// As [`LotFit::new`].
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::wind::{LotFit, LotPrior, WireState};
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// assert_eq!(LotFit::new(&prior, &[]).flow_ratio().basis.word(), "assumed");
    /// ```
    pub fn flow_ratio(&self) -> Answer<Likely> {
        let mean: f64 = self.parts.iter().map(|part| part.weight * part.mean[0]).sum();
        let quantile = |level| {
            quantile(
                level,
                &|x| {
                    self.parts
                        .iter()
                        .map(|part| (part.weight, (x - part.mean[0]) / part.covariance[0].sqrt()))
                        .collect()
                },
                mean,
            )
        };
        Answer {
            value: Likely {
                low: quantile(0.1).exp(),
                typical: mean.exp(),
                high: quantile(0.9).exp(),
            },
            basis: self.basis(),
            cautions: self.cautions(),
        }
    }

    /// Exponent by which the flow stress follows the outer strain, with its 80 % range: what
    /// carries a ring from one mandrel to another.
    ///
    /// # Units
    /// A plain number; nothing for a metal that does not harden.
    /// # Validity
    /// Readings on one mandrel say nothing of it and leave the metal's own.
    /// # Source
    /// As [`LotFit::new`].
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::wind::{LotFit, LotPrior, WireState};
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// assert!((LotFit::new(&prior, &[]).transfer_exponent().typical - 0.05).abs() < 1e-12);
    /// ```
    pub fn transfer_exponent(&self) -> Likely {
        let mean: f64 = self.parts.iter().map(|part| part.weight * part.mean[1]).sum();
        let variance: f64 = self
            .parts
            .iter()
            .map(|part| part.weight * (part.covariance[2] + (part.mean[1] - mean).powi(2)))
            .sum();
        let half = Z_80 * variance.sqrt();
        Likely { low: mean - half, typical: mean, high: mean + half }
    }

    /// How far the oddest coil lies from what all say together, in its standard deviations; none
    /// with fewer than two coils.
    ///
    /// Above 2.5 the coils are not of one lot and state, or a mandrel or reading is wrong.
    pub const fn disagreement(&self) -> Option<f64> {
        self.disagreement
    }

    /// What the lot rests on: its coils, or the metal's table.
    pub(super) fn basis(&self) -> Basis {
        if self.tried.is_empty() {
            self.prior_basis.clone()
        } else {
            Basis::Tried { trials: self.trials(), last: self.last.clone() }
        }
    }

    /// The lot's ratio as an input of a sum.
    pub(super) fn as_input(&self) -> Input {
        let mean: f64 = self.parts.iter().map(|part| part.weight * part.mean[0]).sum();
        Input::new("flow stress over Young's modulus", mean.exp(), "-", self.basis())
    }

    /// Cautions that hold for every use of the lot.
    pub(super) fn cautions(&self) -> Vec<Caution> {
        let mut cautions = Vec::new();
        if let Some(off) = self.disagreement.filter(|&off| off > DISAGREEMENT) {
            cautions.push(Caution::Note(format!(
                "one coil lies {off:.1} standard deviations from the others: check its mandrel, \
                 its readings and whether it was annealed"
            )));
        }
        if !self.tried.is_empty() && self.trials() < FEW {
            cautions.push(Caution::FewTrials { trials: self.trials() });
        }
        cautions
    }
}

impl Part {
    /// Weight, mean and variance of `ln q_e` of a coil yet to be wound.
    pub(super) fn next_coil(&self, bend: Bend) -> (f64, f64, f64) {
        let x = bend.log_strain();
        let [var_q, cov, var_n] = self.covariance;
        let variance = var_q + x * (2.0 * cov + x * var_n) + self.coil_sd.powi(2);
        (self.weight, self.mean[0] + x * self.mean[1], variance)
    }
}

/// Ring-to-ring standard deviation over `ID + d`, all coils together with the belief before them.
fn ring_scatter(trials: &[RingTrial]) -> f64 {
    let (usual, worth) = RING_SCATTER;
    let mut squares: Vec<f64> = trials.iter().map(RingTrial::relative_scatter).collect();
    squares.sort_by(f64::total_cmp);
    #[expect(clippy::cast_precision_loss, reason = "a count of readings at a bench")]
    let freedom = trials.iter().map(|trial| trial.readings() - 1).sum::<usize>() as f64;
    ((worth * usual * usual + squares.iter().sum::<f64>()) / (worth + freedom)).sqrt()
}

fn see(trial: &RingTrial, ring_scatter: f64) -> Seen {
    let bend = trial.bend();
    let inside_mm = trial.mean().mm();
    let ring_mm = ring_scatter * (inside_mm + bend.d_mm);
    #[expect(clippy::cast_precision_loss, reason = "a count of readings at a bench")]
    let count = trial.readings() as f64;
    // Equal readings of a coarse scale share their rounding, a twelfth of the step squared.
    let variance_mm2 = ring_mm * ring_mm / count + trial.resolution_mm().powi(2) / 12.0;
    Seen {
        bend,
        share: bend.share_of(inside_mm),
        variance: bend.share_slope(inside_mm).powi(2) * variance_mm2,
    }
}

/// Most probable `ln q` and exponent for one size of coil scatter, with the spread about them and
/// the logarithm of how well they explain the coils.
fn fit(prior: &LotPrior, seen: &[Seen], coil_sd: f64) -> (Part, f64) {
    let centre = [prior.log_ratio.0, prior.exponent.0];
    let stiff = [prior.log_ratio.1.powi(-2), prior.exponent.1.powi(-2)];
    let away = |p: [f64; 2]| -> f64 {
        (0..2).map(|i| stiff[i] * (p[i] - centre[i]).powi(2)).sum::<f64>() / 2.0
    };
    let at = |p: [f64; 2], coil: &Seen| {
        let (share, slope) = coil.bend.share_at(p[0] + p[1] * coil.bend.log_strain());
        let variance = coil.variance + (coil_sd * slope).powi(2);
        (coil.share - share, slope, variance)
    };

    // A coil that was measured took a set: begin where all of them do.
    let mut p = centre;
    for coil in seen {
        let most = (0.9 * coil.bend.strain()).ln() - p[1] * coil.bend.log_strain();
        p[0] = p[0].min(most);
    }
    let mut hessian = [stiff[0], 0.0, stiff[1]];
    for _ in 0..60 {
        let mut gradient = [stiff[0] * (centre[0] - p[0]), stiff[1] * (centre[1] - p[1])];
        hessian = [stiff[0], 0.0, stiff[1]];
        let mut cost = away(p);
        let mut weights = Vec::with_capacity(seen.len());
        for coil in seen {
            let (off, slope, variance) = at(p, coil);
            let x = coil.bend.log_strain();
            let pull = slope * off / variance;
            gradient = [gradient[0] + pull, gradient[1] + pull * x];
            let grip = slope * slope / variance;
            hessian = [hessian[0] + grip, hessian[1] + grip * x, hessian[2] + grip * x * x];
            cost += off * off / (2.0 * variance);
            weights.push(variance);
        }
        let [a, b, c] = invert(hessian);
        let step = [a * gradient[0] + b * gradient[1], b * gradient[0] + c * gradient[1]];
        let cost_at = |p: [f64; 2]| {
            away(p)
                + seen
                    .iter()
                    .zip(&weights)
                    .map(|(coil, variance)| at(p, coil).0.powi(2) / (2.0 * variance))
                    .sum::<f64>()
        };
        // Half the step until it does not lose; a step of rounding size ends the search.
        let mut part = 1.0;
        let next = loop {
            let next = [p[0] + part * step[0], p[1] + part * step[1]];
            if cost_at(next) <= cost || part < 1e-6 {
                break next;
            }
            part /= 2.0;
        };
        p = next;
        if step[0].abs() + step[1].abs() < 1e-12 {
            break;
        }
    }
    let covariance = invert(hessian);
    let explained: f64 = seen
        .iter()
        .map(|coil| {
            let (off, _, variance) = at(p, coil);
            -(off * off / variance + variance.ln()) / 2.0
        })
        .sum();
    let room =
        (hessian[0] * hessian[2] - hessian[1] * hessian[1]).ln() - (stiff[0] * stiff[1]).ln();
    (Part { weight: 1.0, mean: p, covariance, coil_sd }, explained - away(p) - room / 2.0)
}

/// Inverse of the symmetric matrix `[a b; b c]`, in the same three numbers.
fn invert([a, b, c]: [f64; 3]) -> [f64; 3] {
    let determinant = a * c - b * b;
    [c / determinant, -b / determinant, a / determinant]
}

/// Largest distance of a coil from the fit in its own standard deviations, averaged over parts.
fn worst(seen: &[Seen], parts: &[Part]) -> f64 {
    seen.iter()
        .map(|coil| {
            parts
                .iter()
                .map(|part| {
                    let x = coil.bend.log_strain();
                    let (share, slope) = coil.bend.share_at(part.mean[0] + part.mean[1] * x);
                    let variance = coil.variance + (part.coil_sd * slope).powi(2);
                    part.weight * (coil.share - share).abs() / variance.sqrt()
                })
                .sum::<f64>()
        })
        .fold(0.0, f64::max)
}

/// Quantile of a mixture of normal distributions, given weights and standardised distances at `x`.
pub(super) fn quantile(level: f64, distances: &dyn Fn(f64) -> Vec<(f64, f64)>, start: f64) -> f64 {
    let chance = |x: f64| -> f64 {
        distances(x).into_iter().map(|(weight, z)| weight * normal_below(z)).sum()
    };
    // Thirty in the logarithm is a factor beyond any metal either way.
    rising_root(start - 30.0, start + 30.0, |x| chance(x) - level)
}

/// Chance that a standard normal value lies below `z`.
pub(super) fn normal_below(z: f64) -> f64 {
    statrs::function::erf::erfc(-z / std::f64::consts::SQRT_2) / 2.0
}
