//! What a question is answered with, and how it is written on its line.

use std::io::{self, Write};

use linkwright_calc::basis::{Basis, Caution};
use serde_json::{Map, Value, json};

use crate::refusal::Refusal;

/// An answer with what it rests on and what to watch.
#[derive(Debug, Default)]
pub struct Reply {
    answer: Map<String, Value>,
    source: Option<&'static str>,
    cautions: Vec<String>,
    not_finite: Option<&'static str>,
}

impl Reply {
    /// An answer with nothing in it yet.
    pub fn new() -> Reply {
        Reply::default()
    }

    /// Adds a number, unrounded.
    pub fn number(mut self, key: &'static str, number: f64) -> Reply {
        if !number.is_finite() {
            self.not_finite.get_or_insert(key);
        }
        self.value(key, number)
    }

    /// Adds a number, or null where there is none.
    pub fn number_or_null(self, key: &'static str, number: Option<f64>) -> Reply {
        match number {
            Some(number) => self.number(key, number),
            None => self.value(key, Value::Null),
        }
    }

    /// Adds a count that the core keeps as a floating number, written without a decimal point.
    pub fn whole(self, key: &'static str, count: f64) -> Reply {
        match format!("{count:.0}").parse::<u64>() {
            Ok(count) => self.value(key, count),
            Err(_) => self.number(key, count),
        }
    }

    /// Adds anything that is not a floating number.
    pub fn value(mut self, key: &'static str, value: impl Into<Value>) -> Reply {
        self.answer.insert(key.to_owned(), value.into());
        self
    }

    /// Adds anything under a key made up at run time.
    pub fn owned(mut self, key: String, value: Value) -> Reply {
        self.answer.insert(key, value);
        self
    }

    /// Says where the formulas come from.
    pub fn source(mut self, source: &'static str) -> Reply {
        self.source = Some(source);
        self
    }

    /// Adds what to watch.
    pub fn cautions<'a>(mut self, cautions: impl IntoIterator<Item = &'a Caution>) -> Reply {
        self.cautions.extend(cautions.into_iter().map(ToString::to_string));
        self
    }

    /// Adds one sentence to watch.
    pub fn caution(mut self, sentence: impl Into<String>) -> Reply {
        self.cautions.push(sentence.into());
        self
    }

    /// The reply itself, refused if a number of it is infinite or undefined.
    pub fn finite(self) -> Result<Reply, Refusal> {
        match self.not_finite {
            Some(field) => Err(Refusal::NoFiniteAnswer { field }),
            None => Ok(self),
        }
    }
}

/// What an answer rests on, as an object with the one word first.
pub fn basis_as_json(basis: &Basis) -> Value {
    match basis {
        Basis::Tried { trials, last } => {
            json!({ "rests_on": basis.word(), "trials": trials, "last": last })
        }
        Basis::WorkedOut(sum) => {
            let inputs: Vec<Value> = sum
                .inputs
                .iter()
                .map(|input| {
                    json!({
                        "name": input.name,
                        "value": input.value,
                        "unit": input.unit,
                        "basis": basis_as_json(&input.basis),
                    })
                })
                .collect();
            json!({
                "rests_on": basis.word(),
                "formula": sum.formula,
                "source": sum.source,
                "inputs": inputs,
            })
        }
        Basis::Assumed { from } => json!({ "rests_on": basis.word(), "from": from }),
        other => json!({ "rests_on": other.word() }),
    }
}

/// Writes an answered line, without its line feed.
pub fn write_reply(
    output: &mut impl Write,
    id: Option<&str>,
    ask: Option<&str>,
    reply: &Reply,
) -> io::Result<()> {
    write_head(output, id, ask)?;
    output.write_all(b"\"answer\":")?;
    serde_json::to_writer(&mut *output, &reply.answer)?;
    if let Some(source) = reply.source {
        output.write_all(b",\"source\":")?;
        serde_json::to_writer(&mut *output, source)?;
    }
    // Every number comes from the inputs of the line, which are the asker's own.
    output.write_all(b",\"basis\":{\"rests_on\":\"worked out\"},\"cautions\":")?;
    serde_json::to_writer(&mut *output, &reply.cautions)?;
    output.write_all(b"}")
}

/// Writes a refused line, without its line feed.
pub fn write_refusal(
    output: &mut impl Write,
    id: Option<&str>,
    ask: Option<&str>,
    refusal: &Refusal,
) -> io::Result<()> {
    write_head(output, id, ask)?;
    output.write_all(b"\"error\":")?;
    serde_json::to_writer(&mut *output, &refusal.to_json())?;
    output.write_all(b"}")
}

/// `id` is JSON text already, as it came.
fn write_head(output: &mut impl Write, id: Option<&str>, ask: Option<&str>) -> io::Result<()> {
    output.write_all(b"{")?;
    if let Some(id) = id {
        write!(output, "\"id\":{id},")?;
    }
    if let Some(ask) = ask {
        output.write_all(b"\"ask\":")?;
        serde_json::to_writer(&mut *output, ask)?;
        output.write_all(b",")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_without_end_is_refused_and_named() {
        let reply = Reply::new().number("mass_g", 1.0).number("rings", f64::INFINITY);
        let refusal = reply.finite().unwrap_err();
        assert_eq!(refusal.to_json()["field"], "rings");
        assert_eq!(refusal.to_string(), "these inputs give no finite rings");
        assert!(Reply::new().number("mass_g", 1.0).finite().is_ok());
    }
}
