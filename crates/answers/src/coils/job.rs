//! A number of good rings wanted of one cell, and the coils that give them.

use linkwright_calc::coil::{GoodRings, RelaxedTurns};
use linkwright_calc::plan::{CoilsTaught, Least, OddsTaught, Untaught};
use linkwright_trials::{Cell, CoilCost, CoilsNeeded, Learned, PromiseError, Yield};

/// Turns of the longest coil the planning law takes.
const TURNS_MOST: u32 = 1000;

/// What is known, and from how much.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// What the trials teach.
    pub learned: &'a Learned,
    /// Other workshops whose trials were learned from before them.
    pub other_workshops: usize,
    /// Seed of the plays.
    pub seed: u64,
}

/// A number of good rings wanted of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Job {
    /// Good rings wanted.
    pub rings: u32,
    /// Whole turns of the longest coil, as it is clamped.
    pub turns_most: u32,
    /// Wanted chance of enough.
    pub confidence: f64,
    /// What coils and turns cost, where the length of the coils may be chosen; else they are as long
    /// as they can be.
    pub cost: Option<CoilCost>,
}

/// Coils for a job, and what they rest on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JobCoils {
    /// The coils, and what they are likely to give.
    pub needed: CoilsNeeded,
    /// Turns a coil loses where the blade enters and at the stop, on average.
    pub ends_lost: [f64; 2],
    /// Good rings to expect among the other turns, as a share.
    pub good_share: f64,
    /// Coils tried of this very cell.
    pub tried_here: usize,
    /// Coils tried of any other.
    pub tried_elsewhere: usize,
    /// Other workshops whose trials were learned from.
    pub other_workshops: usize,
}

impl JobCoils {
    /// The coils that give enough good rings of a cell.
    ///
    /// # Errors
    /// [`PromiseError`] if a count or the confidence is out of bounds, or no number of coils is
    /// enough.
    pub fn of(known: Known<'_>, cell: &Cell, job: Job) -> Result<JobCoils, PromiseError> {
        let Known { learned, other_workshops, seed } = known;
        let plays = learned.plays(std::slice::from_ref(cell), seed);
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
        let tried_here = learned.trials_in(&cell.key());
        Ok(JobCoils {
            needed,
            ends_lost,
            good_share: of.good_share(),
            tried_here,
            tried_elsewhere: learned.trials() - tried_here,
            other_workshops,
        })
    }

    /// The coils as a plan takes them.
    pub fn taught(&self, least: Least, confidence: f64) -> CoilsTaught {
        let JobCoils { needed, ends_lost: [entry, stop], .. } = *self;
        let turns = |turns: u32| RelaxedTurns::new(f64::from(turns));
        CoilsTaught {
            coils: needed.coils,
            turns: turns(needed.turns),
            last_turns: turns(needed.last_turns),
            lost_at_ends: entry,
            lost_at_stop: stop,
            least,
            odds: self.odds(confidence),
        }
    }

    /// What the coils are likely to give, as a sheet has it.
    pub fn odds(&self, confidence: f64) -> OddsTaught {
        OddsTaught {
            confidence,
            chance: self.needed.chance,
            expected: self.needed.rings_expected,
            promised: GoodRings::new(self.needed.promised),
            good_share: self.good_share,
            tried_here: count(self.tried_here),
            tried_elsewhere: count(self.tried_elsewhere),
            other_workshops: count(self.other_workshops),
        }
    }
}

/// What a plan hears where a job has no answer.
pub fn untaught(error: PromiseError, tried_here: usize) -> Untaught {
    match error {
        PromiseError::OutOfReach { most, turns, .. } => {
            Untaught::OutOfReach { coils: most, turns, tried_here: count(tried_here) }
        }
        other => Untaught::Silent(Some(other.to_string())),
    }
}

/// Turns that one coil costs beyond its rings: a second number to count must save more.
fn turns_of_one_coil(ends_lost: [f64; 2], cost: CoilCost) -> u32 {
    let turns = ends_lost.iter().sum::<f64>() + cost.per_coil / cost.per_turn;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "few turns")]
    let whole = turns.clamp(0.0, f64::from(TURNS_MOST)) as u32;
    whole
}

fn count(coils: usize) -> u32 {
    u32::try_from(coils).unwrap_or(u32::MAX)
}
