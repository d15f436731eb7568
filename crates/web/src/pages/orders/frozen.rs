//! A run sheet as it was frozen when its run was started, with what has changed since.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::response::Html;
use linkwright_answers::run_sheet::html;
use linkwright_answers::run_sheet::view::Note;
use linkwright_store::records::{FrozenSheet, RingOrder, Run};
use linkwright_store::{Id, Saved, View};
use serde::Deserialize;

use crate::error::PageError;
use crate::frame::Frame;
use crate::planning::{Change, changes_since, shown};
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Asked {
    #[serde(default)]
    money: String,
}

#[derive(Template)]
#[template(path = "pages/order_frozen.html")]
struct FrozenPage {
    frame: Frame,
    id: Id<RingOrder>,
    sheet_id: Id<FrozenSheet>,
    line: String,
    frozen_at: String,
    version: String,
    run: Option<Id<Run>>,
    money_hidden: bool,
    drawn: Arc<Drawn>,
}

/// The sheet as it was frozen.
pub(super) async fn show(
    State(app): State<App>,
    Path((order, sheet)): Path<(i64, i64)>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let (id, sheet_id) = (Id::new(order), Id::new(sheet));
    let page = app.read(move |view| page(&at, view, id, sheet_id, asked.money == "hidden")).await?;
    Ok(Html(page.render()?))
}

fn page(
    app: &App,
    view: &View<'_>,
    id: Id<RingOrder>,
    sheet_id: Id<FrozenSheet>,
    money_hidden: bool,
) -> Result<FrozenPage, PageError> {
    let frozen = view.get(sheet_id)?;
    if frozen.order_id != id {
        return Err(PageError::NotFound { what: "run sheet" });
    }
    let run = view.run_of_sheet(sheet_id)?;
    // The long answer is read and drawn once for as long as no record changes.
    let name = format!("frozen sheet {sheet_id} shown, money hidden: {money_hidden}");
    let drawn = view.worked_out(&name, || drawn(view, &frozen, run.as_ref(), money_hidden))?;
    Ok(FrozenPage {
        frame: Frame::of(app, view, "orders")?,
        id,
        sheet_id,
        drawn,
        line: frozen.line_name.clone(),
        frozen_at: app.clock().shown(frozen.frozen_at),
        version: frozen.program_version.clone(),
        run: run.as_ref().map(|run| run.id),
        money_hidden,
    })
}

/// What the page shows of the sheet itself.
struct Drawn {
    order: String,
    html: String,
    changes: Vec<Change>,
}

fn drawn(
    view: &View<'_>,
    frozen: &FrozenSheet,
    run: Option<&Saved<Run>>,
    money_hidden: bool,
) -> Result<Drawn, PageError> {
    let mut plan = shown(frozen)?;
    if money_hidden {
        plan = plan.without_money();
    }
    let note = run.map_or("", |run| run.record.note.as_str());
    if !note.is_empty() {
        let note = Note { heading: "Noted when it was started".to_owned(), text: note.to_owned() };
        plan.sheets.iter_mut().for_each(|sheet| sheet.notes.push(note.clone()));
    }
    Ok(Drawn {
        order: plan.order.clone(),
        html: html::part(plan)?,
        changes: changes_since(view, frozen, run.map(|run| run.id))?,
    })
}
