//! The runs in hand, and those that are done.

use askama::Template;
use axum::extract::State;
use axum::response::Html;
use linkwright_store::RunListed;
use linkwright_store::records::Run;

use super::steps::Step;
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

/// How many runs that are done are listed.
const DONE_LISTED: u32 = 50;

#[derive(Template)]
#[template(path = "pages/runs/list.html")]
struct List {
    frame: Frame,
    in_hand: Vec<Listed>,
    done: Vec<Listed>,
}

struct Listed {
    number: i64,
    name: String,
    order: i64,
    /// The step it is at, in words.
    step: String,
    coils: u32,
    coils_counted: u32,
    good: u32,
    spoiled: u32,
    day: String,
    set_aside: Option<String>,
    called_off: Option<String>,
}

impl Listed {
    fn of(listed: RunListed) -> Listed {
        let run = listed.run.record;
        let made = listed.made;
        Listed {
            number: listed.run.id.number(),
            step: place_in_words(&run, listed.coils),
            name: run.name,
            order: listed.order.number(),
            coils: listed.coils,
            coils_counted: made.coils_counted,
            good: made.good,
            spoiled: made.uncut + made.nicked + made.crushed,
            day: run.finished_at.unwrap_or(run.started_at).date().to_string(),
            set_aside: run.set_aside_why,
            called_off: run.called_off_why,
        }
    }
}

/// Where a run stands, such as "Slit, coil 2 of 3".
pub(crate) fn place_in_words(run: &Run, coils: u32) -> String {
    let step = Step::from_word(&run.step).unwrap_or(Step::Wire);
    if step.is_of_a_coil() {
        format!("{}, coil {} of {coils}", step.heading(), run.coil_number)
    } else {
        step.heading().to_owned()
    }
}

pub(super) async fn list(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            Ok(List {
                frame: Frame::of(&at, view, "runs")?,
                in_hand: view.runs_in_hand()?.into_iter().map(Listed::of).collect(),
                done: view.runs_done(DONE_LISTED)?.into_iter().map(Listed::of).collect(),
            })
        })
        .await?;
    Ok(Html(page.render()?))
}
