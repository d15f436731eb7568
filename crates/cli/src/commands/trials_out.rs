//! `export trials`: the trials as a table or data for other programs.

use std::fs::{OpenOptions, remove_file};
use std::io::Write;
use std::path::PathBuf;

use linkwright_store::look;
use linkwright_store::spreadsheet::{to_csv, to_xlsx};
use linkwright_store::trials::{TrialFilter, as_json, as_table};

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
    if !["xlsx", "csv", "json"].contains(&ending.as_str()) {
        let why = "the name of the new file ends in .xlsx, .csv or .json";
        return Err(Refusal::bench("to", args.to.display().to_string(), why).into());
    }
    let (bytes, count) = look(&args.data.path()?, |view| {
        let (trials, lots) = (view.all_trials(&TrialFilter::default())?, view.all()?);
        let bytes = match ending.as_str() {
            "json" => format!("{}\n", as_json(&trials, &lots, args.public)).into_bytes(),
            "csv" => to_csv(&as_table(&trials, &lots, args.public).0)?,
            _ => {
                let (rows, numbers) = as_table(&trials, &lots, args.public);
                to_xlsx("Trials", &rows, &numbers)?
            }
        };
        Ok::<_, Failure>((bytes, trials.len()))
    })?;
    let new = OpenOptions::new().write(true).create_new(true).open(&args.to);
    let mut file = new.map_err(Failure::at(&args.to))?;
    if let Err(error) = file.write_all(&bytes).and_then(|()| file.sync_all()) {
        // Half a table helps nobody; if it will not go, the first trouble is the news.
        drop(remove_file(&args.to));
        return Err(Failure::at(&args.to)(error));
    }
    let mut printout = Printout::new("export trials", "Trials written");
    printout.count("trials", "trials", u32::try_from(count).unwrap_or(u32::MAX), "trials");
    printout.words("file", "file", args.to.display().to_string());
    printout.print(output)
}
