//! The chart of best-tried blades: wire by rod, with counts, on screen and for the wall.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_answers::printout::{SIZE_PLACES, inches_and_gauge, short_mm};
use linkwright_calc::quantity::Length;
use linkwright_store::trials::{BestCell, BestTried, FEW_TRIALS};

use super::address::{Address, address};
use super::{metal_name, metals};
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

/// Nearer to a gauge than this, a wire is that gauge: finer than any tolerance of drawn wire.

#[derive(Template)]
#[template(path = "pages/trials/chart.html")]
struct ChartPage {
    frame: Frame,
    chart: Arc<BestTried>,
    metals: Vec<(String, String)>,
    metal: String,
    metal_name: Option<String>,
    public: bool,
    few: u32,
    today: String,
}

/// Shows the chart.
pub(super) async fn chart(
    State(app): State<App>,
    Query(typed): Query<Address>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let today = app.clock().today().to_string();
    let page = app
        .read(move |view| {
            let metals = metals(view)?;
            let metal = Some(typed.metal.trim()).filter(|metal| !metal.is_empty());
            let known = view.metals_tried()?;
            Ok(ChartPage {
                frame: Frame::of(&at, view, "trials")?,
                chart: view.best_tried(metal)?,
                metals: known.into_iter().map(|key| (metal_name(&metals, &key), key)).collect(),
                metal_name: metal.map(|metal| metal_name(&metals, metal)),
                metal: typed.metal.clone(),
                public: typed.public == "1",
                few: FEW_TRIALS,
                today,
            })
        })
        .await?;
    Ok(Html(page.render()?))
}

impl ChartPage {
    /// The same wire in inches and by its American gauge, if it is one.
    fn also(&self, wire_mm: &f64) -> String {
        inches_and_gauge(Length::from_mm(*wire_mm))
    }

    fn shown(&self, mm: &f64) -> String {
        short_mm(*mm, SIZE_PLACES)
    }

    /// The cell at two places of the table.
    fn cell(&self, wire: &usize, rod: &usize) -> Option<&BestCell> {
        self.chart.cell(*wire, *rod)
    }

    /// The trials behind a cell.
    fn trials_of(&self, cell: &BestCell) -> String {
        let wire = self.shown(&self.chart.wires_mm[cell.wire]);
        let rod = self.shown(&self.chart.rods_mm[cell.rod]);
        address("/trials", &[("metal", &self.metal), ("wire", &wire), ("rod", &rod)])
    }
}
