//! One workshop's trials condensed, as a file: what they say about the terms all workshops share.

use linkwright_trials::{Bell, Condensed, CondensedGate, GATES, Gate, Term};
use serde_json::{Map, Value, json};

use super::error::PoolFileError;
use super::field::{Between, Field, document};
use super::gate_name;
use super::term::{read_term, term_name};

/// What the file says it is.
const FORMAT: &str = "linkwright-condensed-workshop";
/// The version written, and the last one read.
const VERSION: u64 = 1;
/// No file is larger: three gates of a hundred terms take a quarter of it.
pub const FILE_BYTES_MOST: usize = 2 * 1024 * 1024;
/// Terms of a gate at most: all there are, and metals beside them.
const TERMS_MOST: usize = 150;
/// Trials of one workshop at most; far more than a working life.
const TRIALS_MOST: u64 = 10_000_000;
/// Any number of the file; beyond a million trials by far.
const NUMBER: Between = Between { low: -1e12, high: 1e12 };
/// Logarithms of scatter and departure, which are log odds: from next to none to absurdly many.
const LN_SETTING: Between = Between { low: -10.0, high: 5.0 };
/// How uncertain those logarithms may be.
const LN_SETTING_SD: Between = Between { low: 0.0, high: 10.0 };

/// The file of a condensed workshop: JSON, as docs/pooling-file.md describes it.
///
/// # Units
/// Log odds; `information` in one over their square, `pull` in one over them.
///
/// The example of docs/pooling-file.md is read and written back in its test.
pub fn write_workshop(condensed: &Condensed) -> String {
    let gates: Map<String, Value> = GATES
        .into_iter()
        .map(|gate| (gate_name(gate).to_owned(), gate_as_json(condensed.gate(gate))))
        .collect();
    let file = json!({
        "format": FORMAT,
        "version": VERSION,
        "trials": condensed.trials(),
        "cells": condensed.cells(),
        "gates": gates,
    });
    format!("{file}\n")
}

fn gate_as_json(gate: &CondensedGate) -> Value {
    let [ln_scatter, ln_departure] = gate.settings().map(bell_as_json);
    json!({
        "terms": gate.terms().iter().filter_map(term_name).collect::<Vec<_>>(),
        "information": gate.information(),
        "pull": gate.pull(),
        "ln_scatter": ln_scatter,
        "ln_departure": ln_departure,
    })
}

/// `{"mean": ..., "sd": ...}`.
pub(super) fn bell_as_json(bell: Bell) -> Value {
    json!({ "mean": bell.mean, "sd": bell.sd })
}

/// Reads the file of a condensed workshop.
///
/// # Errors
/// [`PoolFileError`] names the field, its value and what would be accepted; a file of a newer
/// version is told apart from a damaged one.
pub fn read_workshop(bytes: &[u8]) -> Result<Condensed, PoolFileError> {
    let document = document(bytes, FILE_BYTES_MOST, FORMAT, VERSION)?;
    let file = Field::whole(&document);
    file.has_only("format, version, trials, cells, gates")?;
    let trials = file.at("trials")?.count(1, TRIALS_MOST)?;
    let cells = file.at("cells")?.count(1, trials)?;
    let gates = file.at("gates")?;
    gates.has_only("kept, severed, round")?;
    let [kept, severed, round] = GATES.map(|gate| read_gate(gate, &gates.at(gate_name(gate))?));
    let counted = |count: u64| usize::try_from(count).unwrap_or(usize::MAX);
    Ok(Condensed::new([kept?, severed?, round?], counted(trials), counted(cells)))
}

fn read_gate(gate: Gate, field: &Field<'_>) -> Result<CondensedGate, PoolFileError> {
    field.has_only("terms, information, pull, ln_scatter, ln_departure")?;
    let terms: Vec<Term> =
        field.at("terms")?.list(TERMS_MOST)?.iter().map(read_term).collect::<Result<_, _>>()?;
    let numbers = |key: &str, most: usize| -> Result<Vec<f64>, PoolFileError> {
        field.at(key)?.list(most)?.iter().map(|number| number.number(NUMBER)).collect()
    };
    let information = numbers("information", TERMS_MOST * (TERMS_MOST + 1) / 2)?;
    let pull = numbers("pull", TERMS_MOST)?;
    let setting = |key: &str| field.at(key)?.bell(LN_SETTING, LN_SETTING_SD);
    let settings = [setting("ln_scatter")?, setting("ln_departure")?];
    CondensedGate::new(gate, terms, information, pull, settings)
        .map_err(|error| PoolFileError::Gate { gate: gate_name(gate), error })
}
