//! One workshop's beliefs against its truth, in a few numbers.

use crate::gate::WRITE_OFF_SHARE;
use crate::learned::{Belief, Learned};
use crate::model::Prior;
use crate::number::real;
use crate::promise::{BetaBinomial, CoilLaw};
use crate::simulated::{SimulatedError, Workshop};
use crate::trial::{Cell, TrialRow};

/// Seed of the plays; the workshops have seeds of their own.
const PLAYS_SEED: u64 = 1;
/// Share of good rings above which a cell is good.
const GOOD: f64 = 0.9;
/// A cell is called good at this chance of being it, and poor at one less this chance.
const CALLED: f64 = 0.9;

/// How many cells were called something, and how many of them are it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Called {
    /// Cells so called.
    pub called: u32,
    /// Those of them that are it.
    pub right: u32,
}

/// One workshop's beliefs against its truth. Shares of one, over the cells asked about, unless said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scores {
    /// Cells whose true good share lies in its 80 % band.
    pub covered_80: f64,
    /// The same with truth and band as a chart prints them, in whole per cents.
    pub covered_80_printed: f64,
    /// Cells whose true good share lies in its 95 % band.
    pub covered_95: f64,
    /// Mean width of the 80 % band of the good share.
    pub width_80: f64,
    /// Root of the mean squared error of the believed mean of the good share.
    pub rmse: f64,
    /// Mean squared error of the chance that at least 90 % are good.
    pub brier: f64,
    /// Less the mean logarithm of the chance given to the good rings of a coil that was held out,
    /// its end losses known, in nats a coil.
    pub log_score: f64,
    /// Cells called good: at least 90 % good rings, believed with 90 %.
    pub good: Called,
    /// Cells called poor: less than 90 % good rings, believed with 90 %.
    pub poor: Called,
    /// Cells without a trial.
    pub untried: f64,
}

/// Learns from a workshop's first `trials` and holds every `step`-th cell of its chart, and
/// `held_out` coils elsewhere, against the truth.
///
/// # Errors
/// [`SimulatedError`] if a number of the workshop leaves the limits of the model.
pub fn score(
    workshop: &Workshop,
    trials: usize,
    step: usize,
    held_out: usize,
) -> Result<Scores, SimulatedError> {
    let learned = Learned::fit(&workshop.trials(trials)?, &Prior::geometry());
    let cells: Vec<Cell> = workshop.chart()?.into_iter().step_by(step).collect();
    let beliefs = learned.beliefs(&cells, PLAYS_SEED);
    let truths: Vec<f64> = cells.iter().map(|cell| workshop.true_good_share(cell)).collect();
    let pairs: Vec<(&Belief, f64)> = beliefs.iter().zip(truths).collect();

    let mean = |of: &dyn Fn(&Belief, f64) -> f64| {
        pairs.iter().map(|(belief, truth)| of(belief, *truth)).sum::<f64>() / real(pairs.len())
    };
    let share = |of: fn(&Belief, f64) -> bool| mean(&|b, t| if of(b, t) { 1.0 } else { 0.0 });
    let called = |as_good: bool| {
        let mut called = Called::default();
        for (belief, truth) in &pairs {
            let chance = if as_good { belief.chance_of_90 } else { 1.0 - belief.chance_of_90 };
            if chance >= CALLED {
                called.called += 1;
                called.right += u32::from((*truth >= GOOD) == as_good);
            }
        }
        called
    };
    Ok(Scores {
        covered_80: share(|belief, truth| within(belief.good_share_80, truth)),
        covered_80_printed: share(|belief, truth| {
            within(belief.good_share_80.map(printed), printed(truth))
        }),
        covered_95: share(|belief, truth| within(belief.good_share_95, truth)),
        width_80: mean(&|belief, _| belief.good_share_80[1] - belief.good_share_80[0]),
        rmse: mean(&|belief, truth| (belief.good_share_mean - truth).powi(2)).sqrt(),
        brier: mean(&|belief, truth| {
            (belief.chance_of_90 - if truth >= GOOD { 1.0 } else { 0.0 }).powi(2)
        }),
        log_score: log_score(&learned, &workshop.held_out(held_out)?),
        good: called(true),
        poor: called(false),
        untried: share(|belief, _| belief.trials_here == 0),
    })
}

/// A share in whole per cents, as a chart prints it.
fn printed(share: f64) -> f64 {
    (share * 100.0).round()
}

fn within([low, high]: [f64; 2], truth: f64) -> bool {
    low <= truth && truth <= high
}

/// Less the mean log chance of the good rings of each coil among those that are no end losses:
/// averaged over the plays first, since all plays are of one belief.
fn log_score(learned: &Learned, coils: &[TrialRow]) -> f64 {
    let cells: Vec<Cell> = coils.iter().map(|row| row.cell().clone()).collect();
    let mut sum = 0.0;
    for (row, plays) in coils.iter().zip(learned.plays(&cells, PLAYS_SEED)) {
        let counts = row.counts();
        let rings = row.turns() - counts.entry_lost - counts.stop_lost;
        let chance_in = |law: BetaBinomial| law.chance_of(counts.good, rings);
        let chances = plays.iter().map(|play| {
            let law = CoilLaw::of(play);
            let spoiled = law.write_off.map_or(0.0, |(_, law)| chance_in(law));
            (1.0 - WRITE_OFF_SHARE) * chance_in(law.rings) + WRITE_OFF_SHARE * spoiled
        });
        sum -= (chances.sum::<f64>() / real(plays.len())).ln();
    }
    sum / real(coils.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_holds_its_own_ends() {
        assert!(within([0.2, 0.4], 0.2) && within([0.2, 0.4], 0.4));
        assert!(!within([0.2, 0.4], 0.41));
    }

    #[test]
    fn what_is_held_out_is_scored_better_after_trials() {
        let workshop = Workshop::new(7).unwrap();
        let coils = workshop.held_out(60).unwrap();
        let after = |trials: usize| {
            let rows = workshop.trials(trials).unwrap();
            log_score(&Learned::fit(&rows, &Prior::geometry()), &coils)
        };
        let (none, many) = (after(0), after(200));
        // Around forty rings a coil: 3.7 nats if nothing at all were known.
        assert!(many < none && none < 3.7, "{none} {many}");
    }
}
