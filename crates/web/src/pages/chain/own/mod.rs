//! Patterns of one's own: brought in, looked at, replaced, taken out again.

mod sent;

mod page;

mod keep;

mod files;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};

use crate::state::App;

/// Bytes of a whole form that are read at all; far more than a text may have, so that a photo chosen by
/// mistake is told of on the page, with the text that stands there.
const FORM_BYTES_MOST: usize = 64 * 1024 * 1024;

pub(super) fn routes() -> Router<App> {
    Router::new()
        .route("/chain/own", get(page::all).post(keep::add))
        .route("/chain/own/{id}", get(page::one).post(keep::replace))
        .layer(DefaultBodyLimit::max(FORM_BYTES_MOST))
        .route("/chain/own/{id}/remove", post(keep::remove))
        .route("/chain/own/{id}/pattern.toml", get(files::text))
        .route("/chain/own/example/{file}", get(files::example))
}

pub(super) use page::own_picture;
