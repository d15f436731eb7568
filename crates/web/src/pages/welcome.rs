//! Welcome: an empty workshop of one's own, or a look around an invented one.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use linkwright_store::Act;
use linkwright_store::records::Workshop;
use serde::Deserialize;

use crate::error::PageError;
use crate::form::{Complaints, Sent, given};
use crate::frame::Frame;
use crate::sample;
use crate::state::App;
use crate::welcome::ADDRESS;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route(ADDRESS, get(show).post(start_empty))
        .route("/welcome/sample", post(start_sample))
}

#[derive(Template)]
#[template(path = "pages/welcome.html")]
struct Welcome {
    frame: Frame,
    complaints: Complaints,
    /// Not called `name`: the field macro binds that word itself.
    name_typed: String,
    habits: Workshop,
    data_file: String,
}

async fn page(app: &App, name_typed: String, complaints: Complaints) -> Result<String, PageError> {
    let at = app.clone();
    let frame = app.read(move |view| Ok(Frame::of(&at, view, "")?)).await?;
    let data_file = app.store().path().display().to_string();
    let habits = usual_habits(String::new());
    Ok(Welcome { frame, complaints, name_typed, habits, data_file }.render()?)
}

async fn show(State(app): State<App>) -> Result<Response, PageError> {
    if app.has_workshop().await? {
        return Ok(Redirect::to("/").into_response());
    }
    Ok(Html(page(&app, String::new(), Complaints::default()).await?).into_response())
}

#[derive(Deserialize)]
struct OwnWorkshop {
    name: String,
}

async fn start_empty(
    State(app): State<App>,
    sent: Sent<OwnWorkshop>,
) -> Result<Response, PageError> {
    let mut complaints = Complaints::default();
    let Some(name) = given(&sent.typed.name) else {
        complaints.add("name", "give the workshop a name; it stands on paper and can be changed");
        let html = page(&app, sent.typed.name, complaints).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(html)).into_response());
    };
    let what = format!("Started the workshop {name}");
    app.act(&sent.token, what, move |act| {
        unless_chosen(act, |act| Ok(act.add(&usual_habits(name)).map(drop)?))
    })
    .await?;
    Ok(Redirect::to("/").into_response())
}

#[derive(Deserialize)]
struct Nothing {}

async fn start_sample(State(app): State<App>, sent: Sent<Nothing>) -> Result<Redirect, PageError> {
    let what = "Filled in the sample workshop".to_owned();
    let today = app.clock().today();
    app.act(&sent.token, what, move |act| unless_chosen(act, |act| sample::fill(act, today)))
        .await?;
    Ok(Redirect::to("/"))
}

/// Two windows may both show the welcome page; the second choice changes nothing.
fn unless_chosen(
    act: &Act<'_>,
    choose: impl FnOnce(&Act<'_>) -> Result<(), PageError>,
) -> Result<(), PageError> {
    if act.count::<Workshop>()? == 0 {
        choose(act)?;
    }
    Ok(())
}

/// Habits assumed until counted at the bench: common practice, no source.
fn usual_habits(name: String) -> Workshop {
    Workshop {
        name,
        confidence: "95 %".to_owned(),
        end_turns: 2,
        stop_turns: None,
        tails: "40 mm".to_owned(),
        packing: 1.01,
        set_up_minutes: 20.0,
        per_coil_minutes: 10.0,
        sample: false,
        hour_cost_typed: None,
        ring_worth_typed: None,
        scrap_paid_typed: None,
    }
}
