//! The trials that fit a search, as files for other programs.

use axum::extract::{Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use linkwright_store::spreadsheet::{to_csv, to_xlsx};
use linkwright_store::trials::{as_json, as_table};

use super::address::Address;
use super::metals;
use crate::error::PageError;
use crate::state::App;

#[derive(Clone, Copy)]
enum Kind {
    Xlsx,
    Csv,
    Json,
}

/// As a spreadsheet.
pub(super) async fn xlsx(app: State<App>, typed: Query<Address>) -> Result<Response, PageError> {
    file(app, typed, Kind::Xlsx).await
}

/// As text separated by commas.
pub(super) async fn csv(app: State<App>, typed: Query<Address>) -> Result<Response, PageError> {
    file(app, typed, Kind::Csv).await
}

/// As JSON, unrounded.
pub(super) async fn json(app: State<App>, typed: Query<Address>) -> Result<Response, PageError> {
    file(app, typed, Kind::Json).await
}

async fn file(
    State(app): State<App>,
    Query(typed): Query<Address>,
    kind: Kind,
) -> Result<Response, PageError> {
    let (bytes, public) = app
        .read_for_a_file(move |view| {
            let (filter, _, _) = typed.filter(&metals(view)?);
            let (trials, lots) = (view.all_trials(&filter)?, view.all()?);
            let public = typed.public == "1";
            let bytes = match kind {
                Kind::Json => {
                    let mut text = as_json(&trials, &lots, public).to_string().into_bytes();
                    text.push(b'\n');
                    text
                }
                Kind::Csv => to_csv(&as_table(&trials, &lots, public).0)?,
                Kind::Xlsx => {
                    let (rows, numbers) = as_table(&trials, &lots, public);
                    to_xlsx("Trials", &rows, &numbers)?
                }
            };
            Ok((bytes, public))
        })
        .await?;
    let (media, ending) = match kind {
        Kind::Xlsx => ("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "xlsx"),
        Kind::Csv => ("text/csv; charset=utf-8", "csv"),
        Kind::Json => ("application/json", "json"),
    };
    let name = if public { "trials-public" } else { "trials" };
    let saved_as = format!("attachment; filename=\"{name}.{ending}\"");
    Ok(([(CONTENT_TYPE, media.to_owned()), (CONTENT_DISPOSITION, saved_as)], bytes).into_response())
}
