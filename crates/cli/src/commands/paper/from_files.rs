//! Sheets of an order that is written in files.

use std::path::PathBuf;

use linkwright_answers::files::load::load;
use linkwright_answers::refusal::Refusal;
use linkwright_answers::run_sheet::Money;
use linkwright_calc::plan::Plan as OrderPlan;
use linkwright_sheets::{Edition, KitSheet, RunSheets};

use super::Plan;
use crate::failure::Failure;

/// The run sheets of an order: one page a line, all cautions on the back.
#[derive(Debug, clap::Args)]
pub(super) struct RunSheetArgs {
    #[command(flatten)]
    order: OrderArgs,
    /// Leave prices and costs out, as for a wall or a class.
    #[arg(long)]
    without_costs: bool,
}

/// The sheet of a line of class kits, with its labels.
#[derive(Debug, clap::Args)]
pub(super) struct KitArgs {
    #[command(flatten)]
    order: OrderArgs,
    /// The line, if the order has several of kits.
    #[arg(long)]
    line: Option<String>,
}

#[derive(Debug, clap::Args)]
struct OrderArgs {
    /// The order file.
    order: PathBuf,
    /// The workshop file, if not the one the order names.
    #[arg(long, value_name = "FILE")]
    workshop: Option<PathBuf>,
}

impl OrderArgs {
    /// The order worked out, and its date.
    fn planned(&self) -> Result<(OrderPlan, Option<String>), Failure> {
        let loaded = load(&self.order, self.workshop.as_deref())?;
        let plan = loaded.plan(None)?;
        Ok((plan, loaded.order.order.date))
    }

    /// The name of the order file without its ending.
    fn stem(&self) -> String {
        self.order
            .file_stem()
            .map_or_else(|| "order".to_owned(), |stem| stem.to_string_lossy().into_owned())
    }
}

pub(super) fn run_sheet(args: &RunSheetArgs) -> Result<Plan, Failure> {
    let (plan, date) = args.order.planned()?;
    let money = if args.without_costs { Money::LeftOut } else { Money::Shown };
    let sheets = RunSheets::of(&plan, date.as_deref(), money);
    Ok(Plan::new(args.order.stem(), move |paper| sheets.pdf(paper)))
}

pub(super) fn kit(args: &KitArgs, edition: Edition) -> Result<Plan, Failure> {
    let (plan, _) = args.order.planned()?;
    let line = args.line.as_deref();
    let mut kits = plan.sheets.iter().filter(|sheet| {
        sheet.to_make.kits.is_some() && line.is_none_or(|line| sheet.line.name == line)
    });
    let sheet = kits.next().and_then(|sheet| KitSheet::of(sheet, edition));
    let (Some(sheet), None) = (sheet, kits.next()) else {
        let given = line.unwrap_or_default();
        return Err(Refusal::bench(
            "--line",
            given,
            "name one line of this order that asks for kits",
        )
        .into());
    };
    Ok(Plan::new(format!("{}-kit", args.order.stem()), move |paper| sheet.pdf(paper)))
}
