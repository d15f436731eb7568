//! The blade chart that learns: for each wire and rod the blade to use, how sure that is, and why.

mod asked;

mod bench;

mod believed;

mod grid;

mod cell;

mod reasons;

use axum::Router;
use axum::routing::get;

use crate::state::App;

/// Seed of the plays: always the same, so that the chart does not flicker.
const SEED: u64 = 20;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/chart", get(grid::show)).route("/chart/cell", get(cell::show))
}
