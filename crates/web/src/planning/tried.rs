//! What the trials on record teach a plan.

use linkwright_answers::chart::yield_strength;
use linkwright_calc::coil::{GoodRings, RelaxedTurns};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{CoilsAsked, CoilsTaught, OddsTaught, Trials, Untaught};
use linkwright_trials::{Cell, CellParts, CoilCost, PromiseError};

use crate::learning::{Job, JobCoils, Taught, kind_of};

/// The trials on record, asked about coils by a plan.
pub(crate) struct TrialsOnRecord<'a> {
    pub(crate) taught: &'a Taught,
    pub(crate) metals: &'a Catalogue,
}

/// What the check list wants of every coil: tape and lubricant.
pub(crate) fn as_checked(asked: &CoilsAsked<'_>, metals: &Catalogue) -> Result<Cell, String> {
    Cell::new(CellParts {
        wire: asked.wire,
        mandrel: asked.mandrel,
        blade: kind_of(asked.blade),
        axis: asked.axis,
        metal: asked.metal.into(),
        yield_strength: yield_strength(metals, asked.metal, asked.temper, asked.wire)?,
        taped: true,
        lubricated: true,
        operator: None,
        rings_cut_since_new: None,
    })
    .map_err(|error| error.to_string())
}

impl Trials for TrialsOnRecord<'_> {
    fn coils(&self, asked: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught> {
        if self.taught.lessons.coils.is_empty() {
            return Err(Untaught::Silent(None));
        }
        let silent = |why: String| Untaught::Silent(Some(why));
        let cell = as_checked(asked, self.metals).map_err(silent)?;
        let cost = CoilCost {
            per_coil: asked.wire_each_coil.mm(),
            per_turn: asked.wire_each_turn.mm(),
            scrap_per_turn: 0.0,
        };
        let job = Job {
            rings: asked.good.get(),
            turns_most: asked.turns_most,
            confidence: asked.confidence,
            cost: Some(cost),
        };
        self.taught.coils(&cell, job).map(|found| taught(&found, asked.confidence)).map_err(
            |error| match error {
                PromiseError::OutOfReach { most, turns, .. } => {
                    Untaught::OutOfReach { coils: most, turns }
                }
                other => silent(other.to_string()),
            },
        )
    }
}

fn taught(found: &JobCoils, confidence: f64) -> CoilsTaught {
    let JobCoils { needed, ends_lost: [entry, stop], .. } = *found;
    let turns = |turns: u32| RelaxedTurns::new(f64::from(turns));
    let count = |coils: usize| u32::try_from(coils).unwrap_or(u32::MAX);
    CoilsTaught {
        coils: needed.coils,
        turns: turns(needed.turns),
        last_turns: turns(needed.last_turns),
        lost_at_ends: entry,
        lost_at_stop: stop,
        odds: OddsTaught {
            confidence,
            chance: needed.chance,
            expected: needed.rings_expected,
            promised: GoodRings::new(needed.promised),
            good_share: found.good_share,
            tried_here: count(found.tried_here),
            tried_elsewhere: count(found.tried_elsewhere),
        },
    }
}
