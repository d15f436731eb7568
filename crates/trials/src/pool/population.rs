//! How workshops spread about a common mean, from their condensed trials.

use std::collections::BTreeMap;

use super::CondensedGate;
use crate::dense::{Factor, Symmetric};
use crate::fit::in_parallel;
use crate::model::{Bell, GatePrior, Prior, Term, TermPrior};
use crate::play::Gate;

/// Rounds of the search for mean and spread.
const ROUNDS: usize = 40;
/// Workshops' worth of belief that a weight spreads by [`SPREAD_OF_PRIOR`].
const SPREAD_BELIEF: f64 = 5.0;
/// Spread among workshops expected before any is seen, as a share of geometry's own uncertainty.
const SPREAD_OF_PRIOR: f64 = 0.6;
/// Uncertainty of the common mean of a term that stands for departure from geometry, in log odds.
const RESIDUAL_MEAN_SD: f64 = 0.3;
/// What a new workshop's own logarithms of scatter and departure may differ from the pool's by.
const SETTING_SD: f64 = 0.35;
/// Workshops in one job; fixed, so that sums do not depend on the number of threads.
const CHUNK: usize = 16;

/// One shared term among the workshops.
#[derive(Clone, Copy, Debug)]
struct Spread {
    /// Common mean and variance among workshops.
    mean: f64,
    variance: f64,
    /// What was believed of the mean.
    mean_before: Bell,
    /// Variance expected before any workshop is seen; nothing where it follows the departure.
    variance_before: Option<f64>,
    /// Workshops that have the term.
    workshops: f64,
}

/// Common mean and spread of every shared term of one gate.
pub(super) struct Population {
    gate: Gate,
    terms: BTreeMap<Term, usize>,
    spreads: Vec<Spread>,
    ln_scatter: f64,
    ln_departure: f64,
}

/// A workshop's numbers and where its terms stand in the population.
struct Placed<'a> {
    shop: &'a CondensedGate,
    places: Vec<usize>,
}

/// The portable prior of one gate.
pub(super) fn portable(gate: Gate, shops: &[&CondensedGate]) -> GatePrior {
    let mut population = Population::before(gate, shops);
    population.learn(shops);
    population.portable()
}

impl Population {
    /// What is believed before the workshops' weights are looked at, the settings already pooled.
    pub(super) fn before(gate: Gate, shops: &[&CondensedGate]) -> Population {
        let geometry = Prior::geometry();
        let mut counts: BTreeMap<Term, f64> = BTreeMap::new();
        for term in shops.iter().flat_map(|shop| shop.terms()) {
            *counts.entry(term.clone()).or_insert(0.0) += 1.0;
        }
        let before = &geometry.gates[gate.index()];
        let pooled = |of: fn(&CondensedGate) -> Bell, before: Bell| {
            let (mut sum, mut weight) = (before.mean / before.sd.powi(2), before.sd.powi(-2));
            for bell in shops.iter().map(|shop| of(shop)) {
                let precision = 1.0 / (bell.sd.powi(2) + SETTING_SD.powi(2));
                sum += precision * bell.mean;
                weight += precision;
            }
            sum / weight
        };
        let ln_scatter = pooled(|shop| shop.settings()[0], before.ln_scatter);
        let ln_departure = pooled(|shop| shop.settings()[1], before.ln_departure);
        let departure = ln_departure.exp();
        let mut terms = BTreeMap::new();
        let mut spreads = Vec::new();
        for (term, workshops) in counts {
            let Some(prior) = geometry.term(gate, &term) else { continue };
            let sd = prior.sd(departure);
            let (mean_sd, variance_before) = match prior {
                TermPrior::Fixed(bell) => (bell.sd, Some((SPREAD_OF_PRIOR * bell.sd).powi(2))),
                TermPrior::OfDeparture { .. } => (RESIDUAL_MEAN_SD, None),
            };
            terms.insert(term, spreads.len());
            spreads.push(Spread {
                mean: prior.mean(),
                variance: variance_before.unwrap_or(sd * sd),
                mean_before: Bell { mean: prior.mean(), sd: mean_sd },
                variance_before,
                workshops,
            });
        }
        Population { gate, terms, spreads, ln_scatter, ln_departure }
    }

    /// Forty rounds of: each workshop's weights given the population, the population given those.
    pub(super) fn learn(&mut self, shops: &[&CondensedGate]) {
        let placed: Vec<Placed<'_>> = shops
            .iter()
            .map(|shop| Placed {
                shop,
                places: shop.terms().iter().map(|term| self.terms[term]).collect(),
            })
            .collect();
        let chunks: Vec<&[Placed<'_>]> = placed.chunks(CHUNK).collect();
        for _ in 0..ROUNDS {
            let sums = in_parallel(&chunks, |chunk| self.moments(chunk));
            for (i, spread) in self.spreads.iter_mut().enumerate() {
                let [sum, square] =
                    sums.iter().fold([0.0; 2], |all, one| [all[0] + one[i][0], all[1] + one[i][1]]);
                spread.update(sum, square);
            }
        }
    }

    /// For each term the sum over workshops of its mean and of its mean square about the common mean
    /// as it was; both settle together.
    fn moments(&self, chunk: &[Placed<'_>]) -> Vec<[f64; 2]> {
        let mut sums = vec![[0.0; 2]; self.spreads.len()];
        let mut factor = Factor::empty();
        for Placed { shop, places } in chunk {
            let spreads: Vec<Spread> = places.iter().map(|place| self.spreads[*place]).collect();
            let Some(weights) = weights_of(shop, &spreads, &mut factor) else { continue };
            let variances = factor.inverse_diagonal();
            for (i, place) in places.iter().enumerate() {
                let off = weights[i] - spreads[i].mean;
                sums[*place][0] += weights[i];
                sums[*place][1] += off * off + variances[i];
            }
        }
        sums
    }

    /// The most likely shared weights of one workshop, given the population.
    pub(super) fn weights_of(&self, shop: &CondensedGate) -> BTreeMap<Term, f64> {
        let spreads: Vec<Spread> =
            shop.terms().iter().map(|term| self.spreads[self.terms[term]]).collect();
        let weights = weights_of(shop, &spreads, &mut Factor::empty()).unwrap_or_default();
        shop.terms().iter().cloned().zip(weights).collect()
    }

    /// What the population says about the next workshop.
    pub(super) fn portable(&self) -> GatePrior {
        let geometry = Prior::geometry();
        let learned = self.terms.iter().filter_map(|(term, place)| {
            let spread = &self.spreads[*place];
            let known = 1.0 / (spread.workshops / spread.variance + spread.mean_before.sd.powi(-2));
            let prior = match geometry.term(self.gate, term)? {
                TermPrior::Fixed(_) => TermPrior::Fixed(Bell {
                    mean: spread.mean,
                    sd: (spread.variance + known).sqrt(),
                }),
                TermPrior::OfDeparture { times, .. } => TermPrior::OfDeparture {
                    mean: spread.mean,
                    times: times * (1.0 + known / spread.variance).sqrt(),
                },
            };
            Some((term.clone(), prior))
        });
        GatePrior {
            ln_scatter: Bell { mean: self.ln_scatter, sd: SETTING_SD },
            ln_departure: Bell { mean: self.ln_departure, sd: SETTING_SD },
            learned: learned.collect(),
        }
    }

    /// Scatter and departure common to the workshops.
    pub(super) fn settings(&self) -> [f64; 2] {
        [self.ln_scatter.exp(), self.ln_departure.exp()]
    }

    /// The prior of one workshop's weights while the population is being learned.
    pub(super) fn current(&self, term: &Term) -> Option<TermPrior> {
        let spread = self.spreads.get(*self.terms.get(term)?)?;
        Some(TermPrior::Fixed(Bell { mean: spread.mean, sd: spread.variance.sqrt() }))
    }
}

impl Spread {
    fn update(&mut self, sum: f64, square: f64) {
        let before = self.mean_before.sd.powi(-2);
        let mean = (sum / self.variance + before * self.mean_before.mean)
            / (self.workshops / self.variance + before);
        self.mean = mean;
        if let Some(expected) = self.variance_before {
            self.variance = (square + SPREAD_BELIEF * expected) / (self.workshops + SPREAD_BELIEF);
        }
    }
}

/// `(H + 1/lambda)^-1 (r + mu/lambda)`, the factor left behind.
fn weights_of(shop: &CondensedGate, spreads: &[Spread], factor: &mut Factor) -> Option<Vec<f64>> {
    let mut table = Symmetric::zero(spreads.len());
    shop.add_to(&mut table);
    let precisions: Vec<f64> = spreads.iter().map(|spread| 1.0 / spread.variance).collect();
    table.add_diagonal(&precisions);
    table.factor_into(factor)?;
    let mut weights: Vec<f64> = shop
        .pull()
        .iter()
        .zip(spreads)
        .map(|(pull, spread)| pull + spread.mean / spread.variance)
        .collect();
    factor.solve(&mut weights);
    Some(weights)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A workshop that says of the intercept alone that it is `weight`, with this much information.
    fn shop(weight: f64, information: f64) -> CondensedGate {
        let pull = vec![weight * information];
        let bells = [Bell { mean: 0.5_f64.ln(), sd: 0.1 }; 2];
        CondensedGate::new(Gate::Kept, vec![Term::Intercept], vec![information], pull, bells)
            .unwrap()
    }

    fn intercept(shops: &[CondensedGate]) -> TermPrior {
        portable(Gate::Kept, &shops.iter().collect::<Vec<_>>()).learned[&Term::Intercept]
    }

    #[test]
    fn workshops_that_know_their_weights_give_their_mean_and_spread() {
        // Two values 0.4 apart about 1, each known to 0.01: mean 1, spread 0.2.
        let shops: Vec<_> =
            (0..400).map(|i| shop(if i % 2 == 0 { 0.8 } else { 1.2 }, 1e4)).collect();
        let prior = intercept(&shops);
        // The belief before, N(2.5, 1.5^2) and spread 0.9 worth five workshops, still pulls a little:
        // variance (400 * 0.04 + 5 * 0.81) / 405 = 0.0495.
        assert!((prior.mean() - 1.0).abs() < 1e-3, "{prior:?}");
        assert!((prior.sd(0.5) - 0.0495_f64.sqrt()).abs() < 2e-3, "{prior:?}");
    }

    #[test]
    fn workshops_that_know_nothing_leave_the_prior_as_it_was() {
        let shops: Vec<_> = (0..50).map(|_| shop(0.0, 0.0)).collect();
        let prior = intercept(&shops);
        // Mean as before; spread among workshops 0.9, uncertainty of the mean
        // 1/(50/0.81 + 1/2.25): sd 0.909.
        assert!((prior.mean() - 2.5).abs() < 1e-9, "{prior:?}");
        assert!((prior.sd(0.5) - 0.909).abs() < 1e-3, "{prior:?}");
    }
}
