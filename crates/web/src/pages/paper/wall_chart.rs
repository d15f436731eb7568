//! The wall chart: for every wire on every rod, the blade that did best in the trials.

use std::collections::{BTreeMap, BTreeSet};

use axum::extract::{Query, State};
use axum::response::Response;
use linkwright_calc::gauge::nearest;
use linkwright_calc::quantity::Length;
use linkwright_sheets::{ChartCell, ChartRow, Edition, WallChart};
use linkwright_store::records::{Blade, Handout, Outcome, Trial};
use linkwright_store::{Saved, StoreError, View};

use super::{Asked, printed};
use crate::error::PageError;
use crate::state::App;

/// Fewer trials than this are called few. The project's own choice.
const FEW_BELOW: u32 = 5;
/// A gauge is named beside a wire that is this near to it. The project's own choice.
const GAUGE_ERROR_PERCENT_MAX: f64 = 0.5;

pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let date = app.clock().today().to_string();
    let chart = app.read(move |view| Ok(wall_chart(view, date)?)).await?;
    printed("wall chart", asked.paper()?, move |paper| chart.pdf(paper)).await
}

/// The wall chart of all trials of the data file, as of a day.
///
/// # Errors
/// If the file cannot be read.
pub fn wall_chart(view: &View<'_>, date: String) -> Result<WallChart, StoreError> {
    let handouts = view.all::<Handout>()?;
    let given = handouts.iter().filter(|handout| handout.record.kind == "wall-chart");
    let version = given.map(|handout| handout.record.version).max();
    Ok(chart(&view.all()?, &view.all()?, version, date))
}

/// How one blade did on one wire and rod.
#[derive(Clone, Copy, Default)]
struct Record<'a> {
    good: u32,
    tried: u32,
    last: &'a str,
}

impl Record<'_> {
    /// What is known of the chance of a good trial: the mean of it if every chance was thought as
    /// likely as any other before, so that one lucky trial does not beat many good ones.
    fn standing(&self) -> f64 {
        (f64::from(self.good) + 1.0) / (f64::from(self.tried) + 2.0)
    }
}

/// A length in hundredths of a millimetre: what two measurements of one wire or rod agree to.
fn hundredths(mm: f64) -> u32 {
    let rounded = (100.0 * mm).round().clamp(0.0, f64::from(u32::MAX));
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number within the range"
    )]
    let rounded = rounded as u32;
    rounded
}

fn length(hundredths: u32) -> Length {
    Length::from_mm(f64::from(hundredths) / 100.0)
}

fn chart(
    trials: &[Saved<Trial>],
    blades: &[Saved<Blade>],
    version: Option<u32>,
    date: String,
) -> WallChart {
    let mut records: BTreeMap<(u32, u32), BTreeMap<&str, Record<'_>>> = BTreeMap::new();
    let mut counted = 0;
    for Saved { record: trial, .. } in trials {
        let known = trial.blade_id.and_then(|id| blades.iter().find(|blade| blade.id == id));
        let blade = known.map_or(trial.blade_name.as_str(), |blade| blade.record.name.as_str());
        // Without a blade a trial says nothing about blades.
        if blade.is_empty() {
            continue;
        }
        counted += 1;
        let cell =
            records.entry((hundredths(trial.wire_mm), hundredths(trial.rod_mm))).or_default();
        let record = cell.entry(blade).or_default();
        record.tried += 1;
        record.good += u32::from(trial.outcome == Outcome::Good);
        record.last = record.last.max(trial.tried_on.as_str());
    }
    let wires: BTreeSet<u32> = records.keys().map(|(wire, _)| *wire).collect();
    let rods: BTreeSet<u32> = records.keys().map(|(_, rod)| *rod).collect();
    let row = |wire: u32| ChartRow {
        wire: format!("{:.2} mm", length(wire).mm()),
        also: also(length(wire)),
        cells: rods.iter().map(|rod| cell(records.get(&(wire, *rod)))).collect(),
    };
    WallChart {
        title: "Best-tried blades".to_owned(),
        edition: Edition {
            date,
            version: version
                .map_or_else(|| "Draft".to_owned(), |last| format!("Draft after version {last}")),
            trials: counted,
        },
        few_means: format!("good of tried; fewer than {FEW_BELOW} trials are few"),
        rods: rods.iter().map(|rod| format!("{:.2} mm", length(*rod).mm())).collect(),
        rows: wires.iter().map(|wire| row(*wire)).collect(),
    }
}

fn cell(blades: Option<&BTreeMap<&str, Record<'_>>>) -> ChartCell {
    let best = blades.and_then(|blades| {
        let standing = |record: &Record<'_>| (record.standing(), record.tried);
        blades.iter().max_by(|(_, one), (_, other)| {
            let order = standing(one).partial_cmp(&standing(other));
            order.unwrap_or(std::cmp::Ordering::Equal)
        })
    });
    best.map_or(ChartCell::Untried, |(blade, record)| ChartCell::Tried {
        blade: (*blade).to_owned(),
        counted: format!("{} good of {}", record.good, record.tried),
        last: record.last.to_owned(),
        few: record.tried < FEW_BELOW,
    })
}

/// The wire in inches, and by its gauge if it is one.
fn also(wire: Length) -> String {
    let inches = format!("{:.4} in", wire.inches());
    let near = nearest(wire);
    if near.awg_error_percent.abs() <= GAUGE_ERROR_PERCENT_MAX {
        format!("{inches}, {}", near.awg)
    } else {
        inches
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use linkwright_sheets::ChartCell;

    use super::{Record, cell};

    fn best(records: &[(&'static str, u32, u32)]) -> ChartCell {
        let records: BTreeMap<&str, Record<'_>> = records
            .iter()
            .map(|(blade, good, tried)| {
                (*blade, Record { good: *good, tried: *tried, last: "2026-10-05" })
            })
            .collect();
        cell(Some(&records))
    }

    fn tried(blade: &str, counted: &str, few: bool) -> ChartCell {
        let last = "2026-10-05".to_owned();
        ChartCell::Tried { blade: blade.to_owned(), counted: counted.to_owned(), last, few }
    }

    #[test]
    fn two_good_of_three_are_few_trials() {
        assert_eq!(best(&[("thick", 2, 3)]), tried("thick", "2 good of 3", true));
    }

    #[test]
    fn one_lucky_trial_does_not_beat_many_good_ones() {
        let cell = best(&[("lucky", 1, 1), ("steady", 18, 20)]);
        assert_eq!(cell, tried("steady", "18 good of 20", false));
    }

    #[test]
    fn a_cell_without_trials_says_so() {
        assert_eq!(cell(None), ChartCell::Untried);
    }
}
