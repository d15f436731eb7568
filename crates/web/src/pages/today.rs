//! Today: what is open, what is in hand.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::Html;
use axum::routing::get;

use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/", get(today))
}

#[derive(Template)]
#[template(path = "pages/today.html")]
struct Today {
    frame: Frame,
}

async fn today(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app.read(move |view| Ok(Today { frame: Frame::of(&at, view, "today")? })).await?;
    Ok(Html(page.render()?))
}
