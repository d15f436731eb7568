//! Counting by weight, with what it is uncertain by, and saving it to a batch.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_store::records::Batch;
use linkwright_store::{Id, View};

use super::weighing::{Weighed, WeighingEntry};
use super::words;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/rings/count.html")]
struct Count {
    frame: Frame,
    entry: WeighingEntry,
    /// The batch that is counted: number, code, metal, rings so far.
    batch: Option<(i64, String, String, String)>,
    weighed: Option<Weighed>,
    complaints: Complaints,
}

impl Count {
    fn of(app: &App, view: &View<'_>, entry: WeighingEntry) -> Result<Count, PageError> {
        let batch = match number(&entry)? {
            None => None,
            Some(id) => {
                let batch = view.get(id)?;
                let metal = words::metal_name(&words::metals(view)?, &batch.metal);
                let so_far = words::count(&batch);
                Some((id.number(), batch.code, metal, so_far))
            }
        };
        let mut complaints = Complaints::default();
        let weighed = if entry.is_blank() { None } else { entry.weighed(&mut complaints) };
        Ok(Count { frame: Frame::of(app, view, "rings")?, entry, batch, weighed, complaints })
    }

    fn answer(self) -> Result<Response, PageError> {
        let status = if self.complaints.is_empty() {
            StatusCode::OK
        } else {
            StatusCode::UNPROCESSABLE_ENTITY
        };
        Ok((status, Html(self.render()?)).into_response())
    }
}

fn number(entry: &WeighingEntry) -> Result<Option<Id<Batch>>, PageError> {
    match entry.batch.trim() {
        "" => Ok(None),
        number => number.parse().map(Some).map_err(|_| PageError::NotFound { what: "batch" }),
    }
}

pub(super) async fn ask(
    State(app): State<App>,
    Query(entry): Query<WeighingEntry>,
) -> Result<Response, PageError> {
    let at = app.clone();
    app.read(move |view| Count::of(&at, view, entry)).await?.answer()
}

pub(super) async fn save(
    State(app): State<App>,
    Sent { token, typed }: Sent<WeighingEntry>,
) -> Result<Response, PageError> {
    let id = number(&typed)?.ok_or(PageError::NotFound { what: "batch" })?;
    let mut complaints = Complaints::default();
    let Some(weighed) = typed.weighed(&mut complaints) else {
        let at = app.clone();
        return app.read(move |view| Count::of(&at, view, typed)).await?.answer();
    };
    let code = app.read(move |view| Ok(view.get(id)?.code)).await?;
    let Weighed { rings, two_sigma, how, .. } = weighed;
    let what = format!("Counted {rings} rings of {code} by weight");
    app.act(&token, what, move |act| {
        let mut batch = act.get(id)?;
        batch.rings = rings;
        batch.rings_uncertainty = Some(two_sigma);
        batch.counted_how = how;
        Ok(act.change(id, &batch)?)
    })
    .await?;
    Ok(Redirect::to(&format!("/rings/{id}")).into_response())
}
