//! Faults: what went wrong, what it can be, what to check first.

mod list;

mod show;

mod known;

mod record;

use axum::Router;
use axum::routing::get;

use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/faults", get(list::list))
        .route("/faults/{symptom}", get(show::show).post(record::record))
}
