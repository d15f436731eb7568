//! `chart --publish`: the blade chart of the data file as a sheet, a page, a table or data.

use std::path::{Path, PathBuf};

use linkwright_answers::published::PublishedChart;
use linkwright_answers::refusal::Refusal;
use linkwright_sheets::{BladeChart, Paper};
use linkwright_store::look;
use linkwright_store::spreadsheet::{to_csv, to_xlsx};
use linkwright_web::{Clock, paper};

use crate::commands::pool::write_new;
use crate::commands::{Output, chart};
use crate::failure::Failure;
use crate::printout::Printout;

/// What of the data file is published, and how.
#[derive(Debug, clap::Args)]
pub struct Publish {
    /// Publish the data file's chart, without costs or names, as a new .pdf, .html, .xlsx, .csv or
    /// .json file; it says which places were tried and which are worked out.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["trials", "cells", "prior"])]
    pub publish: Option<PathBuf>,
    /// A copy that students add their own trials to: pencil boxes (pdf), an empty sheet of trials
    /// (xlsx, csv).
    #[arg(long, requires = "publish")]
    student: bool,
    /// Paper of a pdf: a4 or letter.
    #[arg(long, requires = "publish", default_value = "a4")]
    paper: String,
}

/// Writes the chart into a new file.
pub fn run(args: &chart::Args, to: &Path, output: Output) -> Result<(), Failure> {
    let from = args.data.path()?;
    let today = Clock::of_this_computer().today().to_string();
    let chart = look(&from, |view| {
        let chart = paper::blade_chart(view, &args.metal, &args.temper, today);
        chart.map_err(|why| Failure::from(Refusal::bench("data", from.display().to_string(), why)))
    })?;
    let bytes = written(&args.publish, to, &chart)?;
    write_new(to, &bytes)?;
    let mut printout = Printout::new("chart", chart.title());
    printout.words("file", "file", to.display().to_string());
    printout.words("version", "version", chart.edition());
    printout.note(chart.rests_on());
    printout.print(output)
}

/// The file's contents, as its name ends.
fn written(args: &Publish, to: &Path, chart: &PublishedChart) -> Result<Vec<u8>, Failure> {
    let ending = to.extension().and_then(|ending| ending.to_str()).unwrap_or("").to_lowercase();
    Ok(match ending.as_str() {
        "pdf" => {
            let paper = Paper::named(&args.paper).ok_or_else(|| {
                Refusal::bench("paper", args.paper.as_str(), "the paper is a4 or letter")
            })?;
            BladeChart { chart: chart.clone(), student: args.student }.pdf(paper)?.into_bytes()
        }
        "html" if !args.student => chart
            .html()
            .map_err(|error| Failure::Stream(std::io::Error::other(error)))?
            .into_bytes(),
        "xlsx" => to_xlsx(&paper::book(chart, args.student))?,
        "csv" if args.student => to_csv(&PublishedChart::empty_trials())?,
        "csv" => to_csv(&chart.rows())?,
        "json" if !args.student => format!("{}\n", chart.as_json()).into_bytes(),
        _ => {
            let why = if args.student {
                "the name of a student copy ends in .pdf, .xlsx or .csv"
            } else {
                "the name of the new file ends in .pdf, .html, .xlsx, .csv or .json"
            };
            return Err(Refusal::bench("publish", to.display().to_string(), why).into());
        }
    })
}
