//! `pool`: what a workshop's trials can teach others, as files without trials or names.

mod condense;

mod merge;

mod show;

mod file;

pub use file::{given_prior, write_new};

use clap::Subcommand;

use crate::commands::Output;
use crate::failure::Failure;

/// Learn from the trials of other workshops without seeing them.
///
/// `condense` writes what your trials teach into a small file: no trial, date, price or name of a
/// person, blade or lot is in it. `merge` makes the files of many workshops into a prior: what a
/// workshop believes before its own first trial. `chart` and `promise` take it with --prior. The
/// files are described in docs/pooling-file.md.
///
/// Your own file does not belong into a prior of your own: your trials would count twice.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples, for a class that shares with a newcomer:
  linkwright pool condense --trials ann.csv --out ann.json
  linkwright pool merge ann.json bo.json cy.json --out prior.json
  linkwright pool show prior.json
  linkwright chart --cells cells.csv --prior prior.json")]
pub struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    Condense(condense::Args),
    Merge(merge::Args),
    Show(show::Args),
}

/// Does one of the three.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    match &args.what {
        What::Condense(args) => condense::run(args, output),
        What::Merge(args) => merge::run(args, output),
        What::Show(args) => show::run(args, output),
    }
}
