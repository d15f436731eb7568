//! Removing the sample workshop in one step.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use serde::Deserialize;

use crate::error::PageError;
use crate::form::Sent;
use crate::frame::Frame;
use crate::state::App;
use crate::welcome;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/workshop/sample", get(ask).post(remove))
}

#[derive(Template)]
#[template(path = "pages/sample.html")]
struct RemoveSample {
    frame: Frame,
    kept_in: String,
}

async fn ask(State(app): State<App>) -> Result<Response, PageError> {
    let at = app.clone();
    let frame = app.read(move |view| Ok(Frame::of(&at, view, "workshop")?)).await?;
    if !frame.sample {
        return Ok(Redirect::to("/workshop").into_response());
    }
    let folder = app.store().path().parent().map(|folder| folder.display().to_string());
    let kept_in = folder.unwrap_or_default();
    Ok(Html(RemoveSample { frame, kept_in }.render()?).into_response())
}

#[derive(Deserialize)]
struct Nothing {}

async fn remove(State(app): State<App>, _sent: Sent<Nothing>) -> Result<Redirect, PageError> {
    app.remove_sample().await?;
    Ok(Redirect::to(welcome::ADDRESS))
}
