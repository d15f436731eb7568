//! What a command answers: rows, tables, basis and cautions, as text of 80 columns or as JSON.

mod units;

pub mod layout;

use std::io::{self, Write};

use linkwright_calc::basis::{Basis, Caution};
use serde_json::{Map, Value, json};

pub use units::{both_lengths, significant};

use crate::batch::basis_as_json;
use crate::commands::Output;
use crate::failure::Failure;

/// An answer on its way to the screen; each figure is given once, for text and JSON alike.
#[derive(Debug, Default)]
pub struct Printout {
    ask: &'static str,
    title: String,
    rows: Vec<(String, String)>,
    tables: Vec<Table>,
    bases: Vec<Basis>,
    source: Option<&'static str>,
    cautions: Vec<String>,
    answer: Map<String, Value>,
}

/// A table with a heading a column; units stand in the headings.
#[derive(Debug, Default)]
pub struct Table {
    /// What the table shows, printed above it.
    pub title: String,
    /// One heading a column.
    pub headings: Vec<String>,
    /// One cell a heading in each row.
    pub rows: Vec<Vec<String>>,
}

/// A unit that both systems know, and how it is printed in each.
#[derive(Clone, Copy, Debug)]
pub enum Unit {
    /// Millimetres and inches, or metres and feet where long.
    Length,
    /// Grams and troy ounces.
    Mass,
    /// Newtons and pounds-force.
    Force,
    /// Newton millimetres and pound-force inches.
    Torque,
    /// Megapascals and thousand pounds-force per square inch.
    Stress,
    /// Grams per cubic centimetre and pounds per cubic inch.
    Density,
    /// Metres and feet per minute.
    Speed,
    /// A share of one, printed as percent.
    Share,
    /// A unit that is the same everywhere, such as turns; "" for a plain number.
    Only(&'static str),
}

impl Printout {
    /// An answer to `ask`, under a title.
    pub fn new(ask: &'static str, title: impl Into<String>) -> Printout {
        Printout { ask, title: title.into(), ..Printout::default() }
    }

    /// Adds a figure: `key` names it in JSON, where it is unrounded.
    pub fn figure(&mut self, label: &str, key: &str, number: f64, unit: Unit) {
        self.rows.push((label.to_owned(), unit.show(number)));
        self.answer.insert(key.to_owned(), json!(number));
    }

    /// Adds a count of whole things.
    pub fn count(&mut self, label: &str, key: &str, count: u32, of: &str) {
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

    /// Says what the answer rests on.
    pub fn basis(&mut self, basis: Basis) {
        self.bases.push(basis);
    }

    /// Says where the formulas come from.
    pub fn source(&mut self, source: &'static str) {
        self.source = Some(source);
    }

    /// Adds what to watch.
    pub fn cautions<'a>(&mut self, cautions: impl IntoIterator<Item = &'a Caution>) {
        self.cautions.extend(cautions.into_iter().map(ToString::to_string));
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
        let mut text = layout::wrapped(&self.title, "");
        text.push_str(&layout::rows(&self.rows));
        for table in &self.tables {
            text.push('\n');
            text.push_str(&layout::table(table));
        }
        if !self.bases.is_empty() || self.source.is_some() || !self.cautions.is_empty() {
            text.push('\n');
        }
        for basis in &self.bases {
            text.push_str(&layout::wrapped(&format!("Basis: {basis}"), "  "));
        }
        if let Some(source) = self.source {
            text.push_str(&layout::wrapped(&format!("Source: {source}"), "  "));
        }
        for caution in &self.cautions {
            text.push_str(&layout::wrapped(&format!("Caution: {caution}"), "  "));
        }
        text
    }

    fn to_json(&self) -> Value {
        let mut object = Map::new();
        object.insert("ask".to_owned(), json!(self.ask));
        object.insert("answer".to_owned(), json!(self.answer));
        match self.bases.as_slice() {
            [] => {}
            [one] => drop(object.insert("basis".to_owned(), basis_as_json(one))),
            many => {
                let all: Vec<Value> = many.iter().map(basis_as_json).collect();
                object.insert("basis".to_owned(), json!(all));
            }
        }
        if let Some(source) = self.source {
            object.insert("source".to_owned(), json!(source));
        }
        object.insert("cautions".to_owned(), json!(self.cautions));
        Value::Object(object)
    }
}
