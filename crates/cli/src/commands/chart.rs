//! `chart`: what the trials say of each wire, rod and blade.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use linkwright_answers::chart::{TableError, as_json, read_cells, read_trials};
use linkwright_answers::pool::PortablePrior;
use linkwright_answers::printout::both_lengths;
use linkwright_answers::refusal::Refusal;
use linkwright_calc::metal::Catalogue;
use linkwright_trials::{Belief, Cell, Learned, TrialRow};

use crate::commands::pool::given_prior;
use crate::commands::{Output, chart_on_record, publish};
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::{Printout, Table};

/// Seed of the plays: always the same, so that an answer does not flicker from call to call.
pub(super) const SEED: u64 = 20;

/// What the trials say of each wire, rod and blade.
///
/// Geometry is corrected by the trials; sizes near a tried one borrow from it, and what nobody
/// tried stays wide. The good share is that of the turns which are not lost at an end of the coil.
/// The columns of both tables are listed in docs/trials-table.md; without trials the answer is
/// geometry alone. Without a table of cells the workshop's own data file is asked, and the blade to
/// use in each place is marked.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  linkwright chart
  linkwright chart --metal copper_c110 --temper annealed --json
  linkwright chart --trials trials.csv --cells cells.csv
  linkwright chart --trials trials.csv --cells cells.csv --json
  linkwright chart --cells cells.csv --prior prior.json   (`linkwright pool`)
  linkwright chart --publish wall.pdf --paper letter
  linkwright chart --publish class.xlsx --student")]
pub struct Args {
    /// Trials, one coil a line.
    #[arg(long, value_name = "CSV", requires = "cells")]
    trials: Option<PathBuf>,
    /// Cells to answer, one a line: the columns of a trial without its counts.
    #[arg(long, value_name = "CSV", conflicts_with_all = ["data", "metal", "temper"])]
    cells: Option<PathBuf>,
    /// What other workshops' trials taught, as `linkwright pool merge` writes it.
    #[arg(long, value_name = "JSON", requires = "cells")]
    prior: Option<PathBuf>,
    /// Key of the metal in the data file; the most tried without it.
    #[arg(long, default_value = "", hide_default_value = true)]
    pub(super) metal: String,
    /// Its temper; the most tried without it.
    #[arg(long, default_value = "", hide_default_value = true)]
    pub(super) temper: String,
    #[command(flatten)]
    pub(super) data: DataFile,
    #[command(flatten)]
    pub(super) publish: publish::Publish,
}

/// Learns from the trials and answers each cell in order.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    if let Some(to) = &args.publish.publish {
        return publish::run(args, to, output);
    }
    let Some(cells) = &args.cells else { return chart_on_record::run(args, output) };
    let (trials, cells) = tables(args.trials.as_deref(), cells)?;
    let prior = given_prior(args.prior.as_deref())?;
    let beliefs = Learned::fit(&trials, &prior.prior).beliefs(&cells, SEED);
    match output {
        Output::Json => {
            writeln!(io::stdout(), "{}", as_json(&beliefs))?;
            Ok(())
        }
        Output::Text => printout(&cells, &beliefs, rests_on(trials.len(), &prior)).print(output),
    }
}

/// Both tables, read.
pub(super) fn tables(
    trials: Option<&Path>,
    cells: &Path,
) -> Result<(Vec<TrialRow>, Vec<Cell>), Failure> {
    let trials = trials.map_or_else(|| Ok(Vec::new()), trials_of)?;
    let cells = read_cells(&name(cells), &text(cells)?, &Catalogue::built_in()).map_err(refused)?;
    Ok((trials, cells))
}

/// A table of trials, read.
pub(super) fn trials_of(path: &Path) -> Result<Vec<TrialRow>, Failure> {
    read_trials(&name(path), &text(path)?, &Catalogue::built_in()).map_err(refused)
}

/// What an answer rests on, in words.
pub(super) fn rests_on(trials: usize, prior: &PortablePrior) -> String {
    let own = match trials {
        1 => "1 trial".to_owned(),
        many => format!("{many} trials"),
    };
    match (trials, prior.workshops) {
        (0, 0) => "no trial was given: this is geometry alone, with wide bands".to_owned(),
        (0, _) => format!("no trial was given: this is geometry with {}", prior.in_words()),
        (_, 0) => format!("worked out from geometry and {own}"),
        _ => format!("worked out from geometry, {own}, and {}", prior.in_words()),
    }
}

fn name(path: &Path) -> String {
    path.display().to_string()
}

fn text(path: &Path) -> Result<String, Failure> {
    fs::read_to_string(path).map_err(Failure::at(path))
}

fn refused(error: TableError) -> Failure {
    let (field, given) = match &error {
        TableError::Value { column, given, .. } => (column.clone(), given.clone()),
        TableError::ColumnMissing { column, file, .. } => ((*column).to_owned(), file.clone()),
        TableError::NotCsv { file, line, .. } | TableError::Row { file, line, .. } => {
            ("line".to_owned(), format!("{file}, line {line}"))
        }
        other => ("table".to_owned(), other.to_string()),
    };
    Refusal::bench(&field, given, error).into()
}

fn printout(cells: &[Cell], beliefs: &[Belief], rests_on: String) -> Printout {
    let mut printout = Printout::new("chart", "What the trials say");
    let headings =
        ["wire", "rod", "blade", "good share", "80 % band", "90 % or more", "tried here"];
    let rows = cells.iter().zip(beliefs).map(|(cell, belief)| {
        let parts = cell.parts();
        let [low, high] = belief.good_share_80;
        vec![
            both_lengths(parts.wire.diameter().mm()),
            both_lengths(parts.mandrel.diameter().mm()),
            parts.blade.name.to_string(),
            percent(belief.good_share_mean),
            format!("{} to {}", percent(low), percent(high)),
            format!("chance {}", percent(belief.chance_of_90)),
            tried(belief),
        ]
    });
    printout.table(Table {
        title: "Long-run share of good rings among turns that are not lost at an end".to_owned(),
        headings: headings.map(str::to_owned).to_vec(),
        rows: rows.collect(),
    });
    printout.note(rests_on);
    printout
}

/// How often a cell was tried.
pub(super) fn tried(belief: &Belief) -> String {
    match belief.trials_here {
        0 => "not tried".to_owned(),
        1 => "1 coil".to_owned(),
        coils => format!("{coils} coils"),
    }
}

/// The good share and its band.
pub(super) fn share(belief: &Belief) -> String {
    let [low, high] = belief.good_share_80.map(percent);
    format!("{}, {low} to {high}", percent(belief.good_share_mean))
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}
