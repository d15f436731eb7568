//! Chains: a pattern picked by its picture, set in metal, wire and ring, seen from every side.

mod list;

mod picture;

mod asked;

mod question;

mod answers;

mod numbers;

mod rods;

mod too_small;

mod bar;

mod scene;

mod look;

mod show;

mod measured;

mod card;

mod to_measure;

mod own;

use axum::Router;
use axum::routing::{get, post};

use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/chain", get(list::show))
        .route("/chain/pattern", get(show::show))
        .route("/chain/picture/{file}", get(picture::show))
        .route("/chain/measured", post(measured::add))
        .route("/chain/card", get(card::show))
        .route("/chain/to-measure", get(to_measure::show))
        .route("/paper/linking-card", get(card::pdf))
        .route("/chain/rows", get(scene::rows))
        .route("/chain/scene", get(scene::taut))
        .merge(own::routes())
}

/// The page of a pattern.
fn address_of(pattern: &str) -> String {
    asked::address("/chain/pattern", [("pattern", pattern)].into_iter())
}
