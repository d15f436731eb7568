//! Paper: every sheet as a PDF, made when it is asked for.

mod run_sheet;

mod labels;

mod wall_chart;

#[cfg(test)]
mod tests;

pub use labels::label_sheet;
pub use wall_chart::wall_chart;

use axum::Router;
use axum::extract::{Query, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use linkwright_sheets::{CautionSheet, Edition, Paper, Pdf, SheetError, TrialCard};
use serde::Deserialize;
use tokio::sync::Semaphore;

use crate::error::PageError;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/paper/run-sheet/order/{id}", get(run_sheet::of_order))
        .route("/paper/run-sheet/line/{id}", get(run_sheet::of_line))
        .route("/paper/run-sheet/frozen/{id}", get(run_sheet::of_frozen))
        .route("/paper/kit/{line}", get(run_sheet::kit))
        .route("/paper/wall-chart", get(wall_chart::show))
        .route("/paper/labels", get(labels::show))
        .route("/paper/trial-card", get(trial_card))
        .route("/paper/cautions", get(cautions))
}

/// The press has one cache and takes much memory, so it does one sheet at a time.
static PRESS: Semaphore = Semaphore::const_new(1);

/// Which paper is asked for.
#[derive(Deserialize)]
struct Asked {
    /// "a4" or "letter"; A4 if it is not said.
    #[serde(default)]
    paper: String,
    /// "without" leaves prices and costs out.
    #[serde(default)]
    costs: String,
    /// Which ring size of a line; the first if it is not said.
    size: Option<usize>,
}

impl Asked {
    fn paper(&self) -> Result<Paper, PageError> {
        paper_named(&self.paper)
    }
}

pub(crate) fn paper_named(typed: &str) -> Result<Paper, PageError> {
    if typed.is_empty() {
        return Ok(Paper::default());
    }
    Paper::named(typed).ok_or_else(|| {
        PageError::Unreadable(format!("\"{typed}\" is no paper here: ask for a4 or letter"))
    })
}

/// Prints a sheet when the press is free, and answers with it under a plain name.
pub(crate) async fn printed(
    name: &str,
    paper: Paper,
    print: impl FnOnce(Paper) -> Result<Pdf, SheetError> + Send + 'static,
) -> Result<Response, PageError> {
    // The press is never closed.
    let turn = PRESS.acquire().await.map_err(|error| PageError::Inside(Box::new(error)))?;
    let pdf = tokio::task::spawn_blocking(move || print(paper)).await?;
    drop(turn);
    let pdf = pdf.map_err(|error| PageError::Inside(Box::new(error)))?;
    for warning in pdf.warnings() {
        tracing::warn!(name, warning, "a sheet was set with a doubt");
    }
    let file = format!("inline; filename=\"{}.pdf\"", plain(name));
    let headers = [
        (CONTENT_TYPE, "application/pdf".to_owned()),
        (CONTENT_DISPOSITION, file),
        (CACHE_CONTROL, "no-store".to_owned()),
    ];
    Ok((headers, pdf.into_bytes()).into_response())
}

/// A name that every file system takes: small letters, digits and hyphens.
fn plain(name: &str) -> String {
    let letters = name.to_lowercase();
    let words = letters.split(|letter: char| !letter.is_ascii_alphanumeric());
    words.filter(|word| !word.is_empty()).collect::<Vec<_>>().join("-")
}

/// The edition of a sheet that says what the program says: it changes with the program.
pub(crate) fn edition_of_program(app: &App) -> Edition {
    Edition {
        date: app.clock().today().to_string(),
        version: format!("Version {}", env!("CARGO_PKG_VERSION")),
        trials: 0,
    }
}

async fn trial_card(Query(asked): Query<Asked>) -> Result<Response, PageError> {
    printed("trial card", asked.paper()?, |paper| TrialCard.pdf(paper)).await
}

async fn cautions(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let sheet = CautionSheet { edition: edition_of_program(&app) };
    printed("cautions", asked.paper()?, move |paper| sheet.pdf(paper)).await
}
