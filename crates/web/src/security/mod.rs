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
        .layer(CompressionLayer::new())
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
