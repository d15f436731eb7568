//! Trials as a table for other programs, typed text and millimetres side by side.

use std::collections::HashMap;
use std::io::{self, Write};

use serde_json::{Map, Value};

use super::search::TrialFilter;
use crate::export::ExportError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Trial, WireLot};
use crate::spreadsheet::{CsvTable, XlsxTable};
use crate::view::View;

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

/// What trials are written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TrialsForm {
    /// A spreadsheet.
    Xlsx,
    /// Text separated by commas.
    Csv,
    /// JSON, unrounded, units in the keys.
    Json,
}

impl View<'_> {
    /// Writes every trial that fits, oldest first, one by one, and says how many. A public table
    /// leaves out worker, lot and note, in which names may stand.
    ///
    /// # Errors
    /// [`ExportError`]; what was written so far is then no whole table.
    pub fn write_trials(
        &self,
        filter: &TrialFilter,
        form: TrialsForm,
        public: bool,
        to: impl Write,
    ) -> Result<u64, ExportError> {
        let lots: Vec<Saved<WireLot>> = self.all()?;
        let lots: HashMap<Id<WireLot>, String> =
            lots.into_iter().map(|lot| (lot.id, lot.record.name)).collect();
        let numbers: Vec<bool> = columns(public).map(|(_, _, number, _)| *number).collect();
        let heading = columns(public).map(|(_, heading, ..)| (*heading).to_owned()).collect();
        let mut written = 0;
        let mut each = |take: &mut dyn FnMut(Map<String, Value>) -> Result<(), ExportError>| {
            self.each_trial(filter, |trial| {
                written += 1;
                take(record(&trial.record, &lots))
            })
        };
        match form {
            TrialsForm::Csv => {
                let mut table = CsvTable::new(to);
                table.row(heading)?;
                each(&mut |record| Ok(table.row(cells(&record, public))?))?;
                table.finish()?;
            }
            TrialsForm::Xlsx => {
                let mut table = XlsxTable::new("Trials", numbers)?;
                table.row(heading)?;
                each(&mut |record| Ok(table.row(cells(&record, public))?))?;
                table.finish(to)?;
            }
            TrialsForm::Json => {
                let mut list = JsonList { to, public, between: "" };
                list.begin()?;
                each(&mut |record| list.one(record))?;
                list.end()?;
            }
        }
        Ok(written)
    }
}

fn record(trial: &Trial, lots: &HashMap<Id<WireLot>, String>) -> Map<String, Value> {
    let mut record = match serde_json::to_value(trial) {
        Ok(Value::Object(record)) => record,
        _ => Map::new(),
    };
    let lot = trial.wire_lot_id.and_then(|id| lots.get(&id));
    record.insert("lot".to_owned(), lot.map_or(Value::Null, |name| name.as_str().into()));
    record
}

fn cells(record: &Map<String, Value>, public: bool) -> Vec<String> {
    columns(public)
        .map(|(key, ..)| match record.get(*key) {
            None | Some(Value::Null) => String::new(),
            Some(Value::String(text)) => text.clone(),
            Some(Value::Bool(truth)) => if *truth { "yes" } else { "no" }.to_owned(),
            Some(other) => other.to_string(),
        })
        .collect()
}

/// The same columns as JSON.
struct JsonList<W> {
    to: W,
    public: bool,
    between: &'static str,
}

impl<W: Write> JsonList<W> {
    fn begin(&mut self) -> Result<(), ExportError> {
        let public = self.public;
        Ok(write!(self.to, "{{\"kind\":\"trials\",\"public\":{public},\"trials\":[")?)
    }

    fn one(&mut self, mut record: Map<String, Value>) -> Result<(), ExportError> {
        let kept = columns(self.public)
            .map(|(key, ..)| ((*key).to_owned(), record.remove(*key).unwrap_or(Value::Null)));
        let kept: Map<String, Value> = kept.collect();
        self.to.write_all(self.between.as_bytes())?;
        serde_json::to_writer(&mut self.to, &kept).map_err(io::Error::from)?;
        self.between = ",";
        Ok(())
    }

    fn end(mut self) -> Result<(), ExportError> {
        writeln!(self.to, "]}}")?;
        Ok(self.to.flush()?)
    }
}
