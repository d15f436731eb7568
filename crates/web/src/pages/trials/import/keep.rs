//! The last step: the good rows are kept in one action, or nothing is.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::response::{Html, Redirect};
use serde::Deserialize;

use super::look::look;
use super::steps::Steps;
use crate::error::PageError;
use crate::form::Sent;
use crate::frame::Frame;
use crate::pages::trials::address::address;
use crate::state::App;

/// What the last form sends.
#[derive(Deserialize)]
pub(in crate::pages::trials) struct Keep {
    steps: String,
    /// "yes" to keep rows that look as if they were kept already.
    #[serde(default)]
    again: String,
}

/// Keeps the good rows; one Undo takes all of them back.
pub(in crate::pages::trials) async fn keep(
    State(app): State<App>,
    Path(number): Path<i64>,
    sent: Sent<Keep>,
) -> Result<Redirect, PageError> {
    let steps = Steps::parse(&sent.typed.steps)?;
    let again = sent.typed.again == "yes";
    let chosen = steps.clone();
    let read = app.read(move |view| look(view, number, &chosen)).await;
    // Sent twice, the table has gone with the first sending.
    let Ok(looked) = read else { return Ok(Redirect::to("/trials")) };
    if looked.is_unclear {
        return Ok(Redirect::to(&steps.at(&format!("/trials/import/{number}/match"))));
    }
    let left = looked.found.bad.len();
    let good = looked.found.good.into_iter().filter(|row| again || row.kept_as.is_none());
    let trials: Vec<_> = good.map(|row| row.trial).collect();
    let kept = trials.len();
    if kept > 0 {
        let what = format!("Brought in {kept} trials from {}", looked.name);
        app.act(&sent.token, what, move |act| {
            for trial in &trials {
                act.add(trial)?;
            }
            if left == 0 {
                act.drop_staged(number)?;
            }
            Ok(())
        })
        .await?;
    }
    let bad_file = if left == 0 {
        String::new()
    } else {
        steps.at(&format!("/trials/import/{number}/bad.csv"))
    };
    let (kept, left) = (kept.to_string(), left.to_string());
    let pairs = [("kept", kept.as_str()), ("left", &left), ("bad", &bad_file)];
    Ok(Redirect::to(&address("/trials/import/done", &pairs)))
}

#[derive(Deserialize)]
pub(in crate::pages::trials) struct Nothing {}

/// Brings in nothing and forgets the table.
pub(in crate::pages::trials) async fn drop_it(
    State(app): State<App>,
    Path(number): Path<i64>,
    _sent: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    tokio::task::spawn_blocking(move || app.store().drop_staged(number)).await??;
    Ok(Redirect::to("/trials"))
}

#[derive(Deserialize)]
#[serde(default)]
#[derive(Default)]
pub(in crate::pages::trials) struct Done {
    kept: u32,
    left: u32,
    bad: String,
}

#[derive(Template)]
#[template(path = "pages/trials/import_done.html")]
struct DonePage {
    frame: Frame,
    done: Done,
    bad_file: Option<String>,
}

/// Says what was brought in.
pub(in crate::pages::trials) async fn done(
    State(app): State<App>,
    Query(done): Query<Done>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let frame = app.read(move |view| Ok(Frame::of(&at, view, "trials")?)).await?;
    // An address of our own only.
    let bad_file = Some(done.bad.clone()).filter(|bad| bad.starts_with("/trials/import/"));
    Ok(Html(DonePage { frame, done, bad_file }.render()?))
}
