//! The card from which a pattern is linked, as a page and as paper.

use std::collections::BTreeMap;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::{Html, Response};
use linkwright_answers::chain::figure::{Drawing, Ink, Scene, View as Eye};
use linkwright_answers::chain::{LinkingStep, linking_steps};
use linkwright_answers::printout::both_lengths;
use linkwright_answers::run_sheet::figures::ratio;
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_sheets::{Edition, LinkingCard, cautions_for_linking};

use super::answers::{Answered, answered};
use super::asked::Asked;
use super::list::capital;
use super::numbers::how_sure;
use super::question::pattern_named;
use super::show::{asked_in_full, ready};
use crate::error::PageError;
use crate::frame::Frame;
use crate::pages::paper::{edition_of_program, paper_named, printed};
use crate::state::App;

/// Rings that the picture of the finished piece shows at most.
const RINGS_MOST: usize = 40;
/// Room for that picture on paper.
const ROOM_MM: [f64; 2] = [150.0, 32.0];
/// Scales it may be printed at, the largest that fits.
const SCALES: [f64; 7] = [5.0, 4.0, 3.0, 2.0, 1.5, 1.0, 0.5];

#[derive(Template)]
#[template(path = "pages/chain/card.html")]
struct CardPage {
    frame: Frame,
    card: LinkingCard,
    cautions: Vec<&'static str>,
    back: String,
    pdf: String,
}

pub(super) async fn show(
    State(app): State<App>,
    Query(typed): Query<BTreeMap<String, String>>,
) -> Result<Html<String>, PageError> {
    let asked = Asked::of(&typed);
    ready(&app, &asked).await?;
    let at = app.clone();
    let page = app
        .read(move |view| {
            let card = card(&at, view, &asked)?;
            Ok(CardPage {
                frame: Frame::of(&at, view, "chain")?,
                card,
                cautions: cautions_for_linking(),
                back: asked.address("/chain/pattern"),
                pdf: asked.address("/paper/linking-card"),
            })
        })
        .await?;
    Ok(Html(page.render()?))
}

pub(super) async fn pdf(
    State(app): State<App>,
    Query(typed): Query<BTreeMap<String, String>>,
) -> Result<Response, PageError> {
    let paper = paper_named(typed.get("paper").map_or("", String::as_str))?;
    let asked = Asked::of(&typed);
    ready(&app, &asked).await?;
    let at = app.clone();
    let card = app.read(move |view| card(&at, view, &asked)).await?;
    printed(&format!("linking card {}", card.title), paper, move |paper| card.pdf(paper)).await
}

fn card(
    app: &App,
    view: &linkwright_store::View<'_>,
    asked: &Asked,
) -> Result<LinkingCard, PageError> {
    let pattern = pattern_named(view, asked.at("pattern"))?;
    let question = asked_in_full(view, &pattern, asked)?.question;
    let question = question.map_err(|_| {
        PageError::Unreadable(
            "the rings of this card cannot be read; open it from the page of its pattern"
                .to_owned(),
        )
    })?;
    let found = answered(&question).map_err(PageError::Unreadable)?;
    made(&pattern, &found, edition_of_program(app)).ok_or_else(|| {
        PageError::Unreadable(
            "these rings do not go together, so there is nothing to link".to_owned(),
        )
    })
}

fn made(pattern: &Pattern, found: &Answered, edition: Edition) -> Option<LinkingCard> {
    let drawn = found.drawn.as_ref()?;
    let wire_mm = drawn.wire.mm();
    let eye = Eye::of(&drawn.pose);
    let scene = Scene::piece(&drawn.pose, wire_mm, wire_mm, RINGS_MOST);
    let drawing = Drawing::of(&scene, eye, Ink::Black);
    let fits = |times: &f64| {
        times * drawing.width_mm() <= ROOM_MM[0] && times * drawing.height_mm() <= ROOM_MM[1]
    };
    let times = SCALES.into_iter().find(fits).unwrap_or(0.5);
    let seen = if eye.shows_lengths(&drawn.pose) { "" } else { ", seen aslant" };
    Some(LinkingCard {
        edition,
        title: capital(&pattern.spec().title),
        keys: keys(pattern, found),
        facts: facts(found),
        picture: drawing.svg(times, ""),
        scale: format!("scale {}{seen}; a piece of {} rings", ratio(times), scene.tubes.len()),
        steps: steps(pattern, found, wire_mm),
        then: match pattern.kind() {
            Kind::Cluster => "Draw all rings up together.",
            Kind::Sheet => "Repeat from step 2 along the row, and begin each row like the first.",
            Kind::Chain => "Repeat from step 2 until the piece is long enough.",
        },
    })
}

fn steps(pattern: &Pattern, found: &Answered, wire_mm: f64) -> Vec<LinkingStep> {
    let pose = found.drawn.as_ref().map(|drawn| &drawn.pose);
    pose.map_or_else(Vec::new, |pose| linking_steps(pattern, pose, wire_mm))
}

/// What stands large on the card.
fn keys(pattern: &Pattern, found: &Answered) -> Vec<[String; 3]> {
    let answer = &found.answer;
    let main = answer.rings[0].ring;
    let per_repeat = pattern.spec().rings.len();
    let of = |per: usize| {
        if per == 1 { "1 ring a repeat".to_owned() } else { format!("{per} rings a repeat") }
    };
    let rings = match (answer.rings_in_all, answer.linked.rings_per_cm()) {
        (Some(all), _) if pattern.kind() == Kind::Cluster => {
            [words("Rings"), all.to_string(), words("in all")]
        }
        (Some(all), _) => [words("Rings"), all.to_string(), of(per_repeat)],
        (None, Some(per_cm)) => [words("Rings"), format!("{per_cm:.1} per cm"), of(per_repeat)],
        (None, None) => [words("Rings"), per_repeat.to_string(), words("a repeat")],
    };
    let mut keys = vec![rings];
    if let Some(around) = answer.around {
        keys.push([
            words("Finished length"),
            format!("{:.0} mm", around.above.length.mm()),
            format!(
                "{:.2} in, pulled taut, clasp and end rings in it",
                around.above.length.inches()
            ),
        ]);
    }
    keys.push([
        words("Ring"),
        format!("{:.2} mm", main.closed_inside().mm()),
        format!("inside, closed; wire {}", both_lengths(main.wire().diameter().mm())),
    ]);
    keys
}

fn words(words: &str) -> String {
    words.to_owned()
}

fn facts(found: &Answered) -> Vec<[String; 2]> {
    let answer = &found.answer;
    let mut facts = Vec::new();
    if answer.rings.len() > 1 {
        for (used, size) in answer.rings.iter().zip(1..) {
            let count = used.count.map_or_else(
                || format!("{} a repeat", used.per_cell),
                |count| format!("{count} in all"),
            );
            let wire = both_lengths(used.ring.wire().diameter().mm());
            let inside = both_lengths(used.ring.closed_inside().mm());
            facts.push([
                format!("Ring size {size}"),
                format!("wire {wire}, inside {inside} closed: {count}"),
            ]);
        }
    }
    facts.push([
        words("Aspect ratio"),
        format!(
            "{:.2}; the pattern goes from {:.2} on",
            answer.linked.aspect_ratio, answer.linked.aspect_ratio_min
        ),
    ]);
    if answer.piece.is_some() {
        facts.push([words("Count"), format!("worked out, {}", how_sure(answer))]);
    }
    facts
}
