//! `linkwright paper`: every sheet as a PDF, A4 or Letter, black only.

mod from_files;

mod from_data;

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::{Subcommand, ValueEnum};
use linkwright_sheets::{CautionSheet, Edition, Paper, Pdf, TrialCard};
use linkwright_web::Clock;
use serde_json::json;

use crate::commands::Output;
use crate::failure::Failure;

/// Print a sheet as PDF: run sheet, kit sheet, wall chart, labels, cards, cautions.
///
/// Sheets for a wall or a class carry date and version, and no costs or names.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  linkwright paper run-sheet examples/necklace.toml --paper letter
  linkwright paper trial-card --out cards.pdf
  linkwright paper labels F1-2 F1-3 --data my.linkwright")]
pub struct Args {
    #[command(subcommand)]
    what: What,
    /// Paper to print on.
    #[arg(long, value_enum, default_value = "a4", global = true)]
    paper: PaperName,
    /// File to write; without it, a new file in this folder named after the sheet.
    #[arg(long, value_name = "FILE", global = true)]
    out: Option<PathBuf>,
}

#[derive(Debug, Subcommand)]
enum What {
    RunSheet(from_files::RunSheetArgs),
    Kit(from_files::KitArgs),
    WallChart(from_data::WallChartArgs),
    Labels(from_data::LabelsArgs),
    /// Two blank cards a page, for notes with a pencil.
    TrialCard,
    /// Cautions for students, and on the next page those for whoever teaches.
    Cautions,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum PaperName {
    A4,
    Letter,
}

/// A sheet that is ready to be printed, and what its file is called without ".pdf".
struct Plan {
    name: String,
    print: Box<dyn FnOnce(Paper) -> Result<Pdf, Failure>>,
}

impl Plan {
    fn new<E: Into<Failure>>(
        name: impl Into<String>,
        print: impl FnOnce(Paper) -> Result<Pdf, E> + 'static,
    ) -> Plan {
        Plan { name: name.into(), print: Box::new(|paper| print(paper).map_err(Into::into)) }
    }
}

/// Prints one sheet.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let paper = match args.paper {
        PaperName::A4 => Paper::A4,
        PaperName::Letter => Paper::Letter,
    };
    let plan = match &args.what {
        What::RunSheet(args) => from_files::run_sheet(args)?,
        What::Kit(args) => from_files::kit(args, edition())?,
        What::WallChart(args) => from_data::wall_chart(args, today())?,
        What::Labels(args) => from_data::labels(args)?,
        What::TrialCard => Plan::new("trial-card", |paper| TrialCard.pdf(paper)),
        What::Cautions => {
            let sheet = CautionSheet { edition: edition() };
            Plan::new("cautions", move |paper| sheet.pdf(paper))
        }
    };
    let pdf = (plan.print)(paper)?;
    let path = written(&pdf, args.out.as_deref(), &plan.name)?;
    let shown = match output {
        Output::Json => format!("{}\n", json!({ "written": path, "paper": paper.name() })),
        Output::Text => format!("{} is ready to print on {}.\n", path.display(), paper.name()),
    };
    io::stdout().write_all(shown.as_bytes())?;
    Ok(())
}

/// Writes over a file that was named, but never over one that was not.
fn written(pdf: &Pdf, named: Option<&Path>, name: &str) -> Result<PathBuf, Failure> {
    if let Some(path) = named {
        fs::write(path, pdf.bytes()).map_err(Failure::at(path))?;
        return Ok(path.to_owned());
    }
    let path = PathBuf::from(format!("{name}.pdf"));
    let mut file =
        OpenOptions::new().write(true).create_new(true).open(&path).map_err(Failure::at(&path))?;
    file.write_all(pdf.bytes()).map_err(Failure::at(&path))?;
    Ok(path)
}

fn today() -> String {
    Clock::of_this_computer().today().to_string()
}

/// The edition of a sheet that says what the program says: it changes with the program.
fn edition() -> Edition {
    let version = format!("Version {}", env!("CARGO_PKG_VERSION"));
    Edition { date: today(), version, trials: 0 }
}
