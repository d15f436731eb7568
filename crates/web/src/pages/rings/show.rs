//! One batch: all that is known of it, and where it came from.

use askama::Template;
use axum::extract::{Path, State};
use axum::response::{Html, Redirect};
use linkwright_store::records::{Batch, Run, WireLot};
use linkwright_store::{Id, PhotoShown, StoreError, View};

use super::words::{self, Fact};
use crate::error::PageError;
use crate::form::Complaints;
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/rings/show.html")]
pub(super) struct Show {
    frame: Frame,
    number: i64,
    batch: Batch,
    rings: String,
    facts: Vec<Fact>,
    run: Option<(i64, String)>,
    lot: Option<(i64, String)>,
    /// Trials of its run: number and words.
    trials: Vec<(i64, String)>,
    photos: Vec<PhotoShown>,
    /// What starts the same again, after `/orders/new?`.
    like: String,
    pub(super) taken: String,
    pub(super) what_for: String,
    pub(super) complaints: Complaints,
}

impl Show {
    pub(super) fn of(app: &App, view: &View<'_>, id: Id<Batch>) -> Result<Show, PageError> {
        let batch = view.get(id)?;
        let run = batch.run_id.map(|run| Ok::<_, StoreError>((run, view.get::<Run>(run)?)));
        let lot =
            batch.wire_lot_id.map(|lot| Ok::<_, StoreError>((lot, view.get::<WireLot>(lot)?)));
        let trials = match batch.run_id {
            Some(run) => view.trials_from_run(run)?,
            None => Vec::new(),
        };
        Ok(Show {
            frame: Frame::of(app, view, "rings")?,
            number: id.number(),
            rings: words::count(&batch),
            facts: words::facts(&batch, &words::metals(view)?),
            run: run.transpose()?.map(|(id, run)| (id.number(), run.name)),
            lot: lot.transpose()?.map(|(id, lot)| (id.number(), lot.name)),
            trials: trials
                .into_iter()
                .map(|trial| {
                    let record = trial.record;
                    let words = format!("{}: {}", record.tried_on, record.outcome);
                    (trial.id.number(), words)
                })
                .collect(),
            photos: view.photos_of("batch", id.number())?,
            like: like(id, &batch),
            batch,
            taken: String::new(),
            what_for: String::new(),
            complaints: Complaints::default(),
        })
    }
}

pub(super) async fn show(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app.read(move |view| Show::of(&at, view, Id::new(id))).await?;
    Ok(Html(page.render()?))
}

/// The address on a label: opens the batch with that code.
pub(super) async fn by_code(
    State(app): State<App>,
    Path(code): Path<String>,
) -> Result<Redirect, PageError> {
    let found = app.read(move |view| Ok(view.batch_of_code(&code)?)).await?;
    let batch = found.ok_or(PageError::NotFound { what: "batch with that code" })?;
    Ok(Redirect::to(&format!("/rings/{}", batch.id)))
}

/// Metal, temper, wire and size of a batch as fields of a new order's line.
fn like(id: Id<Batch>, batch: &Batch) -> String {
    let mut query = vec![
        ("like-batch", id.to_string()),
        ("metal", batch.metal.clone()),
        ("temper", batch.temper.clone()),
        ("wire", batch.wire_typed.clone()),
    ];
    if let Some(closed_mm) = batch.closed_inside_mm {
        query.push(("ring", format!("{closed_mm:.2} mm inside closed")));
    } else if let Some(open_mm) = batch.inside_mm {
        query.push(("ring", format!("{open_mm:.2} mm inside open")));
    } else if let Some(rod) = &batch.rod_typed {
        query.push(("rod", rod.clone()));
    }
    let pairs: Vec<String> = query
        .into_iter()
        .map(|(key, value)| format!("{key}={}", words::in_address(&value)))
        .collect();
    pairs.join("&")
}
