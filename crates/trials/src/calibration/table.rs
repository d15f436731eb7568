//! Scores of many workshops together, with how far chance may have moved them.

use super::scores::{Called, Scores, score};
use crate::fit::in_parallel;
use crate::number::real;
use crate::simulated::{SimulatedError, Workshop};

/// A mean over workshops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The mean.
    pub mean: f64,
    /// Its standard error: workshops differ from one another by chance.
    pub standard_error: f64,
}

/// Scores of many workshops after the same number of trials each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Trials of each workshop.
    pub trials: usize,
    /// Workshops.
    pub workshops: usize,
    /// See [`Scores`].
    pub covered_80: Figure,
    /// See [`Scores`].
    pub covered_80_printed: Figure,
    /// See [`Scores`].
    pub covered_95: Figure,
    /// See [`Scores`].
    pub width_80: Figure,
    /// See [`Scores`].
    pub rmse: Figure,
    /// See [`Scores`].
    pub brier: Figure,
    /// See [`Scores`].
    pub log_score: Figure,
    /// Cells of all workshops together.
    pub good: Called,
    /// The same.
    pub poor: Called,
    /// See [`Scores`].
    pub untried: Figure,
}

/// Scores of the workshops of the given seeds after `trials` each; `step` and `held_out` as for
/// [`score`].
///
/// # Errors
/// [`SimulatedError`] if a number of a workshop leaves the limits of the model.
pub fn calibrate(
    seeds: &[u64],
    trials: usize,
    step: usize,
    held_out: usize,
) -> Result<Row, SimulatedError> {
    let scores: Vec<Scores> =
        in_parallel(seeds, |seed| score(&Workshop::new(*seed)?, trials, step, held_out))
            .into_iter()
            .collect::<Result<_, _>>()?;
    let figure = |of: fn(&Scores) -> f64| Figure::of(scores.iter().map(of).collect());
    let together = |of: fn(&Scores) -> Called| {
        scores.iter().map(of).fold(Called::default(), |sum, called| Called {
            called: sum.called + called.called,
            right: sum.right + called.right,
        })
    };
    Ok(Row {
        trials,
        workshops: scores.len(),
        covered_80: figure(|scores| scores.covered_80),
        covered_80_printed: figure(|scores| scores.covered_80_printed),
        covered_95: figure(|scores| scores.covered_95),
        width_80: figure(|scores| scores.width_80),
        rmse: figure(|scores| scores.rmse),
        brier: figure(|scores| scores.brier),
        log_score: figure(|scores| scores.log_score),
        good: together(|scores| scores.good),
        poor: together(|scores| scores.poor),
        untried: figure(|scores| scores.untried),
    })
}

impl Figure {
    /// Mean and standard error of the values; the error of a single value is not known.
    pub(super) fn of(values: Vec<f64>) -> Figure {
        let n = real(values.len());
        let mean = values.iter().sum::<f64>() / n;
        let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
        Figure { mean, standard_error: (squares / (n * (n - 1.0))).sqrt() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_error_is_the_spread_over_the_root_of_the_count() {
        let figure = Figure::of(vec![1.0, 2.0, 3.0, 4.0]);
        assert!((figure.mean - 2.5).abs() < 1e-15);
        assert!((figure.standard_error - (5.0_f64 / 3.0 / 4.0).sqrt()).abs() < 1e-15);
    }
}
