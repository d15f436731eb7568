//! Refusals of the framework, said in our own words with ways on.

use axum::extract::Request;
use axum::http::header::{ALLOW, CONTENT_TYPE};
use axum::http::{HeaderMap, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use serde_json::json;

use crate::frame::error_page;

/// Addresses under which programs ask and expect JSON.
const FOR_PROGRAMS: &str = "/api/";

/// Replaces a refusal that is not one of our pages.
pub(super) async fn say(request: Request, next: Next) -> Response {
    let for_a_program = request.uri().path().starts_with(FOR_PROGRAMS);
    let answer = next.run(request).await;
    let status = answer.status();
    let refused = status.is_client_error() || status.is_server_error();
    if !refused || is_ours(answer.headers()) {
        return answer;
    }
    let mut ours = if for_a_program {
        (status, axum::Json(json!({ "error": words(status) }))).into_response()
    } else {
        error_page(status, words(status))
    };
    if let Some(allowed) = answer.headers().get(ALLOW) {
        ours.headers_mut().insert(ALLOW, allowed.clone());
    }
    ours
}

/// The framework answers in plain text or with nothing; we answer in HTML or JSON.
fn is_ours(headers: &HeaderMap) -> bool {
    headers
        .get(CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok())
        .is_some_and(|kind| !kind.starts_with("text/plain"))
}

fn words(status: StatusCode) -> &'static str {
    match status {
        StatusCode::NOT_FOUND => "there is nothing at this address; it may have been removed",
        StatusCode::METHOD_NOT_ALLOWED => {
            "this address does not take that kind of request; open the page and use its buttons"
        }
        StatusCode::PAYLOAD_TOO_LARGE => {
            "what was sent is too large, so nothing was saved; send less at a time"
        }
        StatusCode::UNSUPPORTED_MEDIA_TYPE => {
            "what was sent is not a form of this app; open the page and send it from there"
        }
        StatusCode::REQUEST_TIMEOUT => {
            "this took too long and was given up; open the page again and see what was saved"
        }
        status if status.is_server_error() => "something went wrong inside; nothing was saved",
        _ => "this address or form cannot be read; open the page again and repeat the last entry",
    }
}
