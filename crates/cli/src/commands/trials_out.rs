//! `export trials`: the trials as a table or data for other programs.

use std::fs::remove_file;
use std::io::BufWriter;
use std::path::PathBuf;

use linkwright_store::export::ExportError;
use linkwright_store::look;
use linkwright_store::trials::{TrialFilter, TrialsForm};

use super::export::new_file;
use crate::commands::Output;
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::Printout;
use linkwright_answers::refusal::Refusal;

/// Write all trials as xlsx, csv or json, as the new file's name ends.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright export trials trials.xlsx --public")]
pub struct Args {
    /// The new file, such as trials.xlsx.
    to: PathBuf,
    /// Leave out workers, lots and notes.
    #[arg(long)]
    public: bool,
    #[command(flatten)]
    data: DataFile,
}

/// Writes the trials.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let ending =
        args.to.extension().and_then(|ending| ending.to_str()).unwrap_or("").to_lowercase();
    let form = match ending.as_str() {
        "xlsx" => TrialsForm::Xlsx,
        "csv" => TrialsForm::Csv,
        "json" => TrialsForm::Json,
        _ => {
            let why = "the name of the new file ends in .xlsx, .csv or .json";
            return Err(Refusal::bench("to", args.to.display().to_string(), why).into());
        }
    };
    let from = args.data.path()?;
    let file = new_file(&args.to).map_err(Failure::at(&args.to))?;
    let written = look(&from, |view| {
        let to = BufWriter::new(&file);
        let count = view.write_trials(&TrialFilter::default(), form, args.public, to)?;
        file.sync_all()?;
        Ok::<_, ExportError>(count)
    });
    let count = written.map_err(|error| {
        // Half a table helps nobody; if it will not go, the first trouble is the news.
        drop(remove_file(&args.to));
        match error {
            ExportError::Write(source) => Failure::at(&args.to)(source),
            other => Failure::from(other),
        }
    })?;
    let mut printout = Printout::new("export trials", "Trials written");
    printout.count("trials", "trials", u32::try_from(count).unwrap_or(u32::MAX), "trials");
    printout.words("file", "file", args.to.display().to_string());
    printout.print(output)
}
