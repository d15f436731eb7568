//! The blade chart that learns: for each wire and rod the blade to use, how sure that is, and why.

mod asked;

mod bench;

mod believed;

mod decided;

mod planned;

mod grid;

mod cell;

mod told;

mod next;

mod on_record;

mod moved;

mod reasons;

mod others;

mod promise;

pub(crate) mod publish;

use axum::Router;
use axum::routing::get;

use crate::state::App;

pub use next::ToTry;
pub(crate) use next::first_to_try;
pub use on_record::{CellOnRecord, ChartOnRecord, PlanOnRecord, chart, to_try};

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/chart", get(grid::show))
        .route("/chart/cell", get(cell::show))
        .route("/chart/next", get(next::show))
        .route("/chart/moved/{trial}", get(moved::show))
        .merge(others::routes())
}
