//! Run sheets of an order, of one of its lines, or as frozen; and the sheet of a line of kits.

use axum::extract::{Path, Query, State};
use axum::response::Response;
use linkwright_answers::run_sheet::{Money, json};
use linkwright_calc::plan::RunSheet;
use linkwright_sheets::{KitSheet, RunSheets};
use linkwright_store::records::{FrozenSheet, OrderLine, RingOrder};
use linkwright_store::{Id, StoreError, View};
use serde_json::Value;

use super::{Asked, edition_of_program, printed};
use crate::error::PageError;
use crate::planning::{self, Inputs, Obstacle, Planned, plan_order};
use crate::state::App;

impl Asked {
    fn money(&self) -> Money {
        if self.costs == "without" { Money::LeftOut } else { Money::Shown }
    }
}

pub(super) async fn of_order(
    State(app): State<App>,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let money = asked.money();
    let (name, sheets) = app
        .read(move |view| {
            let planned = plan_order(view, Id::new(id), None)??;
            let sheets = RunSheets::of(&planned.plan, date_of(&planned.inputs), money);
            Ok((format!("run sheets {}", planned.plan.order), sheets))
        })
        .await?;
    printed(&name, asked.paper()?, move |paper| sheets.pdf(paper)).await
}

pub(super) async fn of_line(
    State(app): State<App>,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let money = asked.money();
    let (name, sheets) = app
        .read(move |view| {
            let (planned, line) = planned_line(view, Id::new(id))?;
            let at = place_of(&planned, &line)?;
            let date = date_of(&planned.inputs);
            let sheets = RunSheets::of_line(&planned.plan, at, date, money);
            Ok((
                format!("run sheet {} {line}", planned.plan.order),
                sheets.ok_or_else(|| gone(&line))?,
            ))
        })
        .await?;
    printed(&name, asked.paper()?, move |paper| sheets.pdf(paper)).await
}

pub(super) async fn of_frozen(
    State(app): State<App>,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let money = asked.money();
    let (name, sheets) = app
        .read(move |view| {
            let frozen = view.get(Id::<FrozenSheet>::new(id))?;
            let planned = planned_as_frozen(&frozen)?;
            let at = place_of(&planned, &frozen.line_name)?;
            let date = date_of(&planned.inputs);
            let sheets = RunSheets::of_line(&planned.plan, at, date, money);
            let mut sheets = sheets.ok_or_else(|| gone(&frozen.line_name))?;
            sheets.remark(&remark(&frozen, &planned.plan.sheets[at]));
            Ok((format!("run sheet {} {}", planned.plan.order, frozen.line_name), sheets))
        })
        .await?;
    printed(&name, asked.paper()?, move |paper| sheets.pdf(paper)).await
}

pub(super) async fn kit(
    State(app): State<App>,
    Path(line): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let edition = edition_of_program(&app);
    let (name, sheet) = app
        .read(move |view| {
            let (planned, line) = planned_line(view, Id::new(line))?;
            let at = place_of(&planned, &line)?;
            let sheet = KitSheet::of(&planned.plan.sheets[at], edition);
            let sheet = sheet.ok_or(PageError::NotFound { what: "line of kits" })?;
            Ok((format!("kit {line}"), sheet))
        })
        .await?;
    printed(&name, asked.paper()?, move |paper| sheet.pdf(paper)).await
}

/// The order of a line worked out, and the name of the line.
fn planned_line(view: &View<'_>, id: Id<OrderLine>) -> Result<(Planned, String), PageError> {
    let line = view.get(id)?;
    let order: Id<RingOrder> = line.order_id;
    Ok((plan_order(view, order, None)??, line.name))
}

/// A frozen sheet worked out again from what went into it.
fn planned_as_frozen(frozen: &FrozenSheet) -> Result<Planned, PageError> {
    let inputs: Inputs = serde_json::from_str(&frozen.inputs).map_err(|error| {
        StoreError::Corrupt { record: "frozen_sheet".to_owned(), what: error.to_string() }
    })?;
    Ok(planning::plan(inputs)?)
}

/// What the foot of a frozen sheet says: when it was frozen, and whether this program still works
/// it out the same.
fn remark(frozen: &FrozenSheet, sheet: &RunSheet) -> String {
    let kept: Option<Value> =
        serde_json::from_str::<Value>(&frozen.answer).ok().map(|mut kept| kept["sheet"].take());
    // Written and read back, so that both have been through the same form.
    let now = serde_json::from_str(&json::sheet(sheet, Money::Shown).to_string()).ok();
    let as_frozen = format!("as frozen on {}", frozen.frozen_at.date());
    if kept == now {
        as_frozen
    } else {
        format!(
            "{as_frozen} with version {}; version {} works it out differently, and the bench keeps to \
             the frozen one",
            frozen.program_version,
            env!("CARGO_PKG_VERSION")
        )
    }
}

fn place_of(planned: &Planned, line: &str) -> Result<usize, PageError> {
    let at = planned.plan.sheets.iter().position(|sheet| sheet.line.name == line);
    at.ok_or_else(|| gone(line))
}

fn gone(line: &str) -> PageError {
    PageError::from(Obstacle::NoSuchLine { line: line.to_owned() })
}

/// The day the order was asked for.
fn date_of(inputs: &Inputs) -> Option<&str> {
    inputs.order["date"].as_str()
}
