//! Coils for a job by what the trials teach, each question answered once while they teach the same.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use linkwright_trials::{Cell, CoilCost, CoilsNeeded, PromiseError, Yield};

use super::{SEED, Taught};

/// Answers kept at most; all go when one more comes.
const KEPT_MOST: usize = 512;

/// Turns of the longest coil the planning law takes.
const TURNS_MOST: u32 = 1000;

/// A number of good rings wanted of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Job {
    /// Good rings wanted.
    pub(crate) rings: u32,
    /// Whole turns of the longest coil, as it is clamped.
    pub(crate) turns_most: u32,
    /// Wanted chance of enough.
    pub(crate) confidence: f64,
    /// What coils and turns cost, where the length of the coils may be chosen; else they are as long
    /// as they can be.
    pub(crate) cost: Option<CoilCost>,
}

/// Coils for a job, and what they rest on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct JobCoils {
    /// The coils, and what they are likely to give.
    pub(crate) needed: CoilsNeeded,
    /// Turns a coil loses where the blade enters and at the stop, on average.
    pub(crate) ends_lost: [f64; 2],
    /// Good rings to expect among the other turns, as a share.
    pub(crate) good_share: f64,
    /// Coils tried of this very cell.
    pub(crate) tried_here: usize,
    /// Coils tried of any other.
    pub(crate) tried_elsewhere: usize,
    /// Other workshops whose files were learned from.
    pub(crate) other_workshops: usize,
}

/// Answers given so far.
#[derive(Debug, Default)]
pub(crate) struct Jobs {
    of: Mutex<HashMap<String, Result<JobCoils, PromiseError>>>,
}

impl Taught {
    /// Whether there is nothing but geometry: no trial of this workshop or of any other.
    pub(crate) fn is_geometry_alone(&self) -> bool {
        self.lessons.coils.is_empty() && self.others.workshops == 0
    }

    /// The coils that give enough good rings of a cell.
    pub(crate) fn coils(&self, cell: &Cell, job: Job) -> Result<JobCoils, PromiseError> {
        let name = format!("{cell:?} {job:?}");
        if let Some(answer) = self.jobs.locked().get(&name) {
            return *answer;
        }
        let answer = self.worked_out(cell, job);
        let mut kept = self.jobs.locked();
        if kept.len() >= KEPT_MOST {
            kept.clear();
        }
        kept.insert(name, answer);
        answer
    }

    fn worked_out(&self, cell: &Cell, job: Job) -> Result<JobCoils, PromiseError> {
        let plays = self.learned.plays(std::slice::from_ref(cell), SEED);
        let of = Yield::of(plays.first().map_or(&[], Vec::as_slice));
        let (Job { rings, confidence, .. }, longest) = (job, job.turns_most.min(TURNS_MOST));
        let ends_lost = of.ends_lost();
        let needed = match job.cost {
            None => of.coils_for(rings, longest, confidence)?,
            Some(cost) => {
                let found = of.cheapest(rings, longest, confidence, cost)?.coils;
                of.alike(found, rings, confidence, turns_of_one_coil(ends_lost, cost))?
            }
        };
        let tried_here = self.learned.trials_in(&cell.key());
        Ok(JobCoils {
            needed,
            ends_lost,
            good_share: of.good_share(),
            tried_here,
            tried_elsewhere: self.lessons.coils.len() - tried_here,
            other_workshops: self.others.workshops,
        })
    }
}

/// Turns that one coil costs beyond its rings: a second number to count must save more.
fn turns_of_one_coil(ends_lost: [f64; 2], cost: CoilCost) -> u32 {
    let turns = ends_lost.iter().sum::<f64>() + cost.per_coil / cost.per_turn;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "few turns")]
    let whole = turns.clamp(0.0, f64::from(TURNS_MOST)) as u32;
    whole
}

impl Jobs {
    fn locked(&self) -> std::sync::MutexGuard<'_, HashMap<String, Result<JobCoils, PromiseError>>> {
        self.of.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
