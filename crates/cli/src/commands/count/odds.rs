//! `count odds`: the chance of enough good rings from so many turns.

use linkwright_calc::count::{GoodRate, chance_of_at_least};

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Unit};
use linkwright_answers::refusal::Refusal;

/// The chance of enough good rings from so many turns.
///
/// Example:
///   linkwright count odds --turns 55 --good 50 --seen-good 94 --seen-bad 4
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Turns left after the ends are lost.
    #[arg(long)]
    turns: u32,
    /// Good rings wanted.
    #[arg(long)]
    good: u32,
    #[command(flatten)]
    seen: Seen,
}

/// What the rate of good rings rests on.
#[derive(Debug, clap::Args)]
pub struct Seen {
    /// Good rings counted so far with this setting.
    #[arg(long)]
    seen_good: u32,
    /// Rings spoilt so far with this setting.
    #[arg(long)]
    seen_bad: u32,
}

struct Plan {
    turns: u32,
    good: u32,
    rate: GoodRate,
    seen: u32,
}

/// Answers with the chance.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan {
        turns: args.turns,
        good: args.good,
        rate: args.seen.rate(),
        seen: args.seen.rings(),
    };
    printout(&plan)?.print(output)
}

impl Seen {
    /// Belief about the rate after what was seen, nothing being known before.
    pub fn rate(&self) -> GoodRate {
        GoodRate::UNSEEN.after(self.seen_good, self.seen_bad)
    }

    /// How many rings were seen.
    pub fn rings(&self) -> u32 {
        self.seen_good.saturating_add(self.seen_bad)
    }
}

fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let chance = chance_of_at_least(plan.good, plan.turns, plan.rate)
        .map_err(|error| Refusal::bench("--good", plan.good, error))?;
    let mut printout = Printout::new("count", "Odds of enough good rings");
    printout.count("turns", "turns", plan.turns, "turns");
    printout.count("good rings wanted", "good_rings", plan.good, "rings");
    printout.figure("rate of good ones, likeliest", "rate", plan.rate.mean(), Unit::Share);
    printout.figure("chance of at least so many", "probability", chance, Unit::Share);
    printout.basis("rate", linkwright_calc::basis::Basis::tried(plan.seen));
    printout.source("beta-binomial; docs/theory/counting.md");
    Ok(printout)
}
