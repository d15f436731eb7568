//! One trial: what was noted, what it was before, and what it teaches.

use askama::Template;
use axum::extract::{Path, State};
use axum::response::{Html, Redirect};
use linkwright_answers::printout::both_lengths;
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::quantity::Length;
use linkwright_store::records::{Blade, Trial, WireLot};
use linkwright_store::{ChangeKind, FormerValue, Id, PhotoShown, Record, View};
use serde::Deserialize;
use serde_json::{Map, Value};

use super::lesson::{Lesson, lesson};
use super::{metal_name, metals};
use crate::error::PageError;
use crate::form::Sent;
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/trials/one.html")]
struct OnePage {
    frame: Frame,
    id: Id<Trial>,
    trial: Trial,
    rows: Vec<Noted>,
    lesson: Lesson,
    photos: Vec<PhotoShown>,
}

/// One thing that was noted.
struct Noted {
    label: &'static str,
    value: String,
    /// What it was before, newest first.
    was: Vec<String>,
    link: Option<String>,
}

/// Columns of a trial as the page shows them; one that is typed stands for its millimetres too.
const SHOWN: &[(&str, &str)] = &[
    ("tried_on", "Day"),
    ("worker", "By"),
    ("metal", "Metal"),
    ("temper", "Temper as bought"),
    ("annealed", "Annealed at the bench"),
    ("wire_typed", "Wire"),
    ("rod_typed", "Rod"),
    ("wire_lot_id", "Lot of wire"),
    ("blade_name", "Blade"),
    ("blade_diameter_mm", "Its diameter"),
    ("projection_typed", "Projection"),
    ("turns_wound", "Turns wound"),
    ("turns_relaxed", "Turns left, sprung open"),
    ("blade_event", "The blade"),
    ("inside_typed", "Inside diameters read"),
    ("good", "Good rings"),
    ("uncut", "Uncut"),
    ("nicked", "Nicked or bent"),
    ("crushed", "Crushed"),
    ("outcome", "How it went"),
    ("note", "Note"),
];

/// Shows a trial.
pub(super) async fn one(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let id = Id::<Trial>::new(id);
            let trial = view.get(id)?;
            let blade = trial.blade_id.and_then(|blade| view.get::<Blade>(blade).ok());
            Ok(OnePage {
                frame: Frame::of(&at, view, "trials")?,
                id,
                rows: noted(view, id, &trial)?,
                lesson: lesson(&trial, blade.as_ref()),
                photos: view.photos_of(Trial::TABLE, id.number())?,
                trial,
            })
        })
        .await?;
    Ok(Html(page.render()?))
}

#[derive(Deserialize)]
pub(super) struct Nothing {}

/// Takes a trial out of sight.
pub(super) async fn remove(
    State(app): State<App>,
    Path(id): Path<i64>,
    sent: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let id = Id::<Trial>::new(id);
    let trial = app.read(move |view| Ok(view.get(id)?)).await;
    // Sent twice, it has gone already.
    if let Ok(trial) = trial {
        let what = format!("Removed trial {}", trial.title());
        app.act(&sent.token, what, move |act| Ok(act.remove(id)?)).await?;
    }
    Ok(Redirect::to("/trials"))
}

fn noted(view: &View<'_>, id: Id<Trial>, trial: &Trial) -> Result<Vec<Noted>, PageError> {
    let metals = metals(view)?;
    let Ok(Value::Object(now)) = serde_json::to_value(trial) else { return Ok(Vec::new()) };
    let former = view.former_values(id)?;
    let lot_name = |value: &Value| {
        let lot = value.as_i64().map(Id::<WireLot>::new);
        lot.and_then(|lot| view.get(lot).ok()).map_or_else(String::new, |lot| lot.name)
    };
    let text = |column: &str, value: &Value| match (column, value) {
        (_, Value::Null) => String::new(),
        ("wire_lot_id", value) => lot_name(value),
        ("metal", Value::String(key)) => metal_name(&metals, key),
        ("annealed", value) => {
            let yes = value.as_bool().unwrap_or(false) || value.as_i64() == Some(1);
            if yes { "yes" } else { "no" }.to_owned()
        }
        ("blade_event", Value::String(word)) if word == "none" => "all right".to_owned(),
        ("blade_diameter_mm", value) => value.as_f64().map_or_else(String::new, both_lengths),
        (_, Value::String(text)) => text.clone(),
        (_, other) => other.to_string(),
    };
    let rows = SHOWN.iter().map(|(column, label)| {
        let value = now.get(*column).map(|value| text(column, value)).unwrap_or_default();
        let was = was(column, &value, &former, &text);
        let value = match size(trial, column) {
            Some(size) if !value.is_empty() => format!("{value} = {size}"),
            _ => value,
        };
        Noted {
            label,
            was,
            link: (*column == "blade_name")
                .then_some(trial.blade_id)
                .flatten()
                .map(|blade| format!("/workshop/blades/{blade}")),
            value,
        }
    });
    Ok(rows.filter(|row| !row.value.is_empty() || !row.was.is_empty()).collect())
}

/// What was typed in both systems, where it is a size.
fn size(trial: &Trial, column: &str) -> Option<String> {
    match column {
        "wire_typed" => Some(in_both_systems(Length::from_mm(trial.wire_mm)).to_string()),
        "rod_typed" => Some(both_lengths(trial.rod_mm)),
        "projection_typed" => trial.projection_mm.map(both_lengths),
        _ => None,
    }
}

/// What a column was, each with the day it was changed; newest first.
fn was(
    column: &str,
    now: &str,
    former: &[FormerValue],
    text: &impl Fn(&str, &Value) -> String,
) -> Vec<String> {
    let mut later = now.to_owned();
    let mut found = Vec::new();
    let changes = former.iter().filter(|value| value.kind == ChangeKind::Changed);
    for (value, before) in changes.filter_map(|value| Some((value, value.former.as_ref()?))) {
        let before = of(before, column, text);
        if before != later {
            let at = value.action.at.to_string();
            let day = at.get(..16).unwrap_or(&at).replace('T', " ");
            let shown = if before.is_empty() { "not noted" } else { &before };
            found.push(format!("was {shown} until {day} UTC"));
        }
        later = before;
    }
    found
}

fn of(record: &Map<String, Value>, column: &str, text: &impl Fn(&str, &Value) -> String) -> String {
    record.get(column).map(|value| text(column, value)).unwrap_or_default()
}
