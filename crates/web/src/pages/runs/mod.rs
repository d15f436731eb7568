//! Work at the bench: the runs in hand, and each run one step a screen.

mod at_bench;

mod blade_used;

mod checks;

mod label;

mod more;

mod list;

mod screens;

mod springback;

mod steps;

mod steps_page;

mod sums;

mod taps;

pub(crate) use checks::{CHECKS, TAPE};
pub(crate) use list::place_in_words;

use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use linkwright_calc::cautions::{for_metal, for_step};
use linkwright_store::records::{MetalOverlay, Run};
use linkwright_store::{Id, Saved, View};
use serde::Deserialize;

use self::at_bench::AtBench;
use self::blade_used::{BladeUsed, blade_used};
use self::more::{More, more};
use self::screens::Screen;
use self::steps::Step;
use self::sums::StepSums;
use self::taps::{Now, Tap, tap};
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::planning::catalogue;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/runs", get(list::list))
        .route("/runs/{id}", get(show).post(tapped))
        .route("/runs/{id}/steps", get(steps_page::steps))
}

/// How many cautions stand on the screen; the others are one tap away.
const CAUTIONS_SHOWN: usize = 2;

/// Longest number that is keyed in.
const KEYED_MOST: usize = 9;

#[derive(Template)]
#[template(path = "pages/runs/bench.html")]
struct BenchPage {
    frame: Frame,
    id: i64,
    name: String,
    step: Step,
    coil: u32,
    coils: usize,
    set_aside: Option<String>,
    called_off: Option<String>,
    finished: bool,
    cautions: Vec<&'static str>,
    more_cautions: Vec<&'static str>,
    complaints: Complaints,
    typed: String,
    screen: Screen,
    sums: StepSums,
    used: Option<BladeUsed>,
    noted: Vec<String>,
    more: Option<More>,
}

/// A number being keyed in without a keyboard and without a script.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Keyed {
    typed: String,
    key: String,
}

impl Keyed {
    fn after(&self) -> String {
        let mut typed: String = self.typed.chars().take(KEYED_MOST).collect();
        match self.key.as_str() {
            "back" => {
                typed.pop();
            }
            "." if typed.contains('.') => {}
            key if typed.len() < KEYED_MOST
                && key.len() == 1
                && key.chars().all(|c| c.is_ascii_digit() || c == '.') =>
            {
                typed.push_str(key);
            }
            _ => {}
        }
        typed
    }
}

async fn show(
    State(app): State<App>,
    Path(id): Path<i64>,
    Query(keyed): Query<Keyed>,
) -> Result<Response, PageError> {
    let typed = keyed.after();
    page(app, Id::new(id), typed, Complaints::default(), StatusCode::OK).await
}

async fn page(
    app: App,
    id: Id<Run>,
    typed: String,
    complaints: Complaints,
    status: StatusCode,
) -> Result<Response, PageError> {
    let at_app = app.clone();
    let day = app.clock().today().to_string();
    let page = app
        .read(move |view| {
            let at = AtBench::of(view, id)?;
            BenchPage::of(&at_app, view, &at, &day, typed, complaints)
        })
        .await?;
    Ok((status, Html(page.render()?)).into_response())
}

impl BenchPage {
    fn of(
        app: &App,
        view: &View<'_>,
        at: &AtBench,
        day: &str,
        typed: String,
        complaints: Complaints,
    ) -> Result<BenchPage, PageError> {
        let place = at.place();
        let all = cautions(view, at, place.step)?;
        let (cautions, more_cautions) = all.split_at(all.len().min(CAUTIONS_SHOWN));
        Ok(BenchPage {
            frame: Frame::of(app, view, "runs")?,
            id: at.work.run.id.number(),
            name: at.run().name.clone(),
            step: place.step,
            coil: place.coil,
            coils: at.work.coils.len(),
            set_aside: at.run().set_aside_why.clone(),
            called_off: at.run().called_off_why.clone(),
            finished: at.run().finished_at.is_some(),
            cautions: cautions.to_vec(),
            more_cautions: more_cautions.to_vec(),
            screen: Screen::of(view, at, day)?,
            sums: StepSums::of(view, at)?,
            used: used(view, at)?,
            noted: noted(at),
            more: if between_coils(at) { more(app, view, at)? } else { None },
            complaints,
            typed,
        })
    }
}

impl BenchPage {
    /// Whether the blade is against the sheet's advice; that stands before everything else.
    fn is_against(&self) -> bool {
        self.used.as_ref().is_some_and(|used| !used.clears)
    }
}

/// Whether the next coil is about to be decided on: once its first turn is wound the hands are busy
/// with something else.
fn between_coils(at: &AtBench) -> bool {
    let place = at.place();
    match place.step {
        Step::Wind => at.coil(place.coil).is_some_and(|coil| coil.record.turns_wound == 0),
        Step::Measure => true,
        _ => false,
    }
}

/// The blade of the coil beside the planned one, where it is fitted and where it cuts.
fn used(view: &View<'_>, at: &AtBench) -> Result<Option<BladeUsed>, PageError> {
    let place = at.place();
    match at.coil(place.coil) {
        Some(coil) if matches!(place.step, Step::Blade | Step::Clamp | Step::Slit) => {
            Ok(blade_used(view, at, &coil.record)?)
        }
        _ => Ok(None),
    }
}

/// What was noted on the coil and on the run, where the blade is fitted and where it cuts.
fn noted(at: &AtBench) -> Vec<String> {
    let place = at.place();
    if !matches!(place.step, Step::Blade | Step::Clamp | Step::Slit) {
        return Vec::new();
    }
    let of_coil = at.coil(place.coil).map(|coil| coil.record.note.clone());
    let notes = [Some(at.run().note.clone()), of_coil].into_iter().flatten();
    notes.filter(|note| !note.is_empty()).collect()
}

/// The cautions of a step, those that belong to its screen most first; those of the metal come
/// before where it is heated or cut.
fn cautions(view: &View<'_>, at: &AtBench, step: Step) -> Result<Vec<&'static str>, PageError> {
    let mut lines = Vec::new();
    for work in step.cautions() {
        lines.extend(for_step(*work).iter().map(|line| line.text));
    }
    // Moved to the front one by one, the last first, so that they stand in the order named.
    for opening in step.cautions_first().iter().rev() {
        if let Some(found) = lines.iter().position(|line| line.starts_with(opening)) {
            lines[..=found].rotate_right(1);
        }
    }
    if matches!(step, Step::Wire | Step::Anneal) {
        let own: Vec<Saved<MetalOverlay>> = view.all()?;
        if let Ok(metals) = catalogue(&own)
            && let Ok(metal) = metals.find(&at.sheet.metal_key)
        {
            let of_metal = for_metal(metal).into_iter().map(|line| line.text);
            lines.splice(0..0, of_metal);
        }
    }
    Ok(lines)
}

async fn tapped(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed: sent }: Sent<Tap>,
) -> Result<Response, PageError> {
    let id = Id::new(id);
    let now = Now { moment: app.clock().now(), day: app.clock().today().to_string() };
    let (what, doing) = (what(id, &sent), sent.clone());
    let done = app.act(&token.of_tap(&sent.tap), what, move |act| tap(act, id, &doing, now)).await;
    match done {
        Ok(_) => Ok(Redirect::to(&format!("/runs/{id}")).into_response()),
        Err(PageError::WillNotDo { field, said }) => {
            let mut complaints = Complaints::default();
            complaints.add(field, said);
            page(app, id, sent.typed, complaints, StatusCode::UNPROCESSABLE_ENTITY).await
        }
        Err(other) => Err(other),
    }
}

/// The tap in words, as the list of what was done has it.
fn what(id: Id<Run>, tap: &Tap) -> String {
    let (verb, with) = tap.doing.split_once(':').unwrap_or((&tap.doing, ""));
    let step = Step::from_word(&tap.at).map_or("", Step::heading);
    let coil = &tap.coil;
    match verb {
        "turns" => format!("{with} turns, coil {coil}"),
        "count" => format!("{with} rings, coil {coil}"),
        "rest" => format!("the rest good, coil {coil}"),
        "planned" => format!("counts as planned, coil {coil}"),
        "tick" => format!("ticked {with}, coil {coil}"),
        "untick" => format!("took the tick off {with}, coil {coil}"),
        "reading" => format!("ring of {} measured", tap.typed),
        "drop" => "a measured ring taken out".to_owned(),
        "go" => format!("went to {}", with.replace(':', " of coil ")),
        "aside" => format!("run {id} set aside"),
        "resume" | "take-up" => format!("run {id} taken up again"),
        "call-off" => format!("run {id} called off"),
        "finish" => format!("run {id} finished"),
        _ if step.is_empty() => format!("run {id}"),
        _ => format!("{step}, coil {coil}"),
    }
}
