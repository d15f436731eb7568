//! The second and third step: which sheet and heading, which column is what.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use linkwright_calc::metal::Hardness;
use linkwright_store::trials::import::{IMPORT_FIELDS, Staged, UNITS, heading_row, is_size};

use super::steps::Steps;
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/trials/import_choose.html")]
struct ChoosePage {
    frame: Frame,
    number: i64,
    staged: Staged,
    sheets: Vec<SheetShown>,
}

struct SheetShown {
    at: usize,
    name: String,
    rows: usize,
    heading: usize,
    /// The first rows with their numbers.
    head: Vec<(usize, Vec<String>)>,
}

/// Asks for the sheet and where its heading stands.
pub(in crate::pages::trials) async fn show(
    State(app): State<App>,
    Path(number): Path<i64>,
) -> Result<Html<String>, PageError> {
    const SHOWN: usize = 8;
    let at = app.clone();
    let page = app
        .read(move |view| {
            let staged = view.staged(number)?;
            let sheets = staged.tables.sheets.iter().enumerate().map(|(at, sheet)| SheetShown {
                at,
                name: sheet.name.clone(),
                rows: sheet.rows.len(),
                heading: heading_row(sheet) + 1,
                head: sheet
                    .rows
                    .iter()
                    .take(SHOWN)
                    .cloned()
                    .enumerate()
                    .map(|(row, cells)| (row + 1, cells))
                    .collect(),
            });
            let sheets = sheets.collect();
            Ok(ChoosePage { frame: Frame::of(&at, view, "trials")?, number, staged, sheets })
        })
        .await?;
    Ok(Html(page.render()?))
}

#[derive(Template)]
#[template(path = "pages/trials/import_match.html")]
struct MatchPage {
    frame: Frame,
    number: i64,
    name: String,
    sheet: usize,
    heading: usize,
    lines: usize,
    columns: Vec<ColumnShown>,
    fields: &'static [(&'static str, &'static str)],
    units: &'static [(&'static str, &'static str)],
    steps: Steps,
    tempers: Vec<&'static str>,
    has_commas: bool,
    complaint: String,
}

struct ColumnShown {
    at: usize,
    heading: String,
    examples: Vec<String>,
    field: String,
    unit: String,
    complaint: &'static str,
}

/// Asks which column is what.
pub(in crate::pages::trials) async fn columns(
    State(app): State<App>,
    Path(number): Path<i64>,
    Query(pairs): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    match_page(&app, number, Steps::of(pairs), false).await
}

/// The match screen; `insist` after a step that lacks an answer.
pub(super) async fn match_page(
    app: &App,
    number: i64,
    steps: Steps,
    insist: bool,
) -> Result<Response, PageError> {
    const EXAMPLES: usize = 3;
    let at = app.clone();
    let page = app
        .read(move |view| {
            let staged = view.staged(number)?;
            let (place, sheet) = steps.sheet(&staged.tables)?;
            let matching = steps.matching(sheet);
            let missing = matching.units_missing(sheet);
            let columns = matching.headings(sheet).into_iter().zip(&matching.columns).enumerate();
            let columns = columns.map(|(at, (heading, column))| {
                let cells = matching.rows(sheet).filter_map(|(_, row)| row.get(at));
                let filled = cells.filter(|cell| !cell.trim().is_empty());
                ColumnShown {
                    at,
                    heading,
                    examples: filled.take(EXAMPLES).cloned().collect(),
                    field: column.field.clone(),
                    unit: column.unit.clone(),
                    complaint: if insist && missing.contains(&at) && is_size(&column.field) {
                        "these are bare numbers: say which unit they are in"
                    } else {
                        ""
                    },
                }
            });
            let columns: Vec<ColumnShown> = columns.collect();
            let has_commas = matching.rows(sheet).any(|(_, row)| {
                row.iter().any(|cell| {
                    cell.contains(',')
                        && cell.trim_start_matches('-').starts_with(|l: char| l.is_ascii_digit())
                })
            });
            let complaint = match matching.twice() {
                Some(field) if insist => {
                    let words = IMPORT_FIELDS.iter().find(|(known, _)| *known == field);
                    format!(
                        "two columns are matched to {}; leave one out",
                        words.map_or(field, |(_, words)| words)
                    )
                }
                _ => String::new(),
            };
            Ok(MatchPage {
                frame: Frame::of(&at, view, "trials")?,
                number,
                name: staged.name.clone(),
                sheet: place,
                heading: matching.heading_row + 1,
                lines: matching.heading_lines,
                columns,
                fields: IMPORT_FIELDS,
                units: UNITS,
                tempers: Hardness::ALL.iter().map(|hardness| hardness.word()).collect(),
                steps,
                has_commas,
                complaint,
            })
        })
        .await?;
    let status = if insist { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}
