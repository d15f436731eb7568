//! Rings: batches on the shelf and gone, counted by weight, labelled.

mod list;

mod clues;

mod show;

mod words;

mod entry;

mod form;

mod take;

mod count;

mod weighing;

mod labels;

use axum::Router;
use axum::routing::{get, post};

use crate::state::App;

pub(crate) use words::{in_address, label_lines};

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/rings", get(list::list).post(form::add))
        .route("/rings/new", get(form::new))
        .route("/rings/count", get(count::ask).post(count::save))
        .route("/rings/labels", get(labels::labels))
        .route("/rings/{id}", get(show::show).post(form::change))
        .route("/rings/{id}/edit", get(form::edit))
        .route("/rings/{id}/take", post(take::take))
        .route("/rings/{id}/gone", post(take::gone))
        .route("/rings/{id}/back", post(take::back))
        .route("/b/{code}", get(show::by_code))
}
