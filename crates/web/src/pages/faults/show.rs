//! One symptom: its causes in the order to check, with what moved them.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::response::Html;
use linkwright_calc::fault::{
    Chance, Evidence, KnownOfRun, PRIOR_CASES, Symptom, chances, evidence, expected_minutes,
    order_to_check, symptom,
};
use linkwright_store::records::{Fault, Run};
use linkwright_store::{Id, Saved, View};

use super::known::RunKnown;
use super::list::Asked;
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/faults/show.html")]
struct Show {
    frame: Frame,
    symptom: &'static Symptom,
    run: Option<(i64, String)>,
    blade: Option<(i64, String)>,
    causes: Vec<Row>,
    /// How often this symptom was recorded.
    recorded: usize,
    prior_cases: String,
    /// Minutes on average until the cause is found in this order.
    minutes: String,
    history: Vec<Found>,
}

struct Row {
    code: &'static str,
    words: &'static str,
    chance: String,
    range: String,
    basis: String,
    minutes: String,
    effort: &'static str,
    check: &'static str,
    remedy: &'static str,
    recorded: u32,
    reasons: Vec<String>,
}

/// A cause found before.
struct Found {
    on: String,
    cause: &'static str,
    run: Option<(i64, String)>,
    note: String,
    number: i64,
}

pub(super) async fn show(
    State(app): State<App>,
    Path(code): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let symptom = symptom(&code).ok_or(PageError::NotFound { what: "fault" })?;
    let at = app.clone();
    let page = app.read(move |view| page(&at, view, symptom, asked.run)).await?;
    Ok(Html(page.render()?))
}

fn page(
    app: &App,
    view: &View<'_>,
    symptom: &'static Symptom,
    run: Option<i64>,
) -> Result<Show, PageError> {
    let known = run.map(|run| RunKnown::of(view, Id::new(run))).transpose()?;
    let found = view.faults_of(symptom.code)?;
    let recorded: Vec<u32> = symptom
        .causes
        .iter()
        .map(|cause| found.iter().map(|fault| u32::from(fault.record.cause == cause.code)).sum())
        .collect();
    let nothing = KnownOfRun::default();
    let evidence = evidence(known.as_ref().map_or(&nothing, |known| &known.known));
    let chances = chances(symptom, &recorded, &evidence);
    let likely: Vec<f64> = chances.iter().map(|chance| chance.chance).collect();
    let minutes: Vec<f64> = symptom.causes.iter().map(|cause| cause.effort.minutes()).collect();
    let order = order_to_check(&likely, &minutes);
    let cases: u32 = recorded.iter().sum();
    let frame = Frame::of(app, view, "faults")?;
    let history = found.into_iter().map(|fault| told(view, symptom, fault));
    Ok(Show {
        frame,
        symptom,
        blade: known
            .as_ref()
            .and_then(|known| known.blade.clone())
            .map(|(id, name)| (id.number(), name)),
        run: run.zip(known.map(|known| known.name)),
        recorded: history.len(),
        minutes: in_minutes(expected_minutes(&likely, &minutes, &order)),
        causes: order.iter().map(|&at| row(symptom, at, &chances[at], cases, &evidence)).collect(),
        prior_cases: format!("{PRIOR_CASES:.0}"),
        history: history.collect::<Result<_, _>>()?,
    })
}

fn row(
    symptom: &'static Symptom,
    at: usize,
    chance: &Chance,
    cases: u32,
    evidence: &[Evidence],
) -> Row {
    let cause = &symptom.causes[at];
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let reasons = evidence.iter().filter(|evidence| evidence.cause == cause.code);
    let moved =
        reasons.clone().next().map(|_| format!("before that {}", percent(chance.before_evidence)));
    Row {
        code: cause.code,
        words: cause.words,
        chance: percent(chance.chance),
        range: format!("{} to {}", percent(chance.low), percent(chance.high)),
        basis: match cases {
            0 => "judgement, no counts of yours yet".to_owned(),
            1 => "judgement and 1 case of yours".to_owned(),
            cases => format!("judgement and {cases} cases of yours"),
        },
        minutes: in_minutes(cause.effort.minutes()),
        effort: cause.effort.words(),
        check: cause.check,
        remedy: cause.remedy,
        recorded: chance.recorded,
        reasons: reasons
            .map(|evidence| {
                let Evidence { words, factor, ground, .. } = evidence;
                let ground = ground.words();
                if *factor > 1.0 {
                    format!("more likely: {words} (factor {factor:.0}, {ground})")
                } else {
                    format!("less likely: {words} (factor 1/{:.0}, {ground})", 1.0 / factor)
                }
            })
            .chain(moved)
            .collect(),
    }
}

fn told(view: &View<'_>, symptom: &Symptom, fault: Saved<Fault>) -> Result<Found, PageError> {
    let Fault { found_on, cause, run_id, note, .. } = fault.record;
    let words = symptom.causes.iter().find(|known| known.code == cause);
    let run = match run_id {
        Some(run) => Some((run.number(), view.get::<Run>(run)?.name)),
        None => None,
    };
    Ok(Found {
        on: found_on,
        cause: words.map_or("a cause that is no longer listed", |cause| cause.words),
        run,
        note,
        number: fault.id.number(),
    })
}

fn in_minutes(minutes: f64) -> String {
    if minutes < 1.0 {
        "half a minute".to_owned()
    } else if minutes < 10.0 {
        format!("{minutes:.1} min").replace(".0 ", " ")
    } else {
        format!("{minutes:.0} min")
    }
}
