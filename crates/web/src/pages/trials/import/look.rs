//! The fourth step: what would be kept, and row by row what cannot be.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{Html, IntoResponse, Response};
use linkwright_store::View;
use linkwright_store::spreadsheet::to_csv;
use linkwright_store::trials::import::{BadRow, Preview, preview};

use super::choose::match_page;
use super::steps::Steps;
use crate::error::PageError;
use crate::frame::Frame;
use crate::pages::trials::{metal_name, metals};
use crate::state::App;

/// Rows shown of each kind; the rest is counted.
const SHOWN: usize = 100;

#[derive(Template)]
#[template(path = "pages/trials/import_look.html")]
struct LookPage {
    frame: Frame,
    number: i64,
    name: String,
    steps: String,
    back: String,
    bad_file: String,
    found: Preview,
    kept_already: usize,
    fresh: usize,
    good_rows: Vec<GoodShown>,
    bad_rows: Vec<BadRow>,
}

struct GoodShown {
    row: usize,
    title: String,
    about: String,
    kept_as: Option<i64>,
}

/// A table read by what was chosen.
pub(super) struct Looked {
    pub(super) name: String,
    pub(super) headings: Vec<String>,
    pub(super) found: Preview,
    /// Whether something still has to be said first.
    pub(super) is_unclear: bool,
}

/// Reads the table by what was chosen.
pub(super) fn look(view: &View<'_>, number: i64, steps: &Steps) -> Result<Looked, PageError> {
    let staged = view.staged(number)?;
    let (_, sheet) = steps.sheet(&staged.tables)?;
    let matching = steps.matching(sheet);
    let is_unclear = !matching.units_missing(sheet).is_empty() || matching.twice().is_some();
    let found = if is_unclear {
        Preview::default()
    } else {
        preview(view, sheet, &matching, &metals(view)?)?
    };
    Ok(Looked { headings: matching.headings(sheet), name: staged.name, found, is_unclear })
}

/// Shows what an import would do.
pub(in crate::pages::trials) async fn show(
    State(app): State<App>,
    Path(number): Path<i64>,
    Query(pairs): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let at = app.clone();
    let steps = Steps::of(pairs);
    let asked = steps.clone();
    let page = app
        .read(move |view| {
            let looked = look(view, number, &steps)?;
            if looked.is_unclear {
                return Ok(None);
            }
            let metals = metals(view)?;
            let found = looked.found;
            let kept_already = found.good.iter().filter(|row| row.kept_as.is_some()).count();
            let shown = found.good.iter().take(SHOWN).map(|row| GoodShown {
                row: row.row,
                title: row.trial.title(),
                about: format!(
                    "{}, {} {}, {}, {}",
                    row.trial.tried_on,
                    metal_name(&metals, &row.trial.metal),
                    row.trial.temper,
                    if row.trial.blade_name.is_empty() {
                        "blade not noted"
                    } else {
                        &row.trial.blade_name
                    },
                    row.trial.outcome
                ),
                kept_as: row.kept_as.map(linkwright_store::Id::number),
            });
            Ok(Some(LookPage {
                frame: Frame::of(&at, view, "trials")?,
                number,
                name: looked.name,
                steps: steps.text(),
                back: steps.at(&format!("/trials/import/{number}/match")),
                bad_file: steps.at(&format!("/trials/import/{number}/bad.csv")),
                good_rows: shown.collect(),
                bad_rows: found.bad.iter().take(SHOWN).cloned().collect(),
                kept_already,
                fresh: found.good.len() - kept_already,
                found,
            }))
        })
        .await?;
    match page {
        Some(page) => Ok(Html(page.render()?).into_response()),
        None => match_page(&app, number, asked, true).await,
    }
}

/// The rows that cannot be kept, as they stood, each with its reason: to be mended and sent again.
pub(in crate::pages::trials) async fn bad(
    State(app): State<App>,
    Path(number): Path<i64>,
    Query(pairs): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let bytes = app
        .read(move |view| {
            let looked = look(view, number, &Steps::of(pairs))?;
            Ok(to_csv(&looked.found.bad_table(&looked.headings))?)
        })
        .await?;
    let headers = [
        (CONTENT_TYPE, "text/csv; charset=utf-8"),
        (CONTENT_DISPOSITION, "attachment; filename=\"rows-left-out.csv\""),
    ];
    Ok((headers, bytes).into_response())
}
