//! The blade chart and the plan of test coils of a data file, for whoever is not a browser.

use std::sync::Arc;

use linkwright_store::{StoreError, View};
use linkwright_trials::{Belief, Cell};

use super::asked::Asked;
use super::bench::ChartBench;
use super::decided::whole_chart;
use super::next::{TEST_TURNS, ToTry, plan};
use crate::learning::{Kept, Taught};
use crate::planning::metal_name;

/// One wire, rod and blade of the chart.
#[derive(Clone, Debug)]
pub struct CellOnRecord {
    /// Wire, rod, blade and circumstances.
    pub cell: Cell,
    /// What the workshop calls the blade.
    pub blade: String,
    /// What is believed of its good share.
    pub belief: Belief,
    /// Whether the chart says to use this blade here.
    pub is_choice: bool,
    /// Chance that it is the best blade here, and better than not cutting.
    pub chance_best: f64,
    /// What a good ring costs, where the workshop said what work costs.
    pub ring_cost: Option<String>,
}

/// The chart of one metal and temper.
#[derive(Clone, Debug)]
pub struct ChartOnRecord {
    /// The metal, by its trade name.
    pub metal: String,
    /// The temper.
    pub temper: String,
    /// Trials it was learned from.
    pub trials: usize,
    /// Every place and blade.
    pub cells: Vec<CellOnRecord>,
    /// What the choice by money rests on.
    pub basis: String,
}

/// The test coils to cut next.
#[derive(Clone, Debug)]
pub struct PlanOnRecord {
    /// The metal, by its trade name.
    pub metal: String,
    /// The temper.
    pub temper: String,
    /// Turns of each coil.
    pub turns: u32,
    /// The coils, the one that tells most for its cost first.
    pub coils: Vec<ToTry>,
    /// What the worth was weighed by.
    pub weighed: &'static str,
    /// What the choice by money rests on.
    pub basis: String,
}

/// The chart of a metal and temper by key, or of the most tried where they are empty.
///
/// # Errors
/// If the file cannot be read.
pub fn chart(view: &View<'_>, metal: &str, temper: &str) -> Result<ChartOnRecord, StoreError> {
    let (taught, bench) = at_bench(view, metal, temper)?;
    let places = whole_chart(view, &bench, &taught)?;
    let mut cells = Vec::new();
    for place in places.iter().flatten() {
        for (number, kind) in bench.kinds.iter().enumerate() {
            let Some(cell) = bench.cell(place.wire_mm, place.rod_mm, kind) else { continue };
            let worth = place.decision.blades[number];
            cells.push(CellOnRecord {
                cell,
                blade: kind.called.clone(),
                belief: place.beliefs[number],
                is_choice: place.decision.choice == Some(number),
                chance_best: worth.chance_best,
                ring_cost: bench.pricing.amount_a_ring(worth.ring_cost),
            });
        }
    }
    Ok(ChartOnRecord {
        metal: metal_name(&bench.metals, &bench.metal),
        temper: bench.temper.clone(),
        trials: taught.lessons.coils.len(),
        cells,
        basis: bench.pricing.basis(&bench.metal),
    })
}

/// What to try next of a metal and temper by key, or of the most tried where they are empty.
///
/// # Errors
/// If the file cannot be read.
pub fn to_try(view: &View<'_>, metal: &str, temper: &str) -> Result<PlanOnRecord, StoreError> {
    let (taught, bench) = at_bench(view, metal, temper)?;
    let plan = plan(view, &bench, &taught)?;
    Ok(PlanOnRecord {
        metal: metal_name(&bench.metals, &bench.metal),
        temper: bench.temper.clone(),
        turns: TEST_TURNS,
        coils: plan.coils.clone(),
        weighed: plan.weighed,
        basis: bench.pricing.basis(&bench.metal),
    })
}

fn at_bench(
    view: &View<'_>,
    metal: &str,
    temper: &str,
) -> Result<(Arc<Taught>, Arc<ChartBench>), StoreError> {
    let taught = Kept::default().learned_now(view)?;
    let asked = Asked { metal: metal.to_owned(), temper: temper.to_owned(), ..Asked::default() };
    let bench = ChartBench::of(view, &taught, &asked)?;
    Ok((taught, bench))
}
