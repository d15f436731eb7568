//! Turns lost at either end of a coil: negative binomial counts with a mean that follows wire, tape,
//! the rim at the stop and the operator.

use std::sync::Arc;

use crate::dense::{Factor, Symmetric, add_scaled, dot};
use crate::geometry::Features;
use crate::model::{Bell, EndPrior};
use crate::trial::{Cell, TrialRow};

/// Sizes of the negative binomial law that are weighed against each other.
const SIZES: [f64; 6] = [0.7, 1.5, 3.0, 6.0, 15.0, 60.0];
/// Newton steps at most, and the gain below which they stop.
const STEPS_MOST: usize = 30;
/// See [`STEPS_MOST`].
const CLOSE: f64 = 1e-6;
/// Furthest step of a weight: the exponential must not run away from a far start.
const STEP_MOST: f64 = 1.0;

/// Which end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    Entry,
    Stop,
}

/// What is believed of one end at one size of the law.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct EndPoint {
    pub size: f64,
    pub share: f64,
    pub weights: Vec<f64>,
    pub factor: Factor,
}

/// What is believed of the losses at one end.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct EndPosterior {
    end: End,
    prior: EndPrior,
    operators: Vec<Arc<str>>,
    pub points: Vec<EndPoint>,
}

/// Columns of one cell: level, wire, tape, rim at the stop, operators.
fn columns(end: End, cell: &Cell, features: &Features, operators: &[Arc<str>]) -> Vec<f64> {
    let mut row = vec![1.0, cell.parts().wire.diameter().mm().ln(), features.tape];
    if end == End::Stop {
        row.push(features.stop);
    }
    let operator = cell.parts().operator.as_ref();
    row.extend(operators.iter().map(|name| if operator == Some(name) { 1.0 } else { 0.0 }));
    row
}

fn bells(prior: &EndPrior, operators: usize) -> Vec<Bell> {
    let mut bells = vec![prior.level, prior.wire, prior.tape];
    bells.extend(prior.rim);
    bells.extend(vec![prior.operator; operators]);
    bells
}

impl EndPosterior {
    /// Every size fitted to the trials, from `start` if there is one.
    pub(crate) fn fit(
        end: End,
        rows: &[(&TrialRow, Features)],
        operators: &[Arc<str>],
        prior: &EndPrior,
        start: Option<&EndPosterior>,
    ) -> EndPosterior {
        let bells = bells(prior, operators.len());
        let mut table = Vec::with_capacity(rows.len() * bells.len());
        let mut lost = Vec::with_capacity(rows.len());
        for (row, features) in rows {
            table.extend(columns(end, row.cell(), features, operators));
            let counts = row.counts();
            lost.push(match end {
                End::Entry => counts.entry_lost,
                End::Stop => counts.stop_lost,
            });
        }
        let mut points: Vec<EndPoint> = SIZES
            .into_iter()
            .enumerate()
            .map(|(i, size)| {
                let mut weights: Vec<f64> = bells.iter().map(|bell| bell.mean).collect();
                if let Some(start) = start.and_then(|start| start.points.get(i)) {
                    // Operators are only ever added at the end.
                    let both = weights.len().min(start.weights.len());
                    weights[..both].copy_from_slice(&start.weights[..both]);
                }
                let mut point = fit_at(size, &table, &lost, &bells, weights);
                point.share += prior.ln_size.ln_at(size.ln());
                point
            })
            .collect();
        let largest = points.iter().map(|point| point.share).fold(f64::NEG_INFINITY, f64::max);
        let total: f64 = points.iter().map(|point| (point.share - largest).exp()).sum();
        for point in &mut points {
            point.share = (point.share - largest).exp() / total;
        }
        EndPosterior { end, prior: *prior, operators: operators.to_vec(), points }
    }

    /// Columns of one cell; `others` are operators the trials do not know, after those they do.
    pub(crate) fn row(&self, cell: &Cell, features: &Features, others: &[Arc<str>]) -> Vec<f64> {
        let operators: Vec<_> = self.operators.iter().chain(others).cloned().collect();
        columns(self.end, cell, features, &operators)
    }

    /// What is believed of an operator the trials do not know.
    pub(crate) fn unknown_operator(&self) -> Bell {
        self.prior.operator
    }
}

/// Most likely weights at one size; the share is the log evidence.
fn fit_at(size: f64, table: &[f64], lost: &[u32], bells: &[Bell], weights: Vec<f64>) -> EndPoint {
    let width = bells.len();
    let mut point = EndPoint { size, share: 0.0, weights, factor: Factor::empty() };
    let mut sum = Symmetric::zero(width);
    let mut step = vec![0.0; width];
    let precision: Vec<f64> = bells.iter().map(|bell| bell.sd.powi(-2)).collect();
    for _ in 0..STEPS_MOST {
        sum.clear();
        sum.add_diagonal(&precision);
        step.fill(0.0);
        let mut ln_posterior = 0.0;
        for (columns, lost) in table.chunks_exact(width).zip(lost) {
            let (lost, ln_mean) = (f64::from(*lost), dot(columns, &point.weights));
            let share = 1.0 / (1.0 + (ln_mean.exp()) / size);
            // lnNB less what depends on count and size alone: k ln(k/(k+mu)) + y ln(mu/(k+mu)).
            ln_posterior += size * share.ln() + lost * (ln_mean + share.ln() - size.ln());
            add_scaled(&mut step, lost - (size + lost) * (1.0 - share), columns);
            sum.add_outer(0, columns, (size + lost) * share * (1.0 - share));
        }
        for (i, bell) in bells.iter().enumerate() {
            ln_posterior += bell.ln_at(point.weights[i]);
            step[i] -= precision[i] * (point.weights[i] - bell.mean);
        }
        if sum.factor_into(&mut point.factor).is_none() {
            break;
        }
        let gradient = step.clone();
        point.factor.solve(&mut step);
        let gain = dot(&gradient, &step);
        let prior: f64 = precision.iter().map(|precision| precision.ln()).sum();
        point.share = ln_posterior + 0.5 * (gain + prior - point.factor.ln_determinant());
        let longest = step.iter().fold(0.0, |longest: f64, part| longest.max(part.abs()));
        add_scaled(&mut point.weights, (STEP_MOST / longest).min(1.0), &step);
        if gain < CLOSE {
            break;
        }
    }
    point.share += ln_counts(size, lost);
    point
}

/// `sum ln(Gamma(k + y)/(Gamma(k) y!))`, from how many counts exceed each number.
fn ln_counts(size: f64, lost: &[u32]) -> f64 {
    let mut exceed: Vec<f64> = Vec::new();
    for &count in lost {
        let count = usize::try_from(count).unwrap_or(usize::MAX);
        if exceed.len() < count {
            exceed.resize(count, 0.0);
        }
        for above in &mut exceed[..count] {
            *above += 1.0;
        }
    }
    let numbers = (0_u32..).map(f64::from);
    exceed.iter().zip(numbers).map(|(coils, j)| coils * ((size + j) / (j + 1.0)).ln()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_law_of_the_counts_sums_to_one() {
        let (size, mean) = (1.5_f64, 2.0_f64);
        let total: f64 = (0..200_u32)
            .map(|y| {
                let ln = ln_counts(size, &[y])
                    + size * (size / (size + mean)).ln()
                    + f64::from(y) * (mean / (size + mean)).ln();
                ln.exp()
            })
            .sum();
        assert!((total - 1.0).abs() < 1e-12, "{total}"); // the tail beyond 200 is below 1e-40
    }

    #[test]
    fn a_level_learned_from_many_coils_is_their_mean() {
        // 100 coils that lose 2 turns each: the mean goes to 2, the size to the largest.
        let table = vec![1.0; 100];
        let wide = [Bell { mean: 0.0, sd: 10.0 }];
        let fit = |size| fit_at(size, &table, &[2; 100], &wide, vec![0.0]);
        // The prior of sd 10 moves the level by less than 1e-3 / 100.
        assert!((fit(60.0).weights[0] - 2.0_f64.ln()).abs() < 1e-4);
        assert!(fit(60.0).share > fit(0.7).share);
    }
}
