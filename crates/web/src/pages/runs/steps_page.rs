//! All steps of a run on one page: go back to any of them, set the run aside, call it off.

use askama::Template;
use axum::extract::{Path, State};
use axum::response::Html;
use linkwright_store::records::Run;
use linkwright_store::{Id, PhotoShown, Record};

use super::at_bench::AtBench;
use super::checks::CHECKS;
use super::steps::Step;
use super::taps::rings;
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

/// How many former values of the run are listed.
const FORMER_LISTED: usize = 20;

#[derive(Template)]
#[template(path = "pages/runs/steps.html")]
struct Steps {
    frame: Frame,
    id: i64,
    order: i64,
    sheet: i64,
    name: String,
    before: Vec<Row>,
    coils: Vec<(u32, Vec<Row>)>,
    after: Vec<Row>,
    notes: Vec<String>,
    history: Vec<(String, String)>,
    photos: Vec<PhotoShown>,
    closed: bool,
}

/// A step to go to.
struct Row {
    /// What the form sends.
    to: String,
    heading: &'static str,
    /// What was done there, in words; "" if nothing yet.
    done: String,
    here: bool,
}

fn row(at: &AtBench, step: Step, coil: u32) -> Row {
    let here = at.place();
    let here = here.step == step && (!step.is_of_a_coil() || here.coil == coil);
    let to = if step.is_of_a_coil() {
        format!("go:{}:{coil}", step.word())
    } else {
        format!("go:{}", step.word())
    };
    Row { to, heading: step.heading(), done: done(at, step, coil).unwrap_or_default(), here }
}

fn done(at: &AtBench, step: Step, number: u32) -> Option<String> {
    let run = at.run();
    let coil = &at.coil(number)?.record;
    match step {
        Step::Wire => run.wire_in_g.map(|g| format!("{g} g taken")),
        Step::Anneal if run.annealed_at.is_some() => Some("annealed".to_owned()),
        Step::Anneal => run.anneal_skipped.then(|| "passed over".to_owned()),
        Step::Wind => (coil.turns_wound > 0)
            .then(|| format!("{} of {} turns", coil.turns_wound, coil.turns_target)),
        Step::Off => coil.off_at.map(|_| match coil.turns_relaxed {
            Some(turns) => format!("off, {turns} turns left"),
            None => "off".to_owned(),
        }),
        Step::Divide => coil.pieces.map(|pieces| match pieces {
            1 => "left whole".to_owned(),
            more => format!("{more} pieces"),
        }),
        Step::Blade => {
            let ticks =
                at.work.ticks.iter().filter(|tick| tick.record.coil_number == number).count();
            (ticks > 0).then(|| format!("{ticks} of {} ticked", CHECKS.len()))
        }
        Step::Clamp => coil.clamped_at.map(|_| "clamped".to_owned()),
        Step::Slit => coil.slit_at.map(|_| "slit".to_owned()),
        Step::Counts => (rings(coil) > 0).then(|| format!("{} good of {}", coil.good, rings(coil))),
        Step::Measure => {
            let readings = at.work.readings.len();
            (readings > 0).then(|| format!("{readings} rings measured"))
        }
        Step::Label => at.work.batch.as_ref().map(|batch| format!("batch {}", batch.record.code)),
        Step::Finish => run.finished_at.map(|_| "finished".to_owned()),
    }
}

pub(super) async fn steps(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let to = app.clone();
    let page = app
        .read(move |view| {
            let at = AtBench::of(view, Id::new(id))?;
            let of_run =
                |steps: &[Step]| steps.iter().map(|step| row(&at, *step, 1)).collect::<Vec<_>>();
            let of_coil = |number| {
                let steps = Step::ALL.into_iter().filter(|step| step.is_of_a_coil());
                (number, steps.map(|step| row(&at, step, number)).collect())
            };
            let coils = at.work.coils.iter();
            let notes = coils.clone().filter(|coil| !coil.record.note.is_empty());
            let former = view.former_values(at.work.run.id)?;
            Ok(Steps {
                frame: Frame::of(&to, view, "runs")?,
                id,
                order: at.work.sheet.order_id.number(),
                sheet: at.run().frozen_sheet_id.number(),
                name: at.run().name.clone(),
                before: of_run(&[Step::Wire, Step::Anneal]),
                coils: coils.map(|coil| of_coil(coil.record.number)).collect(),
                after: of_run(&[Step::Measure, Step::Label, Step::Finish]),
                notes: notes
                    .map(|coil| format!("Coil {}: {}", coil.record.number, coil.record.note))
                    .collect(),
                history: former
                    .into_iter()
                    .take(FORMER_LISTED)
                    .map(|value| (to.clock().shown(value.action.at), value.action.what))
                    .collect(),
                photos: view.photos_of(Run::TABLE, id)?,
                closed: at.run().finished_at.is_some(),
            })
        })
        .await?;
    Ok(Html(page.render()?))
}
