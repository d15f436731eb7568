//! What a command answers: rows, tables, basis and cautions, as text of 80 columns or as JSON.

use std::io::{self, Write};

use linkwright_calc::basis::{Basis, Caution};
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::quantity::{Length, Mass, Typed};
use serde_json::{Map, Value, json};

pub use linkwright_answers::printout::{
    Table, Unit, both_lengths, layout, rows, significant, wrapped,
};

use crate::commands::Output;
use crate::failure::Failure;
use linkwright_answers::batch::basis_as_json;

/// An answer on its way to the screen; each figure is given once, for text and JSON alike.
#[derive(Debug, Default)]
pub struct Printout {
    ask: &'static str,
    title: String,
    rows: Vec<(String, String)>,
    tables: Vec<Table>,
    bases: Vec<(&'static str, Basis)>,
    source: Option<&'static str>,
    notes: Vec<String>,
    cautions: Vec<String>,
    inputs: Map<String, Value>,
    answer: Map<String, Value>,
}

impl Printout {
    /// An answer to `ask`, under a title.
    pub fn new(ask: &'static str, title: impl Into<String>) -> Printout {
        Printout { ask, title: title.into(), ..Printout::default() }
    }

    /// Repeats a length as typed, with what it is in both systems and in the gauges.
    pub fn wire_as_typed(&mut self, label: &str, key: &str, typed: &Typed<Length>) {
        let shown = format!("{} = {}", typed.text().trim(), in_both_systems(typed.value()));
        self.rows.push((label.to_owned(), shown));
        self.input(key, typed.text(), typed.value().mm(), "mm");
        self.notes.extend(typed.remark().map(|remark| remark.to_string()));
    }

    /// Repeats a length as typed, with what it is in both systems.
    pub fn length_as_typed(&mut self, label: &str, key: &str, typed: &Typed<Length>) {
        let shown = format!("{} = {}", typed.text().trim(), both_lengths(typed.value().mm()));
        self.rows.push((label.to_owned(), shown));
        self.input(key, typed.text(), typed.value().mm(), "mm");
        self.notes.extend(typed.remark().map(|remark| remark.to_string()));
    }

    /// Repeats a mass as typed, with what it is in both systems.
    pub fn mass_as_typed(&mut self, label: &str, key: &str, typed: &Typed<Mass>) {
        let shown = format!("{} = {}", typed.text().trim(), Unit::Mass.show(typed.value().g()));
        self.rows.push((label.to_owned(), shown));
        self.input(key, typed.text(), typed.value().g(), "g");
        self.notes.extend(typed.remark().map(|remark| remark.to_string()));
    }

    fn input(&mut self, key: &str, text: &str, value: f64, unit: &str) {
        self.inputs.insert(key.to_owned(), json!({ "typed": text, "value": value, "unit": unit }));
    }

    /// Adds a figure: `key` names it in JSON, where it is unrounded.
    pub fn figure(&mut self, label: &str, key: &str, number: f64, unit: Unit) {
        self.rows.push((label.to_owned(), unit.show(number)));
        self.answer.insert(key.to_owned(), json!(number));
    }

    /// Adds a count of whole things, named in the plural.
    pub fn count(&mut self, label: &str, key: &str, count: u32, of: &str) {
        let of = if count == 1 { of.trim_end_matches('s') } else { of };
        self.rows.push((label.to_owned(), format!("{count} {of}")));
        self.answer.insert(key.to_owned(), json!(count));
    }

    /// Adds something said in words.
    pub fn words(&mut self, label: &str, key: &str, words: impl Into<String>) {
        let words = words.into();
        self.answer.insert(key.to_owned(), json!(words));
        self.rows.push((label.to_owned(), words));
    }

    /// Adds a line of text that JSON says elsewhere.
    pub fn text_only(&mut self, label: &str, text: impl Into<String>) {
        self.rows.push((label.to_owned(), text.into()));
    }

    /// Adds something to the JSON that the text says elsewhere.
    pub fn json_only(&mut self, key: &str, value: impl Into<Value>) {
        self.answer.insert(key.to_owned(), value.into());
    }

    /// Adds a table; its figures go to JSON by [`json_only`](Printout::json_only).
    pub fn table(&mut self, table: Table) {
        self.tables.push(table);
    }

    /// Says what the answer rests on, or one quantity of it.
    pub fn basis(&mut self, of: &'static str, basis: Basis) {
        self.bases.push((of, basis));
    }

    /// Says where the formulas come from.
    pub fn source(&mut self, source: &'static str) {
        self.source = Some(source);
    }

    /// Adds what to watch.
    pub fn cautions<'a>(&mut self, cautions: impl IntoIterator<Item = &'a Caution>) {
        self.cautions.extend(cautions.into_iter().map(ToString::to_string));
    }

    /// Adds a sentence that explains, without anything to watch.
    pub fn note(&mut self, sentence: impl Into<String>) {
        self.notes.push(sentence.into());
    }

    /// Adds one sentence to watch.
    pub fn caution(&mut self, sentence: impl Into<String>) {
        self.cautions.push(sentence.into());
    }

    /// Writes the answer to standard output.
    pub fn print(&self, output: Output) -> Result<(), Failure> {
        let text = match output {
            Output::Text => self.to_text(),
            Output::Json => format!("{}\n", self.to_json()),
        };
        io::stdout().write_all(text.as_bytes())?;
        Ok(())
    }

    fn to_text(&self) -> String {
        let mut text = wrapped(&self.title, "");
        text.push_str(&rows(&self.rows));
        for table in &self.tables {
            text.push('\n');
            text.push_str(&layout::table(table));
        }
        text.push_str(&layout::remarks(&self.remarks()));
        text
    }

    /// Everything said below the figures, each with its heading.
    fn remarks(&self) -> Vec<(&'static str, String)> {
        let mut remarks = Vec::new();
        for (of, basis) in &self.bases {
            remarks.push(("Basis", format!("{of}, {}", basis_in_words(basis))));
        }
        remarks.extend(self.source.map(|source| ("Source", source.to_owned())));
        remarks.extend(self.notes.iter().map(|note| ("Note", note.clone())));
        remarks.extend(self.cautions.iter().map(|caution| ("Caution", caution.clone())));
        remarks
    }

    fn to_json(&self) -> Value {
        let mut object = Map::new();
        object.insert("ask".to_owned(), json!(self.ask));
        if !self.inputs.is_empty() {
            object.insert("inputs".to_owned(), json!(self.inputs));
        }
        object.insert("answer".to_owned(), json!(self.answer));
        let bases: Map<String, Value> =
            self.bases.iter().map(|(of, basis)| ((*of).to_owned(), basis_as_json(basis))).collect();
        if !bases.is_empty() {
            object.insert("basis".to_owned(), Value::Object(bases));
        }
        if let Some(source) = self.source {
            object.insert("source".to_owned(), json!(source));
        }
        if !self.notes.is_empty() {
            object.insert("notes".to_owned(), json!(self.notes));
        }
        object.insert("cautions".to_owned(), json!(self.cautions));
        Value::Object(object)
    }
}

/// What an answer rests on, with the inputs of its sum and what those rest on.
fn basis_in_words(basis: &Basis) -> String {
    let Basis::WorkedOut(sum) = basis else {
        return basis.to_string();
    };
    let inputs: Vec<String> = sum
        .inputs
        .iter()
        .map(|input| {
            let unit = if input.unit == "-" { "" } else { input.unit };
            let number = significant(input.value, 4);
            format!("{} {number} {unit} ({})", input.name, input.basis).replace("  ", " ")
        })
        .collect();
    let from =
        if inputs.is_empty() { String::new() } else { format!("; from {}", inputs.join(", ")) };
    format!("{basis}{from} [{}]", sum.source)
}
