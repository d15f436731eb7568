//! `restore`: a backup put in the place of the data file, or a list of the backups there are.

use std::path::{Path, PathBuf};

use linkwright_store::{backups_of, restore};
use serde_json::Value;

use crate::commands::Output;
use crate::data_file::{DataFile, now};
use crate::failure::Failure;
use crate::printout::Printout;

/// Put a backup in the place of the data file, or list the backups.
///
/// The backup is checked from end to end first. The present data file is kept under another name,
/// even if it is damaged. Close the app before.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright restore workshop-2026-11-24.linkwright
Without a backup named, the backups beside the data file are listed.")]
pub struct Args {
    /// The backup: a file, or the name of one in the folder "backups" beside the data file.
    from: Option<PathBuf>,
    #[command(flatten)]
    data: DataFile,
}

/// What is to be done with which data file.
enum Plan {
    List { path: PathBuf },
    Restore { path: PathBuf, from: PathBuf },
}

/// Restores, or lists.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    match Plan::new(args)? {
        Plan::List { path } => listed(&path)?.print(output),
        Plan::Restore { path, from } => restored(&path, &from)?.print(output),
    }
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Failure> {
        let path = args.data.path()?;
        Ok(match &args.from {
            None => Plan::List { path },
            Some(named) => Plan::Restore { from: found(&path, named)?, path },
        })
    }
}

/// The backup as named, or the one of that name beside the data file.
fn found(path: &Path, named: &Path) -> Result<PathBuf, Failure> {
    if named.exists() {
        return Ok(named.to_owned());
    }
    let beside =
        backups_of(path)?.into_iter().find(|backup| backup.file_name() == Some(named.as_os_str()));
    Ok(beside.unwrap_or_else(|| named.to_owned()))
}

fn listed(path: &Path) -> Result<Printout, Failure> {
    let backups = backups_of(path)?;
    let mut printout = Printout::new("backups", "Backups, newest day first");
    printout.words("data file", "data_file", path.display().to_string());
    for backup in &backups {
        let name = backup.file_name().unwrap_or_default().to_string_lossy();
        printout.text_only("backup", name);
    }
    let all: Vec<Value> =
        backups.iter().map(|backup| backup.display().to_string().into()).collect();
    if all.is_empty() {
        printout.note("There is no backup beside this data file yet.");
    }
    printout.json_only("backups", all);
    Ok(printout)
}

fn restored(path: &Path, from: &Path) -> Result<Printout, Failure> {
    let done = restore(path, from, now())?;
    let mut printout = Printout::new("restore", "Backup restored");
    printout.words("backup", "backup", from.display().to_string());
    printout.words("data file", "data_file", path.display().to_string());
    match &done.replaced {
        Some(kept) => {
            printout.words("file before", "replaced", format!("{}", kept.display()));
            printout.note("The file that was there before was kept under the name above.");
        }
        None => printout.json_only("replaced", Value::Null),
    }
    Ok(printout)
}
