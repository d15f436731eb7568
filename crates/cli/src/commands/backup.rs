//! `backup`: a whole copy of the data file, also while the app has it open.

use std::path::PathBuf;

use linkwright_store::{back_up, by_hand};

use crate::commands::Output;
use crate::data_file::{DataFile, now};
use crate::failure::Failure;
use crate::printout::Printout;

/// Copy the workshop's data file, also while the app is open.
///
/// The copy is a whole data file of its own, checked before it gets its name. The app makes one a
/// day by itself and keeps those of the last 14 days; copies made here are kept until you remove
/// them.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright backup stick/workshop-2026-11-25.linkwright")]
pub struct Args {
    /// Where the copy goes: a new file or a folder; if absent, the folder "backups" beside the
    /// data file.
    to: Option<PathBuf>,
    #[command(flatten)]
    data: DataFile,
}

/// A file to copy and a name for the copy.
struct Plan {
    from: PathBuf,
    to: PathBuf,
}

/// Copies the file and says where the copy is.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    back_up::<Failure>(&plan.from, &plan.to)?;
    let mut printout = Printout::new("backup", "Backup made");
    printout.words("data file", "data_file", plan.from.display().to_string());
    printout.words("backup", "backup", plan.to.display().to_string());
    printout.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Failure> {
        let from = args.data.path()?;
        let usual = by_hand(&from, now());
        let to = match &args.to {
            None => usual,
            Some(folder) if folder.is_dir() => folder.join(usual.file_name().unwrap_or_default()),
            Some(file) => file.clone(),
        };
        Ok(Plan { from, to })
    }
}
