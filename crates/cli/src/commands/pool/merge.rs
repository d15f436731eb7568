//! `pool merge`: the files of many workshops made into one prior.

use std::path::PathBuf;

use linkwright_answers::pool::{PortablePrior, read_workshop, write_prior};
use linkwright_answers::refusal::Refusal;
use linkwright_trials::{Condensed, Pool};

use super::file::{bytes, refused, write_new};
use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::Printout;

/// Make the files of other workshops into a prior.
///
/// A workshop joins once: of two files of one workshop take the newer. No file is written over.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright pool merge ann.json bo.json cy.json --out prior.json")]
pub(super) struct Args {
    /// Condensed files, as `pool condense` writes them.
    #[arg(required = true, value_name = "JSON")]
    workshops: Vec<PathBuf>,
    /// The new file.
    #[arg(long, value_name = "JSON")]
    out: PathBuf,
}

pub(super) fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let mut workshops: Vec<Condensed> = Vec::new();
    for path in &args.workshops {
        let workshop = read_workshop(&bytes(path)?).map_err(|error| refused(path, &error))?;
        if let Some(place) = workshops.iter().position(|other| *other == workshop) {
            let (file, other) = (path.display(), args.workshops[place].display());
            let why = format!("{file} says the same as {other}; its trials would count twice");
            return Err(Refusal::bench("JSON", file.to_string(), why).into());
        }
        workshops.push(workshop);
    }
    let mut pool = Pool::default();
    for workshop in workshops {
        pool.add(workshop);
    }
    let portable = PortablePrior::of(&pool);
    write_new(&args.out, write_prior(&portable).as_bytes())?;
    let mut printout = Printout::new("pool merge", "A prior for the next workshop");
    printout.words("file", "file", args.out.display().to_string());
    printout.json_only("workshops", portable.workshops);
    printout.json_only("trials", portable.trials);
    printout.text_only("learned from", portable.in_words());
    printout.note("Take it with --prior to `linkwright chart` and `linkwright promise`, in a workshop whose own file is not in it.");
    printout.print(output)
}
