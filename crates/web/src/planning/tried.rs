//! What the trials on record teach a plan.

use linkwright_answers::chart::yield_strength;
use linkwright_calc::coil::{GoodRings, RelaxedTurns};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{CoilsAsked, CoilsTaught, Least, OddsTaught, Trials, Untaught};
use linkwright_calc::slit::{AxisHeight, Blade};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, CoilCost, PromiseError};

use crate::learning::{Job, JobCoils, Pricing, Taught, kind_of};

/// The trials on record, asked about coils by a plan.
pub(crate) struct TrialsOnRecord<'a> {
    pub(crate) taught: &'a Taught,
    pub(crate) metals: &'a Catalogue,
    /// What work and wire cost.
    pub(crate) pricing: &'a Pricing,
}

/// What a coil is made of and cut with.
#[derive(Clone, Copy)]
pub(crate) struct Setting<'a> {
    /// Key of the metal.
    pub(crate) metal: &'a str,
    /// Temper as it is wound.
    pub(crate) temper: &'a str,
    pub(crate) wire: Wire,
    pub(crate) mandrel: Mandrel,
    pub(crate) blade: Blade,
    pub(crate) axis: AxisHeight,
}

/// The cell of a setting, taped and lubricated as the check list wants it.
///
/// # Errors
/// What the model does not speak about, as a sentence.
pub(crate) fn as_checked(setting: Setting<'_>, metals: &Catalogue) -> Result<Cell, String> {
    let Setting { metal, temper, wire, mandrel, blade, axis } = setting;
    Cell::new(CellParts {
        wire,
        mandrel,
        blade: kind_of(blade),
        axis,
        metal: metal.into(),
        yield_strength: yield_strength(metals, metal, temper, wire)?,
        taped: true,
        lubricated: true,
        operator: None,
        rings_cut_since_new: None,
    })
    .map_err(|error| error.to_string())
}

impl Trials for TrialsOnRecord<'_> {
    fn coils(&self, asked: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught> {
        if self.taught.is_geometry_alone() {
            return Err(Untaught::Silent(None));
        }
        let silent = |why: String| Untaught::Silent(Some(why));
        let CoilsAsked { metal, temper, wire, mandrel, blade, axis, .. } = *asked;
        let setting = Setting { metal, temper, wire, mandrel, blade, axis };
        let cell = as_checked(setting, self.metals).map_err(silent)?;
        let (least, cost) = self.cost(asked);
        let job = Job {
            rings: asked.good.get(),
            turns_most: asked.turns_most,
            confidence: asked.confidence,
            cost: Some(cost),
        };
        self.taught.coils(&cell, job).map(|found| taught(&found, least, asked.confidence)).map_err(
            |error| match error {
                PromiseError::OutOfReach { most, turns, .. } => Untaught::OutOfReach {
                    coils: most,
                    turns,
                    tried_here: count(self.taught.learned.trials_in(&cell.key())),
                },
                other => silent(other.to_string()),
            },
        )
    }
}

impl TrialsOnRecord<'_> {
    /// What coils and turns cost; their wire where money says nothing.
    fn cost(&self, asked: &CoilsAsked<'_>) -> (Least, CoilCost) {
        let (turn_mm, coil_mm) = (asked.wire_each_turn.mm(), asked.wire_each_coil.mm());
        let wire = CoilCost { per_coil: coil_mm, per_turn: turn_mm, scrap_per_turn: 0.0 };
        let Ok(metal) = self.metals.find(asked.metal) else { return (Least::Wire, wire) };
        let sizes = (asked.wire, asked.mandrel);
        let priced = self.pricing.coil(asked.metal, metal.density().value, sizes, asked.turns_most);
        let CoilCost { per_coil, per_turn, scrap_per_turn } = priced.cost;
        if !self.pricing.is_said() || per_turn <= 0.0 {
            return (Least::Wire, wire);
        }
        // The tails are scrap of the same wire.
        let tails = (per_turn - scrap_per_turn) * coil_mm / turn_mm;
        (Least::Money, CoilCost { per_coil: per_coil + tails, per_turn, scrap_per_turn })
    }
}

fn taught(found: &JobCoils, least: Least, confidence: f64) -> CoilsTaught {
    let JobCoils { needed, ends_lost: [entry, stop], .. } = *found;
    let turns = |turns: u32| RelaxedTurns::new(f64::from(turns));
    CoilsTaught {
        coils: needed.coils,
        turns: turns(needed.turns),
        last_turns: turns(needed.last_turns),
        lost_at_ends: entry,
        lost_at_stop: stop,
        least,
        odds: found.odds(confidence),
    }
}

fn count(coils: usize) -> u32 {
    u32::try_from(coils).unwrap_or(u32::MAX)
}

impl JobCoils {
    /// What the coils are likely to give, as a sheet has it.
    pub(crate) fn odds(&self, confidence: f64) -> OddsTaught {
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
