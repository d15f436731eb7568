//! Every record, read only and page by page.

use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Json, Router};
use linkwright_store::record_tables;
use serde::Deserialize;
use serde_json::json;

use super::refused;
use crate::error::PageError;
use crate::state::App;

/// Rows of one answer if none are asked for, and the most there can be.
const ROWS: u32 = 100;
pub(super) const ROWS_MAX: u32 = 1_000;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/api/records", get(kinds)).route("/api/records/{kind}", get(rows))
}

async fn kinds() -> Response {
    Json(json!({ "kinds": record_tables() })).into_response()
}

#[derive(Deserialize)]
struct Wanted {
    after: Option<i64>,
    count: Option<u32>,
}

/// Rows after a number; `next` is what to ask after for the ones that follow, null at the end.
async fn rows(
    State(app): State<App>,
    Path(kind): Path<String>,
    wanted: Result<Query<Wanted>, axum::extract::rejection::QueryRejection>,
) -> Result<Response, PageError> {
    let Ok(Query(wanted)) = wanted else {
        let message = "after and count are whole numbers, such as ?after=100&count=50";
        return Ok(refused(StatusCode::BAD_REQUEST, "after", message));
    };
    let count = wanted.count.unwrap_or(ROWS);
    if !(1..=ROWS_MAX).contains(&count) {
        let message = format!("count is {count}; it must be between 1 and {ROWS_MAX} rows");
        return Ok(refused(StatusCode::BAD_REQUEST, "count", &message));
    }
    let after = wanted.after.unwrap_or(0);
    let asked = kind.clone();
    let found = app.read(move |view| Ok(view.rows(&asked, after, count)?)).await?;
    let Some(found) = found else {
        let message =
            format!("no records are called {kind}; there are {}", record_tables().join(", "));
        return Ok(refused(StatusCode::NOT_FOUND, "kind", &message));
    };
    let full = u32::try_from(found.len()).is_ok_and(|rows| rows == count);
    let next = found.last().filter(|_| full).map(|row| row["id"].clone());
    Ok(Json(json!({ "kind": kind, "records": found, "next": next })).into_response())
}
