//! Choices: the colours and the hand of one device.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::header::SET_COOKIE;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use serde::Deserialize;

use crate::choices::{COOKIE_NAME, Choices, Scheme};
use crate::error::PageError;
use crate::form::Sent;
use crate::frame::Frame;
use crate::state::App;

const ADDRESS: &str = "/help/choices";

/// Some browsers cut a cookie's life to 400 days.
const KEPT_DAYS: u32 = 400;

pub(crate) fn routes() -> Router<App> {
    Router::new().route(ADDRESS, get(show).post(keep))
}

#[derive(Template)]
#[template(path = "pages/choices.html")]
struct ChoicesPage {
    frame: Frame,
    schemes: [Scheme; 4],
}

async fn show(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let frame = app.read(move |view| Ok(Frame::of(&at, view, "help")?)).await?;
    Ok(Html(ChoicesPage { frame, schemes: Scheme::ALL }.render()?))
}

#[derive(Deserialize)]
struct Chosen {
    scheme: String,
    hand: String,
}

async fn keep(sent: Sent<Chosen>) -> Result<Response, PageError> {
    let scheme = Scheme::named(&sent.typed.scheme).ok_or_else(|| {
        PageError::Unreadable(format!("there is no scheme called {:?}", sent.typed.scheme))
    })?;
    let choices = Choices { scheme, left_hand: sent.typed.hand == "left" };
    let seconds = KEPT_DAYS * 24 * 60 * 60;
    let cookie = format!(
        "{COOKIE_NAME}={}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Strict",
        choices.cookie_value()
    );
    Ok(([(SET_COOKIE, cookie)], Redirect::to(ADDRESS)).into_response())
}
