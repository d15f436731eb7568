//! How many coils for so many rings, blade by blade: a question under a cell of the chart.

use askama::Template;
use linkwright_answers::coils::{Job, JobCoils};
use linkwright_answers::run_sheet::rows::behind;
use linkwright_calc::quantity::parse_share;
use linkwright_store::View;
use linkwright_store::records::Workshop;
use linkwright_trials::{CoilsNeeded, PromiseError};
use serde::Deserialize;

use super::believed::percent;
use super::bench::ChartBench;
use crate::error::PageError;
use crate::form::Complaints;
use crate::learning::Taught;

/// As sure as a workshop wants to be that has not said so.
const CONFIDENCE_USUAL: f64 = 0.95;

/// What is asked, as it stands in the address; "" where nothing is.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Wanted {
    /// Good rings.
    rings: String,
    /// Turns of a coil once it has sprung open.
    turns: String,
}

/// The question with its answers, a part of the cell's page.
#[derive(Template)]
#[template(path = "pages/chart/promise.html")]
pub(super) struct Promise {
    /// The cell, to stand in the form again.
    cell: Vec<(&'static str, String)>,
    rings: String,
    turns: String,
    confidence: String,
    complaints: Complaints,
    /// One entry a blade; empty until something is asked.
    answers: Vec<Answer>,
}

/// A field of the question as it is shown.
struct FieldShown<'a> {
    name: &'static str,
    label: &'static str,
    value: &'a str,
    complaint: String,
}

/// What one blade's coils give.
struct Answer {
    blade: String,
    coils: String,
    /// Chance of the rings asked for, rings that are as good as sure, rings to expect.
    gives: Option<[String; 3]>,
    behind: String,
}

impl Promise {
    pub(super) fn of(
        view: &View<'_>,
        taught: &Taught,
        bench: &ChartBench,
        (wire_mm, rod_mm): (f64, f64),
        wanted: &Wanted,
    ) -> Result<Promise, PageError> {
        let habits = view.all::<Workshop>()?.into_iter().next();
        let confidence = habits
            .and_then(|habits| parse_share(&habits.record.confidence).ok())
            .map_or(CONFIDENCE_USUAL, |share| share.value());
        let mut promise = Promise {
            cell: vec![
                ("wire", format!("{wire_mm:.4}")),
                ("rod", format!("{rod_mm:.4}")),
                ("metal", bench.metal.clone()),
                ("temper", bench.temper.clone()),
            ],
            rings: wanted.rings.trim().to_owned(),
            turns: wanted.turns.trim().to_owned(),
            confidence: percent(confidence),
            complaints: Complaints::default(),
            answers: Vec::new(),
        };
        let cells: Vec<_> = bench
            .kinds
            .iter()
            .filter_map(|kind| Some((kind.called.clone(), bench.cell(wire_mm, rod_mm, kind)?)))
            .collect();
        let holder_takes =
            cells.first().and_then(|(_, cell)| bench.coil_money(cell)).map(|coil| coil.turns);
        if promise.rings.is_empty() && promise.turns.is_empty() {
            promise.turns = holder_takes.map_or_else(String::new, |turns| turns.to_string());
            return Ok(promise);
        }
        let rings = promise.count("rings", &wanted.rings, 100_000);
        let turns = promise.count("turns", &wanted.turns, 1000);
        if let (Some(rings), Some(turns_most)) = (rings, turns) {
            let job = Job { rings, turns_most, confidence, cost: None };
            promise.answers = cells
                .iter()
                .map(|(called, cell)| Answer::of(called, taught.coils(cell, job), confidence))
                .collect();
        }
        Ok(promise)
    }

    fn fields(&self) -> [FieldShown<'_>; 2] {
        [
            ("rings", "Good rings wanted", &self.rings),
            ("turns", "Turns of a coil, sprung open", &self.turns),
        ]
        .map(|(name, label, value)| FieldShown {
            name,
            label,
            value,
            complaint: self.complaints.about(name).to_owned(),
        })
    }

    /// A whole number of a field; `None` after a complaint.
    fn count(&mut self, field: &str, typed: &str, most: u32) -> Option<u32> {
        let count = typed.trim().parse::<u32>().ok().filter(|count| (1..=most).contains(count));
        if count.is_none() {
            let said = format!(
                "{field} is \"{}\"; it must be a whole number from 1 to {most}",
                typed.trim()
            );
            self.complaints.add(field, said);
        }
        count
    }
}

impl Answer {
    fn of(blade: &str, found: Result<JobCoils, PromiseError>, confidence: f64) -> Answer {
        let blade = blade.to_owned();
        match found {
            Err(error) => Answer {
                blade,
                coils: match error {
                    PromiseError::OutOfReach { .. } => {
                        "no number of coils is that sure: wind one, count it, and ask again"
                            .to_owned()
                    }
                    other => other.to_string(),
                },
                gives: None,
                behind: String::new(),
            },
            Ok(found) => Answer {
                blade,
                coils: in_words(&found.needed),
                gives: Some([
                    percent(found.needed.chance),
                    format!("{} rings", found.needed.promised),
                    format!("{:.0} rings", found.needed.rings_expected),
                ]),
                behind: behind(&found.odds(confidence)),
            },
        }
    }
}

fn in_words(needed: &CoilsNeeded) -> String {
    let CoilsNeeded { coils, turns, last_turns, .. } = *needed;
    match coils {
        1 => format!("1 coil of {last_turns} turns"),
        _ if last_turns == turns => format!("{coils} coils of {turns} turns"),
        _ => format!("{} of {turns} turns and 1 of {last_turns}", coils - 1),
    }
}
