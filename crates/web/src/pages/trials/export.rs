//! The trials that fit a search, as files for other programs.

use axum::extract::{Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use linkwright_store::trials::TrialsForm;

use super::address::Address;
use super::metals;
use crate::error::PageError;
use crate::state::App;

/// As a spreadsheet.
pub(super) async fn xlsx(app: State<App>, typed: Query<Address>) -> Result<Response, PageError> {
    file(app, typed, TrialsForm::Xlsx).await
}

/// As text separated by commas.
pub(super) async fn csv(app: State<App>, typed: Query<Address>) -> Result<Response, PageError> {
    file(app, typed, TrialsForm::Csv).await
}

/// As JSON, unrounded.
pub(super) async fn json(app: State<App>, typed: Query<Address>) -> Result<Response, PageError> {
    file(app, typed, TrialsForm::Json).await
}

async fn file(
    State(app): State<App>,
    Query(typed): Query<Address>,
    form: TrialsForm,
) -> Result<Response, PageError> {
    let public = typed.public == "1";
    let filter = app.read(move |view| Ok(typed.filter(&metals(view)?).0)).await?;
    let body = app
        .send_file(move |view, pieces| view.write_trials(&filter, form, public, pieces).map(drop))
        .await?;
    let (media, ending) = match form {
        TrialsForm::Xlsx => {
            ("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "xlsx")
        }
        TrialsForm::Csv => ("text/csv; charset=utf-8", "csv"),
        TrialsForm::Json => ("application/json", "json"),
    };
    let name = if public { "trials-public" } else { "trials" };
    let saved_as = format!("attachment; filename=\"{name}.{ending}\"");
    Ok(([(CONTENT_TYPE, media.to_owned()), (CONTENT_DISPOSITION, saved_as)], body).into_response())
}
