//! The form of a trial: typed in by hand, from a pencil card, or changed.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_calc::metal::{Catalogue, Hardness};
use linkwright_store::records::{Blade, Trial, TrialSource, WireLot};
use linkwright_store::trials::{DateOrder, FieldWrong, TrialEntry, TrialReader};
use linkwright_store::{Id, Saved, View};
use serde::Deserialize;

use super::lesson::lesson;
use super::metals;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::planning::metal_name;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/trials/form.html")]
struct FormPage {
    frame: Frame,
    heading: String,
    action: String,
    source: TrialSource,
    entry: TrialEntry,
    complaints: Complaints,
    metals: Vec<String>,
    tempers: Vec<&'static str>,
    blades: Vec<String>,
    lots: Vec<String>,
    yes_no: [(&'static str, &'static str); 2],
    events: [(&'static str, &'static str); 4],
    outcomes: [(&'static str, &'static str); 3],
}

/// What the form of a trial sends.
#[derive(Deserialize)]
pub(super) struct TrialForm {
    #[serde(flatten)]
    entry: TrialEntry,
    #[serde(default)]
    source: String,
}

#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct From {
    from: String,
}

/// What a trial is read against.
struct Around {
    metals: Catalogue,
    blades: Vec<Saved<Blade>>,
    lots: Vec<Saved<WireLot>>,
}

impl Around {
    fn of(view: &View<'_>) -> Result<Around, PageError> {
        Ok(Around { metals: metals(view)?, blades: view.all()?, lots: view.all()? })
    }

    /// Reads an entry; a depth that cannot have made rings needs the owner's word.
    fn read(&self, entry: &TrialEntry, source: TrialSource) -> Result<Trial, Complaints> {
        let reader = TrialReader {
            metals: &self.metals,
            blades: &self.blades,
            lots: &self.lots,
            source,
            dates: DateOrder::Asked,
        };
        let mut complaints = Complaints::default();
        let trial = reader.read(entry).map_err(|wrong| all_of(&wrong))?;
        let blade = self.blades.iter().find(|blade| Some(blade.id) == trial.blade_id);
        if let Some(depth) = lesson(&trial, blade.map(|blade| &blade.record)).depth
            && !depth.clears
            && trial.note.is_empty()
        {
            complaints.add("projection", depth.sentences.join("; "));
            complaints.add(
                "note",
                "this depth cannot have made rings. If it did happen so, write here what happened, and the trial is kept",
            );
            return Err(complaints);
        }
        Ok(trial)
    }

    fn page(
        &self,
        frame: Frame,
        what: (String, String, TrialSource),
        entry: TrialEntry,
        complaints: Complaints,
    ) -> FormPage {
        let (heading, action, source) = what;
        let names = |metal: &linkwright_calc::metal::Metal| metal.trade_name().to_string();
        FormPage {
            frame,
            heading,
            action,
            source,
            entry,
            complaints,
            metals: self.metals.metals().iter().map(names).collect(),
            tempers: Hardness::ALL.iter().map(|hardness| hardness.word()).collect(),
            blades: self
                .blades
                .iter()
                .filter(|blade| blade.record.retired_on.is_none())
                .map(|blade| blade.record.name.clone())
                .collect(),
            lots: self
                .lots
                .iter()
                .filter(|lot| lot.record.finished_on.is_none())
                .map(|lot| lot.record.name.clone())
                .collect(),
            yes_no: [("yes", "yes"), ("no", "no")],
            events: [
                ("none", "all right"),
                ("broke", "broke"),
                ("dulled", "dulled"),
                ("jammed", "jammed"),
            ],
            outcomes: [("good", "good"), ("poor", "poor"), ("failed", "failed")],
        }
    }
}

/// Complaints beside their fields.
fn all_of(wrong: &[FieldWrong]) -> Complaints {
    let mut complaints = Complaints::default();
    for wrong in wrong {
        complaints.add(wrong.field, &wrong.why);
    }
    complaints
}

fn adding(source: TrialSource) -> (String, String, TrialSource) {
    let heading = match source {
        TrialSource::Card => "A trial from a pencil card",
        _ => "Add a trial",
    };
    (heading.to_owned(), "/trials/new".to_owned(), source)
}

fn changing(id: Id<Trial>, trial: &Trial) -> (String, String, TrialSource) {
    (format!("Change the trial {}", trial.title()), format!("/trials/{id}/edit"), trial.source)
}

/// The blank form.
pub(super) async fn new(
    State(app): State<App>,
    Query(from): Query<From>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let today = app.clock().today().to_string();
    let page = app
        .read(move |view| {
            let source = if from.from == "card" { TrialSource::Card } else { TrialSource::Typed };
            let entry = TrialEntry {
                tried_on: if source == TrialSource::Typed { today } else { String::new() },
                annealed: "no".to_owned(),
                blade_event: "none".to_owned(),
                ..TrialEntry::default()
            };
            let frame = Frame::of(&at, view, "trials")?;
            Ok(Around::of(view)?.page(frame, adding(source), entry, Complaints::default()))
        })
        .await?;
    Ok(Html(page.render()?))
}

/// Keeps a new trial.
pub(super) async fn add(
    State(app): State<App>,
    sent: Sent<TrialForm>,
) -> Result<Response, PageError> {
    let source = match sent.typed.source.as_str() {
        "card" => TrialSource::Card,
        _ => TrialSource::Typed,
    };
    let entry = sent.typed.entry;
    let (around, read) = read(&app, entry.clone(), source).await?;
    let trial = match read {
        Ok(trial) => trial,
        Err(complaints) => return again(&app, around, adding(source), entry, complaints).await,
    };
    let what = format!("Added trial {}", trial.title());
    let id = app.act(&sent.token, what, move |act| Ok(act.add(&trial)?)).await?;
    Ok(Redirect::to(&id.map_or("/trials".to_owned(), |id| format!("/trials/{id}"))).into_response())
}

/// The form of a trial that is kept.
pub(super) async fn edit(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let id = Id::<Trial>::new(id);
            let trial = view.get(id)?;
            let around = Around::of(view)?;
            let lot = around.lots.iter().find(|lot| Some(lot.id) == trial.wire_lot_id);
            let metal = metal_name(&around.metals, &trial.metal);
            let entry = TrialEntry { metal, ..TrialEntry::of(&trial, lot.map(|lot| &lot.record)) };
            let frame = Frame::of(&at, view, "trials")?;
            Ok(around.page(frame, changing(id, &trial), entry, Complaints::default()))
        })
        .await?;
    Ok(Html(page.render()?))
}

/// Keeps the changed trial; what it was stays in sight.
pub(super) async fn change(
    State(app): State<App>,
    Path(id): Path<i64>,
    sent: Sent<TrialForm>,
) -> Result<Response, PageError> {
    let id = Id::<Trial>::new(id);
    let was = app.read(move |view| Ok(view.get(id)?)).await?;
    let entry = sent.typed.entry;
    let (around, read) = read(&app, entry.clone(), was.source).await?;
    let trial = match read {
        Ok(trial) => Trial { run_id: was.run_id, coil_number: was.coil_number, ..trial },
        Err(complaints) => {
            return again(&app, around, changing(id, &was), entry, complaints).await;
        }
    };
    if trial != was {
        let what = format!("Changed trial {}", trial.title());
        app.act(&sent.token, what, move |act| Ok(act.change(id, &trial)?)).await?;
    }
    Ok(Redirect::to(&format!("/trials/{id}")).into_response())
}

async fn read(
    app: &App,
    entry: TrialEntry,
    source: TrialSource,
) -> Result<(Around, Result<Trial, Complaints>), PageError> {
    app.read(move |view| {
        let around = Around::of(view)?;
        let read = around.read(&entry, source);
        Ok((around, read))
    })
    .await
}

/// The form again, with what was typed and what is wrong.
async fn again(
    app: &App,
    around: Around,
    what: (String, String, TrialSource),
    entry: TrialEntry,
    complaints: Complaints,
) -> Result<Response, PageError> {
    let at = app.clone();
    let frame = app.read(move |view| Ok(Frame::of(&at, view, "trials")?)).await?;
    let page = around.page(frame, what, entry, complaints);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}
