//! Which blade to use in each place of the chart, by money.

use std::sync::Arc;

use linkwright_store::{StoreError, View};
use linkwright_trials::{
    Belief, Cell, CoilMoney, Decision, Learned, Outcome, Place, Prior, decide,
};

use super::bench::ChartBench;
use crate::learning::{SEED, Taught};

/// Places worked out in one go, so that a large chart takes no more memory than a small one.
const PLACES_AT_ONCE: usize = 60;

/// One wire on one rod: every blade, and which to use.
#[derive(Clone, Debug)]
pub(super) struct Decided {
    pub(super) wire_mm: f64,
    pub(super) rod_mm: f64,
    /// Blade by blade, as the bench lists its kinds.
    pub(super) beliefs: Vec<Belief>,
    pub(super) decision: Decision,
    /// A coil as the holder takes it.
    pub(super) money: CoilMoney,
}

impl Decided {
    /// The blade to speak of: the one to use, or the one with the best mean share where none pays.
    pub(super) fn spoken_of(&self) -> usize {
        let by_share = |a: &usize, b: &usize| {
            self.beliefs[*a].good_share_mean.total_cmp(&self.beliefs[*b].good_share_mean)
        };
        let best_share = (0..self.beliefs.len()).max_by(by_share).unwrap_or(0);
        self.decision.choice.unwrap_or(best_share)
    }
}

/// Every place of the chart, wires in order and rods in order within each; a place where something
/// is not known stays empty. Kept until a record changes.
pub(super) fn whole_chart(
    view: &View<'_>,
    bench: &ChartBench,
    taught: &Taught,
) -> Result<Arc<Vec<Option<Decided>>>, StoreError> {
    let (metal, temper, number) = (&bench.metal, &bench.temper, taught.number);
    let name = format!("decided: {metal} {temper} by lessons {number}");
    view.worked_out(&name, || Ok(decided(bench, taught, &all_sizes(bench))))
}

/// Wires in order, and rods in order within each.
pub(super) fn all_sizes(bench: &ChartBench) -> Vec<(f64, f64)> {
    let of_wire = |wire: &f64| {
        let wire = *wire;
        bench.rods_mm.iter().map(move |rod| (wire, *rod))
    };
    bench.wires_mm.iter().flat_map(of_wire).collect()
}

/// The places of these sizes, wire and rod in mm.
pub(super) fn decided(
    bench: &ChartBench,
    taught: &Taught,
    sizes: &[(f64, f64)],
) -> Vec<Option<Decided>> {
    let geometry = (taught.learned.trials() > 0).then(|| Learned::fit(&[], &Prior::geometry()));
    let of_chunk = |sizes: &[(f64, f64)]| {
        let asked: Vec<Option<Asked>> =
            sizes.iter().map(|(wire, rod)| Asked::of(bench, *wire, *rod)).collect();
        let cells: Vec<Cell> =
            asked.iter().flatten().flat_map(|asked| asked.cells.iter().cloned()).collect();
        let mut learned = taught.learned.outcomes(&cells, SEED).into_iter();
        let mut by_geometry =
            geometry.as_ref().map(|geometry| geometry.outcomes(&cells, SEED).into_iter());
        let of_place = |asked: Option<Asked>| {
            let asked = asked?;
            let take = |from: &mut std::vec::IntoIter<Outcome>| -> Vec<Outcome> {
                from.by_ref().take(asked.cells.len()).collect()
            };
            let outcomes = take(&mut learned);
            let by_geometry = by_geometry.as_mut().map(take);
            Some(asked.decided(taught, outcomes, by_geometry))
        };
        asked.into_iter().map(of_place).collect::<Vec<_>>()
    };
    sizes.chunks(PLACES_AT_ONCE).flat_map(of_chunk).collect()
}

/// The places of these sizes as the worth of a test is reckoned: with the cells they are of.
pub(super) fn at_stake(
    bench: &ChartBench,
    taught: &Taught,
    sizes: &[(f64, f64)],
    planned_turns: impl Fn(f64, f64) -> f64,
) -> (Vec<(f64, f64)>, Vec<Place>) {
    let asked: Vec<Asked> =
        sizes.iter().filter_map(|(wire, rod)| Asked::of(bench, *wire, *rod)).collect();
    let cells: Vec<Cell> = asked.iter().flat_map(|asked| asked.cells.iter().cloned()).collect();
    let mut outcomes = taught.learned.outcomes(&cells, SEED).into_iter();
    let places = asked.iter().map(|asked| Place {
        blades: outcomes.by_ref().take(asked.cells.len()).collect(),
        money: asked.money,
        planned_turns: planned_turns(asked.wire_mm, asked.rod_mm),
    });
    let places = places.collect();
    (asked.iter().map(|asked| (asked.wire_mm, asked.rod_mm)).collect(), places)
}

/// What is asked of one place.
struct Asked {
    wire_mm: f64,
    rod_mm: f64,
    cells: Vec<Cell>,
    money: CoilMoney,
}

impl Asked {
    fn of(bench: &ChartBench, wire_mm: f64, rod_mm: f64) -> Option<Asked> {
        let cells: Option<Vec<Cell>> =
            bench.kinds.iter().map(|kind| bench.cell(wire_mm, rod_mm, kind)).collect();
        let cells = cells.filter(|cells| !cells.is_empty())?;
        let money = bench.coil_money(&cells[0])?;
        Some(Asked { wire_mm, rod_mm, cells, money })
    }

    /// The blade in use before is the one tried most often here; where none was tried, the one
    /// that geometry alone would take.
    fn decided(
        &self,
        taught: &Taught,
        outcomes: Vec<Outcome>,
        by_geometry: Option<Vec<Outcome>>,
    ) -> Decided {
        let tried = |blade: &usize| taught.learned.trials_in(&self.cells[*blade].key());
        // The first of those tried equally often.
        let most_tried = (0..self.cells.len()).rev().max_by_key(tried).filter(|one| tried(one) > 0);
        let held = most_tried.or_else(|| decide(&by_geometry?, self.money, None).choice);
        let decision = decide(&outcomes, self.money, held);
        let beliefs = self.cells.iter().zip(outcomes);
        let beliefs =
            beliefs.map(|(cell, outcome)| taught.learned.belief(cell, outcome.good_share));
        Decided {
            wire_mm: self.wire_mm,
            rod_mm: self.rod_mm,
            beliefs: beliefs.collect(),
            decision,
            money: self.money,
        }
    }
}
