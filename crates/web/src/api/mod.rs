//! What other programs may ask over HTTP: the batch questions, every record read only, a description.

mod asks;

mod openapi;

mod records;

use axum::Json;
use axum::Router;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde_json::json;

use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new().merge(asks::routes()).merge(records::routes()).merge(openapi::routes())
}

/// A refusal in the form the batch interface gives it.
fn refused(status: StatusCode, field: &str, message: &str) -> Response {
    let error = json!({ "error": { "field": field, "given": null, "message": message } });
    (status, Json(error)).into_response()
}
