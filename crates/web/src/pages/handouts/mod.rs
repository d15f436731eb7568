//! Handouts: sheets for a wall or a class, in versions that are kept as they were.

mod list;

mod sheet;

mod chart;

mod kit;

mod blade_chart;

pub(crate) mod files;

mod fixed;

mod version;

use axum::Router;
use axum::routing::{get, post};

use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/handouts", get(list::list).post(version::make))
        .route("/handouts/{id}", get(version::show))
        .route("/handouts/{id}/file/{name}", get(files::file))
        .route("/handouts/{id}/given", post(version::give))
}
