//! Freezing a run sheet, and starting the work from it.

use linkwright_answers::run_sheet::view::PlanView;
use linkwright_answers::run_sheet::view::at_bench::BenchSums;
use linkwright_answers::run_sheet::{Money, json};
use linkwright_calc::plan::RunSheet;
use linkwright_store::records::{BladeEvent, Coil, FrozenSheet, RingOrder, Run};
use linkwright_store::{Act, Id, Moment};
use serde_json::json;

use super::{Obstacle, Planned, plan_sheet};
use crate::error::PageError;
use crate::learning::Taught;

/// A blade the sheet refuses, used all the same: the owner's own decision, kept with the run.
#[derive(Clone, Debug)]
pub(crate) struct BladeAnyway {
    /// Name of the blade.
    pub(crate) blade: String,
    /// Why.
    pub(crate) because: String,
}

impl BladeAnyway {
    fn note(&self, sheet: &RunSheet) -> String {
        let BladeAnyway { blade, because } = self;
        let refused = sheet.blades.iter().find(|other| other.name == *blade);
        let why = refused.map_or_else(String::new, |blade| {
            blade.out.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
        });
        format!(
            "Blade \"{blade}\" is used although the sheet refuses it ({why}), because: {because}"
        )
    }
}

/// The step at which a run begins.
pub(crate) const FIRST_STEP: &str = "wire";

/// Freezes the plan of a line and begins a run from it: its coils with the turns to wind, at the
/// step of taking the wire.
pub(crate) fn start_run(
    act: &Act<'_>,
    taught: &Taught,
    order: Id<RingOrder>,
    line: &str,
    now: Moment,
    note: String,
) -> Result<Id<Run>, PageError> {
    start_noting(act, taught, order, line, now, |_| note)
}

/// The same with a blade the sheet refuses, which is noted with the reason.
pub(crate) fn start_run_anyway(
    act: &Act<'_>,
    taught: &Taught,
    order: Id<RingOrder>,
    line: &str,
    now: Moment,
    anyway: &BladeAnyway,
) -> Result<Id<Run>, PageError> {
    start_noting(act, taught, order, line, now, |sheet| anyway.note(sheet))
}

fn start_noting(
    act: &Act<'_>,
    taught: &Taught,
    order: Id<RingOrder>,
    line: &str,
    now: Moment,
    note: impl FnOnce(&RunSheet) -> String,
) -> Result<Id<Run>, PageError> {
    let planned = plan_sheet(act, taught, order, line)??;
    let sheet = sheet_of(&planned, line)?;
    let frozen_sheet_id = act.add(&frozen(order, &planned, sheet, now))?;
    let run = act.add(&Run {
        frozen_sheet_id,
        name: format!("{}, {}", planned.plan.order, sheet.line.name),
        started_at: now,
        finished_at: None,
        step: FIRST_STEP.to_owned(),
        coil_number: 1,
        wire_lot_id: None,
        wire_in_g: None,
        annealed_at: None,
        anneal_skipped: false,
        set_aside_why: None,
        called_off_why: None,
        note: note(sheet),
    })?;
    for (number, turns_target) in (1..).zip(targets(sheet)) {
        act.add(&coil_to_wind(run, number, turns_target))?;
    }
    Ok(run)
}

fn sheet_of<'a>(planned: &'a Planned, line: &str) -> Result<&'a RunSheet, Obstacle> {
    planned.sheet(line).ok_or_else(|| Obstacle::NoSuchLine { line: line.to_owned() })
}

fn frozen(order: Id<RingOrder>, planned: &Planned, sheet: &RunSheet, now: Moment) -> FrozenSheet {
    let inputs = json!(planned.inputs);
    let shown =
        PlanView::of_line(&planned.plan, &sheet.line.name, planned.inputs.date(), Money::Shown);
    let answer = json!({
        "sheet": json::sheet(sheet, Money::Shown),
        "shown": shown,
        "bench": BenchSums::of(sheet),
    });
    FrozenSheet {
        order_id: order,
        line_name: sheet.line.name.clone(),
        frozen_at: now,
        program_version: env!("CARGO_PKG_VERSION").to_owned(),
        inputs: inputs.to_string(),
        answer: answer.to_string(),
    }
}

/// Turns to wind on each coil, in the order of winding.
fn targets(sheet: &RunSheet) -> impl Iterator<Item = u32> {
    sheet
        .coils
        .groups
        .iter()
        .flat_map(|group| std::iter::repeat_n(group.wound.get(), group.coils as usize))
}

/// A coil of a run before anything is done to it.
pub(crate) fn coil_to_wind(run_id: Id<Run>, number: u32, turns_target: u32) -> Coil {
    Coil {
        run_id,
        number,
        turns_target,
        turns_wound: 0,
        wound_at: None,
        turns_relaxed: None,
        off_at: None,
        pieces: None,
        blade_id: None,
        projection_typed: None,
        projection_mm: None,
        clamped_at: None,
        slit_at: None,
        good: 0,
        uncut: 0,
        nicked: 0,
        crushed: 0,
        counted_at: None,
        blade_event: BladeEvent::None,
        note: String::new(),
    }
}
