//! `pool condense`: what a workshop's trials teach, without the trials.

use std::path::PathBuf;

use linkwright_answers::chart::metal_key;
use linkwright_answers::pool::{condense, write_workshop};
use linkwright_answers::refusal::Refusal;
use linkwright_calc::metal::Catalogue;
use linkwright_store::look;
use linkwright_trials::TrialRow;
use linkwright_web::record;

use super::file::write_new;
use crate::commands::Output;
use crate::commands::chart::trials_of;
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::Printout;

/// Coils below which the numbers show roughly what was cut.
const FEW_COILS: usize = 20;

/// Write what this workshop's trials teach into a file for others.
///
/// The trials come from a table (docs/trials-table.md lists its columns) or from the workshop's
/// data file, which the app may have open. No file is written over.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  linkwright pool condense --out shop.json
  linkwright pool condense --trials trials.csv --out shop.json")]
pub(super) struct Args {
    /// Trials, one coil a line; without it, those of the data file.
    #[arg(long, value_name = "CSV", conflicts_with = "data")]
    trials: Option<PathBuf>,
    /// The new file.
    #[arg(long, value_name = "JSON")]
    out: PathBuf,
    #[command(flatten)]
    data: DataFile,
}

pub(super) fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let trials = trials(args)?;
    if trials.is_empty() {
        let (field, given) = match &args.trials {
            Some(table) => ("trials", table.display().to_string()),
            None => ("data", args.data.path()?.display().to_string()),
        };
        let why = "there is no trial in it to learn from, so there is nothing to share";
        return Err(Refusal::bench(field, given, why).into());
    }
    let condensed = condense(&trials);
    write_new(&args.out, write_workshop(&condensed).as_bytes())?;
    let mut printout = Printout::new("pool condense", "Written for others to learn from");
    printout.words("file", "file", args.out.display().to_string());
    printout.json_only("trials", condensed.trials());
    printout.json_only("cells", condensed.cells());
    printout.text_only(
        "learned from",
        format!("{} coils of {} sizes and blades", condensed.trials(), condensed.cells()),
    );
    printout.note("No trial, date, price or name of a person, blade, rod or lot is in it.");
    if condensed.trials() < FEW_COILS {
        printout.note(format!(
            "Of fewer than {FEW_COILS} coils the numbers still show roughly which sizes were cut."
        ));
    }
    let own = own_metals(&trials);
    if own > 0 {
        printout.note(format!(
            "{} not in the built-in table left out by name.",
            if own == 1 { "1 metal is".to_owned() } else { format!("{own} metals are") }
        ));
    }
    printout.print(output)
}

fn trials(args: &Args) -> Result<Vec<TrialRow>, Failure> {
    match &args.trials {
        Some(table) => trials_of(table),
        None => look(&args.data.path()?, |view| Ok::<_, Failure>(record::trials(view)?)),
    }
}

/// Metals that only this workshop knows.
fn own_metals(trials: &[TrialRow]) -> usize {
    let known = Catalogue::built_in();
    let mut own: Vec<&str> = trials.iter().map(|trial| &*trial.cell().parts().metal).collect();
    own.sort_unstable();
    own.dedup();
    own.retain(|metal| metal_key(&known, metal).is_none());
    own.len()
}
