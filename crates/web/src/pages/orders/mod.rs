//! Orders: what somebody asked for, on one screen; its lines, its run sheets, its state.

mod list;

mod ring_sizes;

mod form;

mod shown;

mod read;

mod sizes;

mod edit;

mod one;

mod sheet;

mod frozen;

use axum::Router;
use axum::routing::{get, post};

use crate::state::App;

pub(crate) use ring_sizes::sized;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/orders", get(list::show))
        .route("/orders/new", get(edit::blank).post(edit::add))
        .route("/orders/{order}", get(one::show))
        .route("/orders/{order}/edit", get(edit::show).post(edit::change))
        .route("/orders/{order}/repeat", post(edit::repeat))
        .route("/orders/{order}/close", post(one::close))
        .route("/orders/{order}/remove", post(one::remove))
        .route("/orders/{order}/sheet", get(sheet::show).post(sheet::start))
        .route("/orders/{order}/frozen/{sheet}", get(frozen::show))
        .route("/assets/run-sheet.css", get(sheet::style))
}
