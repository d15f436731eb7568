//! Learning from other workshops: their files loaded, what they change, and this workshop's own file.

mod changes;

mod show;

mod load;

mod choose;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use linkwright_answers::pool::PortablePrior;

use crate::state::App;

/// Bytes of a whole form that are read at all: a class's files at once.
const FORM_BYTES_MOST: usize = 24 * 1024 * 1024;

pub(super) fn routes() -> Router<App> {
    let limit = DefaultBodyLimit::max(FORM_BYTES_MOST);
    Router::new()
        .route("/chart/others", get(show::show).post(load::load).layer(limit))
        .route("/chart/others/own.json", get(show::own_file))
        .route("/chart/others/all/{choice}", post(choose::all))
        .route("/chart/others/{id}/{choice}", post(choose::one))
}

/// What to add where the chart says what it rests on; "" if no other workshop taught.
pub(super) fn with_others(others: &PortablePrior) -> String {
    if others.workshops == 0 { String::new() } else { format!(", with {}", others.in_words()) }
}
