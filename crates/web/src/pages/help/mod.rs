//! Help: how things are done, what the words mean, and what a size is.

mod glossary;

mod size;

use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::response::Html;
use axum::routing::get;
use serde::Deserialize;

use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;
use glossary::{Part, parts};
use size::Said;

/// The how-to pages: end of the address, title.
const TOPICS: [(&str, &str); 6] = [
    ("first-order", "From an order to labelled rings in ten steps"),
    ("chains", "From a pattern to a linked piece"),
    ("turns", "Three counts of turns"),
    ("standing", "Tried, worked out, assumed"),
    ("data-file", "Your data: one file, backups, another computer"),
    ("keyboard", "Without a mouse, larger, darker"),
];

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/help", get(index))
        .route("/help/glossary", get(words))
        .route("/help/{topic}", get(topic))
}

#[derive(Deserialize)]
struct Asked {
    size: Option<String>,
}

#[derive(Template)]
#[template(path = "pages/help/index.html")]
struct Index {
    frame: Frame,
    topics: [(&'static str, &'static str); 6],
    size: String,
    said: Option<Said>,
}

async fn frame(app: &App) -> Result<Frame, PageError> {
    let at = app.clone();
    app.read(move |view| Ok(Frame::of(&at, view, "help")?)).await
}

async fn index(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let said = asked.size.as_deref().map(size::say);
    let size = asked.size.unwrap_or_default();
    Ok(Html(Index { frame: frame(&app).await?, topics: TOPICS, size, said }.render()?))
}

#[derive(Template)]
#[template(path = "pages/help/glossary.html")]
struct Glossary {
    frame: Frame,
    parts: Vec<Part>,
}

async fn words(State(app): State<App>) -> Result<Html<String>, PageError> {
    Ok(Html(Glossary { frame: frame(&app).await?, parts: parts() }.render()?))
}

#[derive(Template)]
#[template(path = "pages/help/topic.html")]
struct Topic {
    frame: Frame,
    topic: &'static str,
    title: &'static str,
    data_file: String,
}

async fn topic(
    State(app): State<App>,
    Path(asked): Path<String>,
) -> Result<Html<String>, PageError> {
    let found = TOPICS.into_iter().find(|(topic, _)| *topic == asked);
    let (topic, title) = found.ok_or(PageError::NotFound { what: "help on this" })?;
    let data_file = app.store().path().display().to_string();
    Ok(Html(Topic { frame: frame(&app).await?, topic, title, data_file }.render()?))
}
