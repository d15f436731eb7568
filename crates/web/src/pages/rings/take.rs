//! Rings taken out of a batch, and a batch that is used up, sold or back again.

use askama::Template;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_calc::quantity::parse_count;
use linkwright_store::Id;
use linkwright_store::records::Batch;
use serde::Deserialize;

use super::show::Show;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Taken {
    #[serde(default)]
    taken: String,
    #[serde(default)]
    what_for: String,
}

pub(super) async fn take(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed }: Sent<Taken>,
) -> Result<Response, PageError> {
    let id = Id::<Batch>::new(id);
    let batch = app.read(move |view| Ok(view.get(id)?)).await?;
    let mut complaints = Complaints::default();
    let taken = complaints.take("taken", parse_count(&typed.taken)).map(|taken| taken.value());
    if taken == Some(0) {
        complaints.add("taken", "say how many rings, at least 1");
    }
    if let Some(taken) = taken.filter(|taken| *taken > batch.rings) {
        let rings = batch.rings;
        complaints
            .add("taken", format!("{taken} are more than the {rings} there are; count again"));
    }
    let Some(taken) = taken.filter(|_| complaints.is_empty()) else {
        let at = app.clone();
        let page = app
            .read(move |view| {
                let mut page = Show::of(&at, view, id)?;
                page.taken = typed.taken;
                page.what_for = typed.what_for;
                page.complaints = complaints;
                Ok(page)
            })
            .await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let what_for = match typed.what_for.trim() {
        "" => String::new(),
        what_for => format!(" for {what_for}"),
    };
    let what = format!("Took {taken} rings out of {}{what_for}", batch.code);
    app.act(&token, what, move |act| {
        let mut batch = act.get(id)?;
        // Another window may have taken some meanwhile.
        batch.rings = batch
            .rings
            .checked_sub(taken)
            .ok_or(PageError::Refused(linkwright_store::Conflict::ChangedMeanwhile))?;
        Ok(act.change(id, &batch)?)
    })
    .await?;
    Ok(Redirect::to(&format!("/rings/{id}")).into_response())
}

#[derive(Deserialize)]
pub(super) struct How {
    #[serde(default)]
    how: String,
}

pub(super) async fn gone(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed }: Sent<How>,
) -> Result<Redirect, PageError> {
    let how = match typed.how.as_str() {
        "used up" => "used up",
        "sold" => "sold",
        _ => return Err(PageError::Unreadable("say whether it is used up or sold".to_owned())),
    };
    let today = app.clock().today().to_string();
    move_to(app, token, id, how, Some(today)).await
}

pub(super) async fn back(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, .. }: Sent<How>,
) -> Result<Redirect, PageError> {
    move_to(app, token, id, "back on the shelf", None).await
}

async fn move_to(
    app: App,
    token: crate::form::Token,
    id: i64,
    how: &str,
    gone_on: Option<String>,
) -> Result<Redirect, PageError> {
    let id = Id::<Batch>::new(id);
    let code = app.read(move |view| Ok(view.get(id)?.code)).await?;
    app.act(&token, format!("Batch {code} {how}"), move |act| {
        let mut batch = act.get(id)?;
        batch.gone_on = gone_on;
        Ok(act.change(id, &batch)?)
    })
    .await?;
    Ok(Redirect::to(&format!("/rings/{id}")))
}
