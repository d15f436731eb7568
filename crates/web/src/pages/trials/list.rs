//! The list of trials: newest first, searched, filtered, page by page.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use linkwright_calc::metal::{Catalogue, Hardness};
use linkwright_calc::quantity::Question;
use linkwright_store::records::{Blade, Outcome, Trial};
use linkwright_store::{Id, Saved};

use super::address::{Address, Chip, address};
use super::{metal_name, metals};
use crate::error::PageError;
use crate::form::Complaints;
use crate::frame::Frame;
use crate::state::App;

/// Trials on a page.
const PAGE: u32 = 50;

#[derive(Template)]
#[template(path = "pages/trials/list.html")]
struct List {
    frame: Frame,
    address: Address,
    complaints: Complaints,
    chips: Vec<Chip>,
    said: Vec<String>,
    is_bare: bool,
    asked: Vec<Asked>,
    metals: Vec<(String, String)>,
    tempers: Vec<&'static str>,
    blades: Vec<String>,
    outcomes: &'static [Outcome],
    rows: Vec<Row>,
    is_any: bool,
    older: Option<String>,
    newest: Option<String>,
    exports: Vec<(&'static str, String)>,
}

/// What could mean two things, with a way to say which.
struct Asked {
    question: Question,
    answers: Vec<(String, String)>,
}

/// One trial in the list.
pub(super) struct Row {
    pub(super) id: Id<Trial>,
    pub(super) title: String,
    pub(super) metal: String,
    pub(super) temper: String,
    pub(super) blade: String,
    pub(super) rings: String,
    pub(super) outcome: Outcome,
    pub(super) tried_on: String,
}

impl Row {
    pub(super) fn of(trial: &Saved<Trial>, metals: &Catalogue) -> Row {
        let record = &trial.record;
        Row {
            id: trial.id,
            title: record.title(),
            metal: metal_name(metals, &record.metal),
            temper: record.temper.clone(),
            blade: record.blade_name.clone(),
            rings: rings_of(record),
            outcome: record.outcome,
            tried_on: record.tried_on.clone(),
        }
    }
}

/// Good rings of those counted, such as "41 of 45".
pub(super) fn rings_of(trial: &Trial) -> String {
    let Some(good) = trial.good else { return "not counted".to_owned() };
    let others = [trial.uncut, trial.nicked, trial.crushed];
    let counted: u64 = others.into_iter().flatten().chain([good]).map(u64::from).sum();
    format!("{good} of {counted} good")
}

/// Shows the list.
pub(super) async fn list(
    State(app): State<App>,
    Query(typed): Query<Address>,
) -> Result<Response, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let metals = metals(view)?;
            let (filter, understood, complaints) = typed.filter(&metals);
            let found = view.trials(&filter, typed.after().as_ref(), PAGE + 1)?;
            let shown = &found[..found.len().min(PAGE as usize)];
            let older = (found.len() > shown.len()).then(|| shown.last()).flatten().map(|last| {
                let before = format!("{}.{}", last.record.tried_on, last.id);
                Address { before, ..typed.clone() }.at("/trials")
            });
            let newest = (!typed.before.is_empty())
                .then(|| Address { before: String::new(), ..typed.clone() }.at("/trials"));
            let tried = view.metals_tried()?;
            let base = Address { before: String::new(), ..typed.clone() };
            Ok(List {
                frame: Frame::of(&at, view, "trials")?,
                chips: typed.chips(&metals),
                said: understood.said,
                is_bare: understood.is_bare,
                asked: understood
                    .asked
                    .into_iter()
                    .map(|question| asked(&typed, question))
                    .collect(),
                metals: tried.into_iter().map(|key| (metal_name(&metals, &key), key)).collect(),
                tempers: Hardness::ALL.iter().map(|hardness| hardness.word()).collect(),
                blades: view.all::<Blade>()?.into_iter().map(|blade| blade.record.name).collect(),
                outcomes: Outcome::ALL,
                rows: shown.iter().map(|trial| Row::of(trial, &metals)).collect(),
                is_any: !found.is_empty() || view.trials(&Default::default(), None, 1)?.len() == 1,
                older,
                newest,
                exports: [
                    ("xlsx", "Spreadsheet (xlsx)"),
                    ("csv", "Table (csv)"),
                    ("json", "Data (json)"),
                ]
                .map(|(kind, words)| (words, base.at(&format!("/trials/export.{kind}"))))
                .into(),
                complaints,
                address: typed,
            })
        })
        .await?;
    let status =
        if page.complaints.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    Ok((status, Html(page.render()?)).into_response())
}

/// The question with one address an answer: the search again with what was meant.
fn asked(typed: &Address, question: Question) -> Asked {
    let answers = question
        .readings
        .iter()
        .map(|reading| {
            let meant = typed.q.to_lowercase().replacen(&question.text, &reading.type_instead, 1);
            let meant = meant.replace('?', "");
            let words = reading.mm().map_or_else(
                || reading.label.clone(),
                |mm| format!("{}, {mm:.3} mm", reading.label),
            );
            (words, address("/trials", &[("q", &meant)]))
        })
        .collect();
    Asked { question, answers }
}
