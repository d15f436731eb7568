//! The pages, one module each.

mod choices;

pub(crate) mod chain;

pub(crate) mod chart;

mod help;

mod history;

pub(crate) mod paper;

pub(crate) mod runs;

mod orders;

mod sample;

mod faults;

pub(crate) mod handouts;

mod rings;

mod photos;

mod today;

mod trials;

mod undo;

mod welcome;

pub(crate) mod workshop;

use axum::Router;

use crate::error::PageError;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .merge(choices::routes())
        .merge(chain::routes())
        .merge(chart::routes())
        .merge(help::routes())
        .merge(history::routes())
        .merge(paper::routes())
        .merge(runs::routes())
        .merge(orders::routes())
        .merge(faults::routes())
        .merge(handouts::routes())
        .merge(rings::routes())
        .merge(photos::routes())
        .merge(today::routes())
        .merge(trials::routes())
        .merge(undo::routes())
        .merge(workshop::routes())
        .merge(sample::routes())
        .merge(welcome::routes())
        .fallback(nowhere)
}

async fn nowhere() -> PageError {
    PageError::NotFound { what: "page" }
}
