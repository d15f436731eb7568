//! `count`: rings by weight, the odds of enough good ones, and coils to wind.

mod coils;

mod odds;

mod weight;

use clap::Subcommand;

use crate::commands::Output;
use crate::failure::Failure;

/// Count rings by weight; odds of enough good ones; coils to wind.
///
/// Examples:
///   linkwright count weight --net "412.35 g" --sample-rings 50 \
///       --sample "6.76 g" --scale-step "0.01 g" --spread "1 %"
///   linkwright count odds --turns 55 --good 50 --seen-good 94 --seen-bad 4
///   linkwright count coils --good 500 --turns-per-coil 60 --lost-per-coil 5 \
///       --seen-good 94 --seen-bad 4
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    Weight(weight::Args),
    Odds(odds::Args),
    Coils(coils::Args),
}

/// Answers one of the three.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    match &args.what {
        What::Weight(args) => weight::run(args, output),
        What::Odds(args) => odds::run(args, output),
        What::Coils(args) => coils::run(args, output),
    }
}
