//! `count coils`: how many coils to wind so that enough rings are good.

use linkwright_calc::basis::Basis;
use linkwright_calc::count::{CoilsQuery, CountError, RateSharing, coils_needed};

use super::odds::Seen;
use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::Printout;
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// How many coils to wind so that enough rings are good.
///
/// Example:
///   linkwright count coils --good 500 --turns-per-coil 60 --lost-per-coil 5 \
///       --seen-good 94 --seen-bad 4
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Good rings wanted.
    #[arg(long)]
    good: u32,
    /// Turns of each coil after release.
    #[arg(long)]
    turns_per_coil: u32,
    /// Turns lost on each coil at its ends and the stop.
    #[arg(long)]
    lost_per_coil: u32,
    #[command(flatten)]
    seen: Seen,
    /// Wanted chance of enough, such as "95 %".
    #[arg(long, default_value = "95 %")]
    confidence: String,
    /// Let each coil draw its own rate, in place of one rate for the job.
    #[arg(long)]
    per_coil: bool,
}

struct Plan {
    query: CoilsQuery,
    seen: u32,
}

/// Answers with the coils.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    printout(&plan)?.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        Ok(Plan {
            query: CoilsQuery {
                good_rings: args.good,
                turns_per_coil: args.turns_per_coil,
                lost_per_coil: args.lost_per_coil,
                rate: args.seen.rate(),
                confidence: typed::share("--confidence", &args.confidence)?,
                sharing: if args.per_coil { RateSharing::PerCoil } else { RateSharing::Shared },
            },
            seen: args.seen.rings(),
        })
    }
}

fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let query = &plan.query;
    let coils = coils_needed(query).map_err(|error| refuse(query, error))?;
    let mut printout = Printout::new("count", "Coils to wind");
    printout.count("good rings wanted", "good_rings", query.good_rings, "rings");
    printout.count("coils", "coils", coils, "coils");
    let turns = u64::from(coils) * u64::from(query.turns_per_coil);
    printout.text_only("turns in all, after release", format!("{turns} turns"));
    printout.json_only("turns", turns);
    printout.basis("rate of good rings", Basis::tried(plan.seen));
    printout.source("beta-binomial; docs/theory/counting.md");
    if query.sharing == RateSharing::Shared {
        printout.note("one rate for the whole job is taken: a bad day spoils every coil");
    }
    Ok(printout)
}

fn refuse(query: &CoilsQuery, error: CountError) -> Refusal {
    match error {
        CountError::NothingLeft { .. } => {
            Refusal::bench("--lost-per-coil", query.lost_per_coil, error)
        }
        CountError::Limit(limit) => Refusal::bench("--confidence", limit.given, error),
        _ => Refusal::bench("--good", query.good_rings, error),
    }
}
