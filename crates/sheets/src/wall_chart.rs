//! The wall chart of best-tried blades, wire by rod.

use serde::Serialize;

use crate::edition::Edition;
use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/wall_chart.typ") };

/// The best-tried blade for every wire on every rod; public, so without costs or names.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallChart {
    /// What the chart is of, such as "Best-tried blades, all metals".
    pub title: String,
    /// Which version it is.
    pub edition: Edition,
    /// How many trials are called few, as a sentence.
    pub few_means: String,
    /// The rods, thin to thick, as they stand above the columns.
    pub rods: Vec<String>,
    /// The wires, thin to thick.
    pub rows: Vec<ChartRow>,
}

/// One wire.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChartRow {
    /// Its diameter.
    pub wire: String,
    /// The same in another system.
    pub also: String,
    /// One cell a rod, in the order of the rods.
    pub cells: Vec<ChartCell>,
}

/// One wire on one rod.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum ChartCell {
    /// No trial.
    Untried,
    /// The blade that did best.
    Tried {
        /// The blade.
        blade: String,
        /// How it did, such as "2 good of 3".
        counted: String,
        /// Day of the last trial.
        last: String,
        /// Whether that is few to go by.
        few: bool,
    },
}

impl WallChart {
    /// Prints the chart, on its side.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        print(TEMPLATE, paper, &self.title, &self.edition.line(), self)
    }
}
