//! What a handout says, as it is kept with its version.

use linkwright_answers::published::PublishedChart;
use serde::{Deserialize, Serialize};

use crate::pages::chart::publish::KIND;

/// The sheets that come in versions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Best-tried blades.
    WallChart,
    /// The blade chart as learned.
    BladeChart,
    /// What is in a class kit.
    Kit,
    /// Blank card for a pencil.
    TrialCard,
    /// Cautions for students.
    Cautions,
}

impl Kind {
    /// All of them, in the order of the page.
    pub(super) const ALL: [Kind; 5] =
        [Kind::BladeChart, Kind::WallChart, Kind::Kit, Kind::TrialCard, Kind::Cautions];

    /// The word it is kept as.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Kind::BladeChart => KIND,
            Kind::WallChart => "wall-chart",
            Kind::Kit => "kit",
            Kind::TrialCard => "trial-card",
            Kind::Cautions => "cautions",
        }
    }

    /// The one kept as this word.
    pub(super) fn named(word: &str) -> Option<Kind> {
        Kind::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// Its name on the page.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Kind::BladeChart => "Blade chart as learned",
            Kind::WallChart => "Wall chart of best-tried blades",
            Kind::Kit => "Class kit sheet",
            Kind::TrialCard => "Blank trial card for a pencil",
            Kind::Cautions => "Caution sheet for students",
        }
    }

    /// What it is for, in a sentence.
    pub(super) const fn about(self) -> &'static str {
        match self {
            Kind::BladeChart => {
                "For each wire and rod the blade to use, what to expect, what was tried and what is worked out; a copy for students to add their trials to."
            }
            Kind::WallChart => {
                "For each wire and rod the blade with the best record, good of tried."
            }
            Kind::Kit => "What is in a kit, what it weighs, and the labels for the bags.",
            Kind::TrialCard => "Two to a page; typed in later under Trials.",
            Kind::Cautions => "Every line a student sheet carries, step by step.",
        }
    }
}

/// The words of one version: no costs, no names of people.
#[derive(Clone, Debug, Default, Deserialize, PartialEq, Serialize)]
pub(super) struct Sheet {
    /// First lines.
    pub(super) lead: Vec<String>,
    /// Large numbers: name, value with unit, what it rests on.
    pub(super) keys: Vec<[String; 3]>,
    /// Tables.
    pub(super) tables: Vec<Table>,
    /// Headed lists.
    pub(super) lists: Vec<List>,
    /// Blank cards, each a list of what is to be filled in.
    pub(super) cards: Vec<Vec<String>>,
    /// Labels to cut out.
    pub(super) labels: Vec<Vec<String>>,
}

/// A table of a sheet.
#[derive(Clone, Debug, Deserialize, PartialEq, Serialize)]
pub(super) struct Table {
    pub(super) caption: String,
    pub(super) head: Vec<String>,
    /// The first cell of a row names it.
    pub(super) rows: Vec<Vec<String>>,
}

/// A headed list of a sheet.
#[derive(Clone, Debug, Deserialize, PartialEq, Serialize)]
pub(super) struct List {
    pub(super) heading: String,
    pub(super) lines: Vec<String>,
}

/// A sheet about to be kept: its title, what it says, on how many trials.
pub(super) struct Made {
    pub(super) title: String,
    pub(super) trials: u32,
    pub(super) sheet: Sheet,
    /// The chart itself, from which its files are made.
    pub(super) chart: Option<PublishedChart>,
}

impl Made {
    /// As it is kept: the words, and the chart beside them.
    pub(super) fn content(&self) -> Result<String, serde_json::Error> {
        let mut content = serde_json::to_value(&self.sheet)?;
        if let Some(chart) = &self.chart {
            content["chart"] = serde_json::to_value(chart)?;
        }
        Ok(content.to_string())
    }
}
