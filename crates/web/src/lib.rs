//! The workshop app: pages, figures and assets served on this computer.

mod api;

mod assets;

mod choices;

mod clock;

mod error;

mod form;

mod frame;

mod live;

mod measured;

mod pieces;

mod security;

mod serve;

mod state;

mod patterns;

mod planning;

mod learning;

mod welcome;

mod pages;

pub mod sample;

use axum::Router;
use axum::middleware::from_fn;

pub use clock::Clock;
pub use serve::{serve, served};
pub use state::App;

/// Sheets made from the data file, for whoever is not a browser.
pub mod paper {
    pub use crate::pages::chart::publish::blade_chart;
    pub use crate::pages::handouts::files::book;
    pub use crate::pages::paper::{label_sheet, wall_chart};
}

/// What is on record, for whoever is not a browser.
pub mod record {
    pub use crate::learning::trials;
    pub use crate::measured::{chain_corrections, measured_readings};
    pub use crate::pages::chart::{
        CellOnRecord, ChartOnRecord, PlanOnRecord, ToTry, chart, to_try,
    };
    pub use crate::patterns::known_patterns;
    pub use crate::planning::workshop;
}

/// All pages and interfaces over one data file; `main` and tests call the same.
pub fn app(state: App) -> Router {
    let pages = Router::new()
        .merge(api::routes())
        .merge(assets::routes())
        .merge(live::routes())
        .merge(pages::routes())
        .with_state(state);
    security::guarded(pages).layer(from_fn(choices::carry))
}
