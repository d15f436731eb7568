//! The table of `crates/trials/tests/references/numpyro_nuts.rs`: beliefs about a fixed table of
//! trials, by an outside sampler that shares no line with ours.

use anyhow::{Context, Result};
use linkwright_trials::{Cell, TrialRow};
use serde_json::json;

use super::columns;
use crate::process::{output, root, target};
use crate::python::peers;

#[path = "../../../crates/trials/tests/references/example.rs"]
#[allow(clippy::unwrap_used, reason = "the reader of a committed table, shared with its test")]
mod example;

const TABLE: &str = "crates/trials/tests/references/data/numpyro_nuts.csv";
/// How many of the trials are learned from, each a part of the table.
const TRIALS: [usize; 2] = [20, 60];
/// The doubt factor of the plays, which the good share is compared with.
const DOUBT: &str = "1.15";

/// Samples for some minutes, then writes the table.
pub fn run() -> Result<()> {
    let rows = example::rows();
    let asked = example::asked();
    let folder = target().join("versus-trials");
    std::fs::create_dir_all(&folder)?;
    let mut command = peers()?;
    command.arg(root().join("xtask/peers/nuts_table.py")).arg(DOUBT);
    for trials in TRIALS {
        let known = rows.get(..trials).context("the example has fewer trials")?;
        let question = question(known, &asked);
        let path = folder.join(format!("example-{trials}.json"));
        std::fs::write(&path, serde_json::to_string(&question)?)?;
        command.arg(format!("{trials}={}", path.canonicalize()?.display()));
    }
    std::fs::write(root().join(TABLE), output(&mut command)?)?;
    println!("wrote {TABLE}");
    Ok(())
}

fn question(rows: &[TrialRow], asked: &[Cell]) -> serde_json::Value {
    json!({
        "gates": columns::gates(rows, asked),
        "cell_of_row": columns::cells(rows, rows.iter().map(TrialRow::cell)),
        "cell_of_asked": columns::cells(rows, asked.iter()),
    })
}
