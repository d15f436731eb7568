//! Run sheets of an order, of one of its lines, or as frozen; and the sheet of a line of kits.

use axum::extract::{Path, Query, State};
use axum::response::Response;
use linkwright_answers::chain::name_of_size;
use linkwright_answers::run_sheet::Money;
use linkwright_sheets::{CoilLength, KitSheet, RunSheets};
use linkwright_store::records::{FrozenSheet, OrderLine, RingOrder};
use linkwright_store::{Id, View};

use super::{Asked, edition_of_program, printed};
use crate::error::PageError;
use crate::planning::{Frozen, FrozenGroup, Obstacle, Planned, at_hand, plan_order, shown};
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
    let (money, at) = (asked.money(), app.clone());
    let (name, sheets) = app
        .read(move |view| {
            let planned = planned(&at, view, Id::new(id))?;
            let sheets = RunSheets::of(&planned.plan, planned.inputs.date(), money);
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
    let (money, at) = (asked.money(), app.clone());
    let (name, sheets) = app
        .read(move |view| {
            let (planned, line) = planned_line(&at, view, Id::new(id), asked.size)?;
            let sheets = RunSheets::of_line(&planned.plan, &line, planned.inputs.date(), money);
            let sheets = sheets.ok_or_else(|| gone(&line))?;
            Ok((format!("run sheet {} {line}", planned.plan.order), sheets))
        })
        .await?;
    printed(&name, asked.paper()?, move |paper| sheets.pdf(paper)).await
}

/// The sheet exactly as it was shown when it was frozen, whatever has changed since.
pub(super) async fn of_frozen(
    State(app): State<App>,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let money = asked.money();
    let frozen = app.read(move |view| Ok(view.get(Id::<FrozenSheet>::new(id))?)).await?;
    let shown = shown(&frozen)?;
    let shown = if money == Money::Shown { shown } else { shown.without_money() };
    let groups = Frozen::of(&frozen)?.coils.groups;
    let coils: Vec<CoilLength> = groups.iter().map(coil_length).collect();
    let name = format!("run sheet {} {}", shown.order, frozen.line_name);
    let remark = format!("as frozen on {}", frozen.frozen_at.date());
    let sheets = RunSheets::as_shown(shown, &coils).remarked(&remark);
    printed(&name, asked.paper()?, move |paper| sheets.pdf(paper)).await
}

fn coil_length(group: &FrozenGroup) -> CoilLength {
    CoilLength {
        length_mm: group.coil_length_mm,
        relaxed_turns: group.relaxed_turns_needed,
        wound_turns: group.wound_turns,
    }
}

pub(super) async fn kit(
    State(app): State<App>,
    Path(line): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let (edition, at) = (edition_of_program(&app), app.clone());
    let (name, sheet) = app
        .read(move |view| {
            let (planned, line) = planned_line(&at, view, Id::new(line), asked.size)?;
            let sheet = KitSheet::of(planned.sheet(&line).ok_or_else(|| gone(&line))?, edition);
            let sheet = sheet.ok_or(PageError::NotFound { what: "line of kits" })?;
            Ok((format!("kit {line}"), sheet))
        })
        .await?;
    printed(&name, asked.paper()?, move |paper| sheet.pdf(paper)).await
}

/// The order of a line worked out, and the name of the sheet of one of its ring sizes.
fn planned_line(
    app: &App,
    view: &View<'_>,
    id: Id<OrderLine>,
    size: Option<usize>,
) -> Result<(Planned, String), PageError> {
    let line = view.get(id)?;
    let order: Id<RingOrder> = line.order_id;
    let sheet = name_of_size(&line.name, size.unwrap_or(1));
    Ok((planned(app, view, order)?, sheet))
}

/// An order worked out.
fn planned(app: &App, view: &View<'_>, order: Id<RingOrder>) -> Result<Planned, PageError> {
    let taught = app.taught(view)?;
    at_hand(app, view, &taught, order)?;
    Ok(plan_order(view, &taught, order)??)
}

fn gone(line: &str) -> PageError {
    PageError::from(Obstacle::NoSuchLine { line: line.to_owned() })
}
