//! One version of a sheet: made, shown as it was, given to a class.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_store::records::{Handout, HandoutGiven};
use linkwright_store::{Id, StoreError, View};
use serde::Deserialize;
use time::Date;
use time::format_description::well_known::Iso8601;

use super::sheet::{Kind, Sheet};
use super::{blade_chart, chart, files, fixed, kit};
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::pages::chart::publish::kept as chart_of;
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Wanted {
    kind: String,
    /// The line of kits.
    #[serde(default)]
    line: String,
    /// Metal and temper of a blade chart.
    #[serde(default)]
    metal: String,
    #[serde(default)]
    temper: String,
}

/// Makes a new version and keeps what it says.
pub(super) async fn make(
    State(app): State<App>,
    Sent { token, typed }: Sent<Wanted>,
) -> Result<Redirect, PageError> {
    let kind = Kind::named(&typed.kind).ok_or(PageError::NotFound { what: "sheet" })?;
    let at = app.clone();
    let mut made = app
        .read(move |view| match kind {
            Kind::BladeChart => blade_chart::made(&at, view, &typed.metal, &typed.temper),
            Kind::WallChart => chart::made(view),
            Kind::Kit => {
                let line = typed.line.parse().map_err(|_| {
                    PageError::Unreadable("choose the line of kits the sheet is for".to_owned())
                })?;
                kit::made(view, &*at.taught_by_all(view)?, line)
            }
            Kind::TrialCard => Ok(fixed::trial_card()),
            Kind::Cautions => Ok(fixed::cautions()),
        })
        .await?;
    let made_on = app.clock().today().to_string();
    let what = format!("New version of {}", made.title);
    let id = app
        .act(&token, what, move |act| {
            let version = act.last_version(kind.word(), &made.title)? + 1;
            if let Some(chart) = &mut made.chart {
                chart.version = format!("Version {version}");
            }
            let content = made.content().map_err(|error| PageError::Inside(Box::new(error)))?;
            Ok(act.add(&Handout {
                kind: kind.word().to_owned(),
                version,
                title: made.title,
                made_on,
                trials: made.trials,
                content,
            })?)
        })
        .await?;
    Ok(match id {
        Some(id) => Redirect::to(&format!("/handouts/{id}")),
        None => Redirect::to("/handouts"),
    })
}

#[derive(Deserialize)]
pub(super) struct Paper {
    #[serde(default)]
    paper: String,
}

#[derive(Template)]
#[template(path = "pages/handouts/show.html")]
struct Show {
    frame: Frame,
    number: i64,
    handout: Handout,
    sheet: Sheet,
    /// The files of a blade chart: the end of the address, and in words.
    files: Vec<(&'static str, &'static str)>,
    letter: bool,
    given: Vec<(String, String)>,
    class_name: String,
    given_on: String,
    complaints: Complaints,
}

impl Show {
    fn of(app: &App, view: &View<'_>, id: Id<Handout>) -> Result<Show, PageError> {
        let handout = view.get(id)?;
        let sheet = serde_json::from_str(&handout.content).map_err(|error| {
            StoreError::Corrupt { record: "handout".to_owned(), what: error.to_string() }
        })?;
        let given = view.classes_with(id)?.into_iter();
        let files = if chart_of(&handout).is_some() { files::FILES.to_vec() } else { Vec::new() };
        Ok(Show {
            frame: Frame::of(app, view, "handouts")?,
            number: id.number(),
            handout,
            sheet,
            files,
            letter: false,
            given: given.map(|given| (given.record.class_name, given.record.given_on)).collect(),
            class_name: String::new(),
            given_on: app.clock().today().to_string(),
            complaints: Complaints::default(),
        })
    }
}

pub(super) async fn show(
    State(app): State<App>,
    Path(id): Path<i64>,
    Query(asked): Query<Paper>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let mut page = app.read(move |view| Show::of(&at, view, Id::new(id))).await?;
    page.letter = asked.paper == "letter";
    Ok(Html(page.render()?))
}

#[derive(Deserialize)]
pub(super) struct Given {
    #[serde(default)]
    class_name: String,
    #[serde(default)]
    given_on: String,
}

/// Notes which class had this version.
pub(super) async fn give(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed }: Sent<Given>,
) -> Result<Response, PageError> {
    let id = Id::<Handout>::new(id);
    let mut complaints = Complaints::default();
    if typed.class_name.trim().is_empty() {
        complaints.add("class_name", "say which class, such as \u{201c}Tuesday evening\u{201d}");
    }
    if Date::parse(typed.given_on.trim(), &Iso8601::DATE).is_err() {
        complaints.add("given_on", "type the day as year-month-day, such as 2026-11-25");
    }
    if !complaints.is_empty() {
        let at = app.clone();
        let mut page = app.read(move |view| Show::of(&at, view, id)).await?;
        page.class_name = typed.class_name;
        page.given_on = typed.given_on;
        page.complaints = complaints;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    }
    let class_name = typed.class_name.trim().to_owned();
    let given_on = typed.given_on.trim().to_owned();
    app.act(&token, format!("Handed out to {class_name}"), move |act| {
        act.get(id)?;
        Ok(act.add(&HandoutGiven { handout_id: id, class_name, given_on })?)
    })
    .await?;
    Ok(Redirect::to(&format!("/handouts/{id}")).into_response())
}
