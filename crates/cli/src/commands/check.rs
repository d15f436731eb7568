//! `check`: a data file looked at from end to end.

use std::path::{Path, PathBuf};

use linkwright_store::{Report, Trouble, check};
use serde_json::{Map, Value};

use crate::commands::Output;
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::Printout;

/// Check a data file or a backup from end to end; nothing is changed.
///
/// Every page of the file, every reference between records and every record is read. The app may
/// be open. If anything is wrong, the exit code is 3.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright check --data stick/workshop-2026-11-25.linkwright")]
pub struct Args {
    #[command(flatten)]
    data: DataFile,
}

/// Checks the file and says what it holds and what is wrong.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let path: PathBuf = args.data.path()?;
    let report = check(&path)?;
    printout(&path, &report).print(output)?;
    match report.troubles.len() {
        0 => Ok(()),
        troubles => Err(Failure::NotSound { path, troubles }),
    }
}

fn printout(path: &Path, report: &Report) -> Printout {
    let mut printout = Printout::new("check", "Check of a data file");
    printout.words("data file", "data_file", path.display().to_string());
    printout.text_only("schema step", report.step.to_string());
    printout.json_only("schema_step", report.step);
    let mut records = Map::new();
    for (kind, count) in &report.records {
        records.insert((*kind).to_owned(), Value::from(*count));
        if *count > 0 {
            printout.text_only(kind, format!("{count} read"));
        }
    }
    if report.records.is_empty() {
        printout.note("An earlier linkwright wrote this file: its pages and references were checked, its records are read once it is brought up to date.");
    }
    printout.json_only("records", records);
    let found = if report.troubles.is_empty() { "sound" } else { "not sound" };
    printout.words("result", "result", found);
    for trouble in &report.troubles {
        printout.text_only("wrong", trouble.to_string());
    }
    let troubles: Vec<Value> =
        report.troubles.iter().map(Trouble::to_string).map(Value::from).collect();
    printout.json_only("troubles", troubles);
    printout
}
