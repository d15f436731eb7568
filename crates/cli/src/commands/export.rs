//! `export`: every record as one JSON document, for other programs.

use std::fs::{File, OpenOptions, remove_file};
use std::io::{self, BufWriter, Write};
use std::path::PathBuf;

use linkwright_store::export::{Beside, ExportError, json};
use linkwright_store::look;

use crate::commands::{Output, trials_out};
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::Printout;

/// Write every record as one JSON document; nothing is changed.
///
/// The document is described in docs/data-file.md. The app may be open.
#[derive(Debug, clap::Args)]
#[command(
    args_conflicts_with_subcommands = true,
    after_help = "\
Example:
  linkwright export --json workshop.json"
)]
pub struct Args {
    #[command(subcommand)]
    what: Option<What>,
    /// The new file to write; standard output if absent.
    to: Option<PathBuf>,
    /// Every action too, and what records were before it.
    #[arg(long)]
    with_history: bool,
    /// The pictures too, in base64.
    #[arg(long)]
    with_images: bool,
    #[command(flatten)]
    data: DataFile,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    Trials(trials_out::Args),
}

/// What is written from where to where.
struct Plan {
    from: PathBuf,
    to: Option<PathBuf>,
    beside: Beside,
}

/// Writes the document.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    if let Some(What::Trials(args)) = &args.what {
        return trials_out::run(args, output);
    }
    let plan = Plan::new(args)?;
    let Some(to) = &plan.to else {
        return plan.write(io::stdout().lock()).map_err(Failure::from);
    };
    let file = new_file(to).map_err(Failure::at(to))?;
    plan.write(BufWriter::new(&file)).map_err(|error| {
        // Half a document helps nobody; if it will not go, the first trouble is the news.
        drop(remove_file(to));
        match error {
            ExportError::Write(source) => Failure::at(to)(source),
            other => Failure::from(other),
        }
    })?;
    file.sync_all().map_err(Failure::at(to))?;
    let mut printout = Printout::new("export", "Export written");
    printout.words("data file", "data_file", plan.from.display().to_string());
    printout.words("document", "document", to.display().to_string());
    printout.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Failure> {
        let beside = Beside { history: args.with_history, images: args.with_images };
        Ok(Plan { from: args.data.path()?, to: args.to.clone(), beside })
    }

    fn write(&self, to: impl Write) -> Result<(), ExportError> {
        look(&self.from, |view| json(view, self.beside, to))
    }
}

/// A file that was not there before.
pub(super) fn new_file(path: &std::path::Path) -> io::Result<File> {
    OpenOptions::new().write(true).create_new(true).open(path)
}
