//! `linkwright run-sheet`: the whole plan of an order.

use std::io::{self, Write};
use std::path::PathBuf;

use linkwright_calc::plan::plan;
use serde_json::json;

use crate::commands::Output;
use crate::failure::Failure;
use linkwright_answers::files::load::load;
use linkwright_answers::run_sheet::json::{all_doubts, plan_as_json};
use linkwright_answers::run_sheet::{Money, html, text};

/// Plan an order: rod, anneal, turns, coils, wire, blade, odds, cost, cautions.
///
/// An order and a workshop are plain text files, described in docs/files.md; the order names its
/// workshop.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright run-sheet examples/necklace.toml --html necklace.html
  then open necklace.html and print it: each sheet fits one page of A4 or Letter.")]
pub struct Args {
    /// The order file.
    order: PathBuf,
    /// The workshop file, if not the one the order names.
    #[arg(long, value_name = "FILE")]
    workshop: Option<PathBuf>,
    /// Write the sheet as one self-contained page.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Leave prices and costs out, as for a wall or a class.
    #[arg(long)]
    without_costs: bool,
}

/// Plans the order and shows it.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let loaded = load(&args.order, args.workshop.as_deref())?;
    let plan = plan(&loaded.order, &loaded.workshop, &loaded.metals)?;
    let money = if args.without_costs { Money::LeftOut } else { Money::Shown };
    if let Some(path) = &args.html {
        let page = html::plan(&plan, loaded.order.date.as_deref(), money);
        std::fs::write(path, page).map_err(Failure::at(path))?;
    }
    let shown = match output {
        Output::Json => {
            let cautions = all_doubts(&plan);
            let answer = plan_as_json(&plan, money);
            format!("{}\n", json!({ "ask": "run_sheet", "answer": answer, "cautions": cautions }))
        }
        Output::Text => text::plan(&plan, loaded.order.date.as_deref(), money),
    };
    io::stdout().write_all(shown.as_bytes())?;
    Ok(())
}
