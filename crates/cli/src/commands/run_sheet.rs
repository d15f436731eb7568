//! `linkwright run-sheet`: the whole plan of an order.

use std::io::{self, Write};
use std::path::PathBuf;

use linkwright_answers::coils::{Job, JobCoils, Known, Setting, as_checked, least_wire, untaught};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{CoilsAsked, CoilsTaught, Least, Trials, Untaught};
use linkwright_trials::{Learned, TrialBlade};
use serde_json::json;

use crate::commands::Output;
use crate::commands::chart::{SEED, trials_of};
use crate::commands::pool::given_prior;
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
    /// Trials, one coil a line, as for `linkwright chart`: coils, losses and odds are then theirs. A
    /// blade goes by its name in the workshop file.
    #[arg(long, value_name = "CSV")]
    trials: Option<PathBuf>,
    /// What other workshops' trials taught, as `linkwright pool merge` writes it.
    #[arg(long, value_name = "JSON")]
    prior: Option<PathBuf>,
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
    let trials = TrialsOfTable::read(args, &loaded.metals)?;
    let trials = trials.as_ref().map(|trials| trials as &dyn Trials);
    let plan = loaded.plan(trials)?;
    let money = if args.without_costs { Money::LeftOut } else { Money::Shown };
    if let Some(path) = &args.html {
        let page = html::plan(&plan, loaded.date(), money);
        std::fs::write(path, page).map_err(Failure::at(path))?;
    }
    let shown = match output {
        Output::Json => {
            let cautions = all_doubts(&plan);
            let answer = plan_as_json(&plan, money);
            format!("{}\n", json!({ "ask": "run_sheet", "answer": answer, "cautions": cautions }))
        }
        Output::Text => text::plan(&plan, loaded.date(), money),
    };
    io::stdout().write_all(shown.as_bytes())?;
    Ok(())
}

/// A table of trials, asked about coils by a plan.
struct TrialsOfTable<'a> {
    learned: Learned,
    other_workshops: usize,
    metals: &'a Catalogue,
}

impl<'a> TrialsOfTable<'a> {
    /// Learns from what is given; nothing where neither trials nor a prior are.
    fn read(args: &Args, metals: &'a Catalogue) -> Result<Option<TrialsOfTable<'a>>, Failure> {
        if args.trials.is_none() && args.prior.is_none() {
            return Ok(None);
        }
        let trials = args.trials.as_deref().map_or_else(|| Ok(Vec::new()), trials_of)?;
        let prior = given_prior(args.prior.as_deref())?;
        let learned = Learned::fit(&trials, &prior.prior);
        Ok(Some(TrialsOfTable { learned, other_workshops: prior.workshops, metals }))
    }
}

impl Trials for TrialsOfTable<'_> {
    fn coils(&self, asked: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught> {
        let blade = TrialBlade { name: asked.blade_name.into(), blade: asked.blade };
        let cell = as_checked(Setting::asked(asked, blade), self.metals)
            .map_err(|why| Untaught::Silent(Some(why)))?;
        let job = Job {
            rings: asked.good.get(),
            turns_most: asked.turns_most,
            confidence: asked.confidence,
            cost: Some(least_wire(asked)),
        };
        let known =
            Known { learned: &self.learned, other_workshops: self.other_workshops, seed: SEED };
        match JobCoils::of(known, &cell, job) {
            Ok(found) => Ok(found.taught(Least::Wire, asked.confidence)),
            Err(error) => Err(untaught(error, self.learned.trials_in(&cell.key()))),
        }
    }
}
