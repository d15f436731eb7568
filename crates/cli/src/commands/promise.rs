//! `promise`: coils and turns for so many good rings, with a confidence.

use std::io::{self, Write};
use std::path::PathBuf;

use linkwright_answers::refusal::Refusal;
use linkwright_calc::quantity::parse_share;
use linkwright_trials::{Cell, CoilsNeeded, Learned, PromiseError, Yield};
use serde_json::{Value, json};

use crate::commands::Output;
use crate::commands::chart::{SEED, rests_on, tables};
use crate::commands::pool::given_prior;
use crate::failure::Failure;
use crate::printout::{Printout, Table, both_lengths};

/// Coils to wind for so many good rings, as the trials have them.
///
/// The answer reckons with what is not known of each cell: all coils of a job share it, so that a
/// promise counts on bad luck as well. The columns of both tables are listed in
/// docs/trials-table.md.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright promise --trials trials.csv --cells cells.csv --rings 300 --turns 60
  linkwright promise --cells cells.csv --rings 300 --turns 60 --confidence \"90 %\"")]
pub struct Args {
    /// Trials, one coil a line.
    #[arg(long, value_name = "CSV")]
    trials: Option<PathBuf>,
    /// Cells to answer, one a line: the columns of a trial without its counts.
    #[arg(long, value_name = "CSV")]
    cells: PathBuf,
    /// What other workshops' trials taught, as `linkwright pool merge` writes it.
    #[arg(long, value_name = "JSON")]
    prior: Option<PathBuf>,
    /// Good rings that are wanted.
    #[arg(long)]
    rings: u32,
    /// Turns of the longest coil the holder takes, sprung open.
    #[arg(long)]
    turns: u32,
    /// How sure to be of them.
    #[arg(long, default_value = "95 %")]
    confidence: String,
}

/// Learns from the trials and answers each cell in order.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let confidence = parse_share(&args.confidence)
        .map_err(|error| Refusal::bench("confidence", args.confidence.as_str(), error))?;
    let (trials, cells) = tables(args.trials.as_deref(), &args.cells)?;
    let prior = given_prior(args.prior.as_deref())?;
    let plays = Learned::fit(&trials, &prior.prior).plays(&cells, SEED);
    let mut found = Vec::new();
    for plays in &plays {
        match Yield::of(plays).coils_for(args.rings, args.turns, confidence.value()) {
            Ok(coils) => found.push(Ok(coils)),
            Err(error @ PromiseError::OutOfReach { .. }) => found.push(Err(error)),
            Err(error) => {
                let (field, given) = match error {
                    PromiseError::Confidence { .. } => {
                        ("confidence", Value::from(args.confidence.as_str()))
                    }
                    PromiseError::Turns { given, .. } => ("turns", Value::from(given)),
                    _ => ("rings", Value::from(args.rings)),
                };
                return Err(Refusal::bench(field, given, error).into());
            }
        }
    }
    match output {
        Output::Json => {
            let cells: Vec<Value> = found.iter().map(as_json).collect();
            writeln!(io::stdout(), "{}", json!({ "cells": cells }))?;
            Ok(())
        }
        Output::Text => {
            printout(args, &cells, &found, rests_on(trials.len(), &prior)).print(output)
        }
    }
}

fn as_json(found: &Result<CoilsNeeded, PromiseError>) -> Value {
    match found {
        Ok(needed) => json!({
            "coils": needed.coils,
            "turns": needed.turns,
            "last_turns": needed.last_turns,
            "chance": needed.chance,
            "rings_expected": needed.rings_expected,
        }),
        Err(error) => json!({ "refused": error.to_string() }),
    }
}

fn printout(
    args: &Args,
    cells: &[Cell],
    found: &[Result<CoilsNeeded, PromiseError>],
    rests_on: String,
) -> Printout {
    let mut printout = Printout::new("promise", "Coils to wind");
    let rows = cells.iter().zip(found).map(|(cell, found)| {
        let parts = cell.parts();
        let mut row = vec![
            both_lengths(parts.wire.diameter().mm()),
            both_lengths(parts.mandrel.diameter().mm()),
            parts.blade.name.to_string(),
        ];
        row.extend(match found {
            Ok(needed) => [
                coils_in_words(needed),
                format!("{:.1} %", 100.0 * needed.chance),
                format!("{:.0} rings", needed.rings_expected),
            ],
            Err(_) => ["none is enough".to_owned(), "-".to_owned(), "-".to_owned()],
        });
        row
    });
    printout.table(Table {
        title: format!("For {} good rings with {}", args.rings, args.confidence),
        headings: ["wire", "rod", "blade", "coils, turns sprung open", "chance", "to expect"]
            .map(str::to_owned)
            .to_vec(),
        rows: rows.collect(),
    });
    printout.note(rests_on);
    printout
}

fn coils_in_words(needed: &CoilsNeeded) -> String {
    let CoilsNeeded { coils, turns, last_turns, .. } = *needed;
    match coils {
        1 => format!("1 of {last_turns}"),
        _ if last_turns == turns => format!("{coils} of {turns}"),
        _ => format!("{} of {turns} + 1 of {last_turns}", coils - 1),
    }
}
