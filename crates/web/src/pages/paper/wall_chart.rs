//! The wall chart: for every wire on every rod, the blade with the best record in the trials.

use axum::extract::{Query, State};
use axum::response::Response;
use linkwright_answers::printout::{SIZE_PLACES, inches_and_gauge, short_mm};
use linkwright_calc::quantity::Length;
use linkwright_sheets::{ChartCell, ChartRow, Edition, WallChart};
use linkwright_store::records::{Handout, MetalOverlay};
use linkwright_store::trials::{BestCell, BestTried, FEW_TRIALS};
use linkwright_store::{StoreError, View};
use serde::Deserialize;

use super::{paper_named, printed};
use crate::error::PageError;
use crate::planning::catalogue_or_built_in;
use crate::planning::metal_name;
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Asked {
    #[serde(default)]
    paper: String,
    /// Key of the only metal that counts; "" for all.
    #[serde(default)]
    metal: String,
}

pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let paper = paper_named(&asked.paper)?;
    let date = app.clock().today().to_string();
    let chart = app
        .read(move |view| {
            let metal = Some(asked.metal.trim()).filter(|metal| !metal.is_empty());
            Ok(wall_chart(view, metal, date)?)
        })
        .await?;
    printed("wall chart", paper, move |paper| chart.pdf(paper)).await
}

/// The wall chart of the trials of one metal, or of all, as of a day.
///
/// # Errors
/// If the file cannot be read.
pub fn wall_chart(
    view: &View<'_>,
    metal: Option<&str>,
    date: String,
) -> Result<WallChart, StoreError> {
    let best = view.best_tried(metal)?;
    let given = view.all::<Handout>()?;
    let given = given.iter().filter(|handout| handout.record.kind == "wall-chart");
    let version = given.map(|handout| handout.record.version).max();
    let metals = catalogue_or_built_in(&view.all::<MetalOverlay>()?);
    Ok(WallChart {
        title: match metal {
            Some(key) => format!("Best-tried blades, {}", metal_name(&metals, key)),
            None => "Best-tried blades".to_owned(),
        },
        edition: Edition {
            date,
            version: version
                .map_or_else(|| "Draft".to_owned(), |last| format!("Draft after version {last}")),
            trials: best.trials,
        },
        few_means: format!("good trials of all; fewer than {FEW_TRIALS} trials are few"),
        rods: best.rods_mm.iter().map(|mm| short_mm(*mm, SIZE_PLACES)).collect(),
        rows: (0..best.wires_mm.len()).map(|wire| row(&best, wire)).collect(),
    })
}

fn row(best: &BestTried, wire: usize) -> ChartRow {
    let mm = best.wires_mm[wire];
    let cells = (0..best.rods_mm.len()).map(|rod| cell(best.cell(wire, rod))).collect();
    ChartRow { wire: short_mm(mm, SIZE_PLACES), also: inches_and_gauge(Length::from_mm(mm)), cells }
}

fn cell(tried: Option<&BestCell>) -> ChartCell {
    tried.map_or(ChartCell::Untried, |cell| ChartCell::Tried {
        blade: cell.blades[0].blade.clone(),
        counted: cell.blades[0].counted(),
        last: cell.blades[0].last.clone(),
        few: cell.blades[0].is_few(),
    })
}
