//! Coils for a job by what the trials teach, each question answered once while they teach the same.

use std::collections::HashMap;
use std::sync::{Mutex, MutexGuard};

use linkwright_answers::coils::{Job, JobCoils, Known};
use linkwright_trials::{Cell, PromiseError};

use super::{SEED, Taught};
use crate::state::locked;

/// Answers kept at most; all go when one more comes.
const KEPT_MOST: usize = 512;

/// Answers given so far, by the question.
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
        let question = format!("{cell:?} {job:?}");
        if let Some(answer) = self.jobs.locked().get(&question) {
            return *answer;
        }
        let known =
            Known { learned: &self.learned, other_workshops: self.others.workshops, seed: SEED };
        let answer = JobCoils::of(known, cell, job);
        let mut kept = self.jobs.locked();
        if kept.len() >= KEPT_MOST {
            kept.clear();
        }
        kept.insert(question, answer);
        answer
    }
}

impl Jobs {
    fn locked(&self) -> MutexGuard<'_, HashMap<String, Result<JobCoils, PromiseError>>> {
        locked(&self.of)
    }
}
