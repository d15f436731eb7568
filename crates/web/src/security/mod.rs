//! What keeps the app to this computer and its answers in our own words.

mod door;

mod headers;

mod plain_words;

mod same_page;

use std::any::Any;
use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::{from_fn, map_response};
use axum::response::Response;
use tower_http::CompressionLevel;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::timeout::TimeoutLayer;

pub(crate) use door::only_at_port;

use crate::frame::error_page;

/// A form of ours is a few kilobytes; pages that take files set their own limit.
const FORM_BYTES_MAX: usize = 256 * 1024;

/// Nothing here takes longer than the import of a large table.
const ANSWER_WITHIN: Duration = Duration::from_secs(60);

/// Puts every guard that needs no socket round the pages.
pub(crate) fn guarded(pages: Router) -> Router {
    pages
        .layer(from_fn(same_page::check))
        .layer(DefaultBodyLimit::max(FORM_BYTES_MAX))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, ANSWER_WITHIN))
        .layer(CatchPanicLayer::custom(|thrown: Box<dyn Any + Send>| after_panic(&*thrown)))
        .layer(from_fn(plain_words::say))
        .layer(map_response(headers::add))
        // The harder settings cost several times the work and save a tenth of the bytes.
        .layer(CompressionLayer::new().quality(CompressionLevel::Fastest))
}

fn after_panic(thrown: &(dyn Any + Send)) -> Response {
    let said = thrown
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| thrown.downcast_ref::<&str>().copied())
        .unwrap_or("no words");
    tracing::error!(said, "a page broke off");
    error_page(
        StatusCode::INTERNAL_SERVER_ERROR,
        "something went wrong inside; nothing of this request was saved",
    )
}

#[cfg(test)]
mod tests {
    use axum::body::Body;
    use axum::http::Request;
    use axum::routing::get;
    use http_body_util::BodyExt;
    use tower::ServiceExt;

    use super::*;

    async fn answer(pages: Router) -> (StatusCode, Response<()>, String) {
        let request = Request::get("/").header("host", "127.0.0.1:8040").body(Body::empty());
        let answered = guarded(pages).oneshot(request.expect("a request")).await.expect("answered");
        let (parts, body) = answered.into_parts();
        let bytes = body.collect().await.expect("a whole answer").to_bytes();
        let status = parts.status;
        (status, Response::from_parts(parts, ()), String::from_utf8_lossy(&bytes).into_owned())
    }

    #[tokio::test]
    async fn a_page_that_breaks_off_says_so_in_our_words_and_tells_nothing_from_inside() {
        let breaks = || async {
            // What no page does: a bug, as it would come.
            let rings: [u32; 0] = [];
            rings[std::hint::black_box(3)].to_string()
        };
        let (status, answered, text) = answer(Router::new().route("/", get(breaks))).await;
        assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR);
        assert!(text.contains("nothing of this request was saved"), "{text}");
        assert!(!text.contains("out of bounds"), "{text}");
        assert!(answered.headers().contains_key("content-security-policy"));
    }

    #[tokio::test(start_paused = true)]
    async fn a_page_that_never_answers_is_given_up_after_a_minute() {
        let hangs = || std::future::pending::<&'static str>();
        let began = tokio::time::Instant::now();
        let (status, answered, text) = answer(Router::new().route("/", get(hangs))).await;
        assert_eq!(status, StatusCode::REQUEST_TIMEOUT);
        assert!(began.elapsed() >= ANSWER_WITHIN && began.elapsed() < 2 * ANSWER_WITHIN);
        assert!(text.contains("too long"), "{text}");
        assert!(answered.headers().contains_key("content-security-policy"));
    }
}
