//! Trials as a table for other programs, typed text and millimetres side by side.

use serde_json::{Map, Value};

use crate::record::Saved;
use crate::records::{Trial, WireLot};

/// One column: key, heading, whether it is a number, whether public versions leave it out.
type Column = (&'static str, &'static str, bool, bool);

/// The columns of the table, in order.
pub const COLUMNS: &[Column] = &[
    ("tried_on", "Day", false, false),
    ("metal", "Metal", false, false),
    ("temper", "Temper", false, false),
    ("annealed", "Annealed at the bench", false, false),
    ("wire_typed", "Wire as typed", false, false),
    ("wire_mm", "Wire, mm (reckoned)", true, false),
    ("rod_typed", "Rod as typed", false, false),
    ("rod_mm", "Rod, mm (reckoned)", true, false),
    ("lot", "Lot of wire", false, true),
    ("blade_name", "Blade", false, false),
    ("blade_diameter_mm", "Blade diameter, mm", true, false),
    ("projection_typed", "Projection as typed", false, false),
    ("projection_mm", "Projection, mm (reckoned)", true, false),
    ("inside_typed", "Inside diameters as typed", false, false),
    ("inside_mean_mm", "Inside mean, mm (reckoned)", true, false),
    ("inside_readings", "Rings measured (reckoned)", true, false),
    ("turns_wound", "Turns wound", true, false),
    ("turns_relaxed", "Turns left", true, false),
    ("good", "Good rings", true, false),
    ("uncut", "Uncut rings", true, false),
    ("nicked", "Nicked or bent rings", true, false),
    ("crushed", "Crushed rings", true, false),
    ("blade_event", "Blade event", false, false),
    ("outcome", "Outcome", false, false),
    ("note", "Note", false, true),
    ("worker", "Worker", false, true),
    ("source", "Source (reckoned)", false, false),
];

fn columns(public: bool) -> impl Iterator<Item = &'static Column> {
    COLUMNS.iter().filter(move |(.., private)| !(public && *private))
}

fn record(trial: &Trial, lots: &[Saved<WireLot>]) -> Map<String, Value> {
    let mut record = match serde_json::to_value(trial) {
        Ok(Value::Object(record)) => record,
        _ => Map::new(),
    };
    let lot = lots.iter().find(|lot| Some(lot.id) == trial.wire_lot_id);
    record.insert("lot".to_owned(), lot.map_or(Value::Null, |lot| lot.record.name.clone().into()));
    record
}

/// The table with its heading, and which columns are numbers. A public one leaves out worker, lot
/// and note, in which names may stand.
#[must_use]
pub fn as_table(
    trials: &[Saved<Trial>],
    lots: &[Saved<WireLot>],
    public: bool,
) -> (Vec<Vec<String>>, Vec<bool>) {
    let heading = columns(public).map(|(_, heading, ..)| (*heading).to_owned()).collect();
    let rows = trials.iter().map(|trial| {
        let record = record(&trial.record, lots);
        columns(public)
            .map(|(key, ..)| match record.get(*key) {
                None | Some(Value::Null) => String::new(),
                Some(Value::String(text)) => text.clone(),
                Some(Value::Bool(truth)) => if *truth { "yes" } else { "no" }.to_owned(),
                Some(other) => other.to_string(),
            })
            .collect()
    });
    let table = std::iter::once(heading).chain(rows).collect();
    (table, columns(public).map(|(_, _, number, _)| *number).collect())
}

/// The same as JSON, unrounded, units in the keys.
#[must_use]
pub fn as_json(trials: &[Saved<Trial>], lots: &[Saved<WireLot>], public: bool) -> Value {
    let rows = trials.iter().map(|trial| {
        let mut record = record(&trial.record, lots);
        let kept = columns(public)
            .map(|(key, ..)| ((*key).to_owned(), record.remove(*key).unwrap_or(Value::Null)));
        Value::Object(kept.collect())
    });
    serde_json::json!({ "kind": "trials", "public": public, "trials": rows.collect::<Vec<_>>() })
}
