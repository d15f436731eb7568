//! Trials: looked for, typed in, shown with what they teach, charted, brought in and taken out.

mod query;

mod address;

mod list;

mod form;

mod one;

mod lesson;

mod chart;

mod import;

mod export;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use linkwright_calc::metal::Catalogue;
use linkwright_store::View;
use linkwright_store::records::MetalOverlay;

use crate::error::PageError;
use crate::planning;
use crate::planning::metal_name;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/trials", get(list::list))
        .route("/trials/new", get(form::new).post(form::add))
        .route("/trials/chart", get(chart::chart))
        .route("/trials/export.xlsx", get(export::xlsx))
        .route("/trials/export.csv", get(export::csv))
        .route("/trials/export.json", get(export::json))
        .route(
            "/trials/import",
            get(import::upload::show)
                .post(import::upload::take)
                .layer(DefaultBodyLimit::max(import::UPLOAD_BYTES_MOST)),
        )
        .route("/trials/import/done", get(import::keep::done))
        .route("/trials/import/{number}", get(import::choose::show))
        .route("/trials/import/{number}/match", get(import::choose::columns))
        .route("/trials/import/{number}/preview", get(import::look::show))
        .route("/trials/import/{number}/bad.csv", get(import::look::bad))
        .route("/trials/import/{number}/keep", post(import::keep::keep))
        .route("/trials/import/{number}/drop", post(import::keep::drop_it))
        .route("/trials/{id}", get(one::one))
        .route("/trials/{id}/edit", get(form::edit).post(form::change))
        .route("/trials/{id}/remove", post(one::remove))
}

/// The metals of this workshop.
fn metals(view: &View<'_>) -> Result<Catalogue, PageError> {
    let own = view.all::<MetalOverlay>()?;
    planning::catalogue(&own).map_err(|obstacle| PageError::from(Box::new(obstacle)))
}
