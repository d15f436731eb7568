//! What the trials on record teach a plan.

use linkwright_answers::coils::{Job, Setting, as_checked, least_wire, untaught};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{CoilsAsked, CoilsTaught, Least, Trials, Untaught};
use linkwright_trials::CoilCost;

use crate::learning::{Pricing, Taught, kind_of};

/// The trials on record, asked about coils by a plan.
pub(crate) struct TrialsOnRecord<'a> {
    pub(crate) taught: &'a Taught,
    pub(crate) metals: &'a Catalogue,
    /// What work and wire cost.
    pub(crate) pricing: &'a Pricing,
}

impl Trials for TrialsOnRecord<'_> {
    fn coils(&self, asked: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught> {
        if self.taught.is_geometry_alone() {
            return Err(Untaught::Silent(None));
        }
        let setting = Setting::asked(asked, kind_of(asked.blade));
        let cell = as_checked(setting, self.metals).map_err(|why| Untaught::Silent(Some(why)))?;
        let (least, cost) = self.cost(asked);
        let job = Job {
            rings: asked.good.get(),
            turns_most: asked.turns_most,
            confidence: asked.confidence,
            cost: Some(cost),
        };
        match self.taught.coils(&cell, job) {
            Ok(found) => Ok(found.taught(least, asked.confidence)),
            Err(error) => Err(untaught(error, self.taught.learned.trials_in(&cell.key()))),
        }
    }
}

impl TrialsOnRecord<'_> {
    /// What coils and turns cost; their wire where money says nothing.
    fn cost(&self, asked: &CoilsAsked<'_>) -> (Least, CoilCost) {
        let wire = (Least::Wire, least_wire(asked));
        let Ok(metal) = self.metals.find(asked.metal) else { return wire };
        let sizes = (asked.wire, asked.mandrel);
        let priced = self.pricing.coil(asked.metal, metal.density().value, sizes, asked.turns_most);
        let CoilCost { per_coil, per_turn, scrap_per_turn } = priced.cost;
        if !self.pricing.is_said() || per_turn <= 0.0 {
            return wire;
        }
        // The tails are scrap of the same wire.
        let turns_of_tails = asked.wire_each_coil.mm() / asked.wire_each_turn.mm();
        let tails = (per_turn - scrap_per_turn) * turns_of_tails;
        (Least::Money, CoilCost { per_coil: per_coil + tails, per_turn, scrap_per_turn })
    }
}
