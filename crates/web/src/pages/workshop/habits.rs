//! Habits: what every coil loses and how long it takes.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use linkwright_calc::limits::{LENGTH, Limit};
use linkwright_calc::money::{Money, parse_money};
use linkwright_calc::plan::{CONFIDENCE, MINUTES, PACKING};
use linkwright_calc::quantity::{Length, parse_share};
use linkwright_store::records::Workshop;
use linkwright_store::{Id, StoreError, View};
use serde_json::{Map, Value, json};

use super::form_page::{FieldView, FormPage};
use super::kept::{Field, Typed, line, needed, size, text, typed_from, whole};
use crate::error::PageError;
use crate::form::{Complaints, Sent, given};
use crate::frame::Frame;
use crate::state::App;

/// The one record of habits.
const HABITS: Id<Workshop> = Id::new(1);

/// Turns nobody loses more of.
const TURNS_MOST: u32 = 1_000;

pub(super) fn routes() -> Router<App> {
    Router::new().route("/workshop/habits", get(show).post(save))
}

/// The habits as the data file first had them, column by column; nothing if they never changed.
fn first_habits(view: &View<'_>) -> Result<Option<Map<String, Value>>, StoreError> {
    let former = view.former_values(HABITS)?;
    Ok(former.into_iter().rev().find_map(|value| value.former))
}

/// The habits, with what each rests on.
pub(super) fn in_words(
    workshop: &Workshop,
    view: &View<'_>,
) -> Result<Vec<(&'static str, String)>, StoreError> {
    let counted = match view.rings_counted(None)? {
        Some(rings) => format!(
            "{} good and {} spoilt rings counted in finished runs",
            rings.good, rings.rejected
        ),
        None => "no finished run has counted rings yet".to_owned(),
    };
    let first = first_habits(view)?;
    let basis = |column: &str, now: Value| {
        let is_changed = first.as_ref().is_some_and(|first| first.get(column) != Some(&now));
        if is_changed { "as you noted" } else { "assumed" }
    };
    let stop = workshop.stop_turns.map_or_else(
        || "worked out for each blade".to_owned(),
        |turns| format!("{turns} turns - as you noted"),
    );
    let tails = basis("tails", json!(workshop.tails));
    Ok(vec![
        (
            "turns lost at the two ends of a coil",
            format!(
                "{} turns - {}",
                workshop.end_turns,
                basis("end_turns", json!(workshop.end_turns))
            ),
        ),
        ("turns left uncut at the stop", stop),
        ("wire lost as tails of a coil", format!("{} - {tails}", workshop.tails)),
        (
            "pitch over wire diameter",
            format!(
                "{} (1.00 is touching) - {}",
                workshop.packing,
                basis("packing", json!(workshop.packing))
            ),
        ),
        (
            "minutes",
            format!(
                "{} min to set up - {}; {} min a coil - {}",
                workshop.set_up_minutes,
                basis("set_up_minutes", json!(workshop.set_up_minutes)),
                workshop.per_coil_minutes,
                basis("per_coil_minutes", json!(workshop.per_coil_minutes)),
            ),
        ),
        ("chance of enough good rings to plan for", workshop.confidence.clone()),
        ("money", money_in_words(workshop)),
        ("rings spoilt", counted),
    ])
}

/// What work costs and a ring is worth, as far as it was said.
fn money_in_words(workshop: &Workshop) -> String {
    let said = [
        ("an hour's work costs", &workshop.hour_cost_typed),
        ("a good ring is worth, beyond its metal,", &workshop.ring_worth_typed),
        ("scrap is paid at", &workshop.scrap_paid_typed),
    ];
    let said: Vec<String> = said
        .into_iter()
        .filter_map(|(what, typed)| Some(format!("{what} {} - as you noted", typed.as_ref()?)))
        .collect();
    match said.as_slice() {
        [] => "not said; the blade chart takes a coil to pay from half its turns on".to_owned(),
        _ => said.join("; "),
    }
}

fn form(
    app: &App,
    view: &View<'_>,
    typed: &Typed,
    complaints: &Complaints,
) -> Result<FormPage, StoreError> {
    Ok(FormPage {
        frame: Frame::of(app, view, "workshop")?,
        path: "",
        many: "",
        title: "What every coil loses and takes".to_owned(),
        back: "/workshop".to_owned(),
        whole: complaints.about("").to_owned(),
        fields: FieldView::all(fields(), typed, complaints),
    })
}

fn fields() -> Vec<Field> {
    vec![
        line("name", "Name of the workshop", "stands on your own sheets"),
        line(
            "end_turns",
            "Turns lost at the two ends of a coil",
            "2 is usual: common practice, no source",
        ),
        line(
            "stop_turns",
            "Turns left uncut at the stop",
            "from your own record; leave empty to have it worked out",
        ),
        line("tails", "Wire lost as tails of a coil", "both ends together, such as 40 mm"),
        line("packing", "Pitch over wire diameter", "1.00 is touching turns; 1.01 is a tight coil"),
        line("set_up_minutes", "Minutes to set up", ""),
        line("per_coil_minutes", "Minutes for every coil", "winding, slitting and sorting"),
        line("confidence", "Chance of enough good rings to plan for", "such as 95 %"),
        line(
            "hour_cost",
            "What an hour's work costs",
            "such as 38 EUR; with the next line the blade chart decides by money",
        ),
        line(
            "ring_worth",
            "What a good ring is worth beyond its metal",
            "such as 0.20 EUR; what you would pay for the work in one",
        ),
        line(
            "scrap_paid",
            "Share of the metal's price that scrap brings",
            "such as 80 %; empty counts as nothing",
        ),
    ]
}

fn typed(workshop: &Workshop) -> Typed {
    typed_from([
        ("name", workshop.name.clone()),
        ("end_turns", workshop.end_turns.to_string()),
        ("stop_turns", workshop.stop_turns.map(|turns| turns.to_string()).unwrap_or_default()),
        ("tails", workshop.tails.clone()),
        ("packing", workshop.packing.to_string()),
        ("set_up_minutes", workshop.set_up_minutes.to_string()),
        ("per_coil_minutes", workshop.per_coil_minutes.to_string()),
        ("confidence", workshop.confidence.clone()),
        ("hour_cost", workshop.hour_cost_typed.clone().unwrap_or_default()),
        ("ring_worth", workshop.ring_worth_typed.clone().unwrap_or_default()),
        ("scrap_paid", workshop.scrap_paid_typed.clone().unwrap_or_default()),
    ])
}

async fn show(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let workshop = view.get(HABITS)?;
            Ok(form(&at, view, &typed(&workshop), &Complaints::default())?)
        })
        .await?;
    Ok(Html(page.render()?))
}

async fn save(
    State(app): State<App>,
    Sent { token, typed }: Sent<Typed>,
) -> Result<Response, PageError> {
    let mut complaints = Complaints::default();
    let read = read(&typed, &mut complaints).filter(|_| complaints.is_empty());
    let Some(habits) = read else {
        let at = app.clone();
        let page = app.read(move |view| Ok(form(&at, view, &typed, &complaints)?)).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    app.act(&token, "Changed what every coil loses and takes".to_owned(), move |act| {
        let sample = act.get(HABITS)?.sample;
        Ok(act.change(HABITS, &Workshop { sample, ..habits })?)
    })
    .await?;
    Ok(Redirect::to("/workshop").into_response())
}

fn read(typed: &Typed, complaints: &mut Complaints) -> Option<Workshop> {
    let name = needed(typed, "name", "what is it called?", complaints);
    let end_turns = whole(typed, "end_turns", TURNS_MOST, complaints);
    let stop_turns = whole(typed, "stop_turns", TURNS_MOST, complaints);
    let tails = size(
        typed,
        "tails",
        |length: Length| Limit { field: "tails_mm", high: 10_000.0, ..LENGTH }.check(length.mm()),
        complaints,
    );
    let packing = number(typed, "packing", PACKING, complaints);
    let set_up = number(typed, "set_up_minutes", MINUTES, complaints);
    let per_coil = number(typed, "per_coil_minutes", MINUTES, complaints);
    let confidence = needed(typed, "confidence", "which chance? Write it such as 95 %", complaints);
    let confidence = confidence.filter(|words| {
        let share = complaints.take("confidence", parse_share(words));
        share.is_some_and(|share| {
            complaints.take("confidence", CONFIDENCE.check(share.value())).is_some()
        })
    });
    let hour_cost = money(typed, "hour_cost", complaints);
    let ring_worth = money(typed, "ring_worth", complaints);
    if let (Some(Some(hour)), Some(Some(ring))) = (&hour_cost, &ring_worth)
        && hour.currency() != ring.currency()
    {
        let (hour, ring) = (hour.currency(), ring.currency());
        complaints.add("ring_worth", format!("this is in {ring}, an hour's work in {hour}"));
    }
    let scrap_paid = match given(text(typed, "scrap_paid")) {
        Some(words) => complaints.take("scrap_paid", parse_share(&words)).map(Some),
        None => Some(None),
    };
    let as_typed = |field| given(text(typed, field));
    hour_cost?;
    ring_worth?;
    scrap_paid?;
    Some(Workshop {
        name: name?,
        confidence: confidence?,
        end_turns: end_turns?.unwrap_or(0),
        stop_turns: stop_turns?,
        tails: tails?.0,
        packing: packing?,
        set_up_minutes: set_up?,
        per_coil_minutes: per_coil?,
        sample: false,
        hour_cost_typed: as_typed("hour_cost"),
        ring_worth_typed: as_typed("ring_worth"),
        scrap_paid_typed: as_typed("scrap_paid"),
    })
}

/// An amount that may be left out; `None` after a complaint.
#[expect(clippy::option_option, reason = "wrong, left empty, and given are three things")]
fn money(typed: &Typed, field: &str, complaints: &mut Complaints) -> Option<Option<Money>> {
    match given(text(typed, field)) {
        Some(words) => complaints.take(field, parse_money(&words)).map(|typed| Some(typed.value())),
        None => Some(None),
    }
}

fn number(typed: &Typed, field: &str, limit: Limit, complaints: &mut Complaints) -> Option<f64> {
    let Some(words) = given(text(typed, field)) else {
        complaints.add(field, "a number is missing");
        return None;
    };
    let Ok(number) = words.parse::<f64>() else {
        complaints.add(field, format!("{words} is no number"));
        return None;
    };
    complaints.take(field, limit.check(number))
}
