//! The commands, one file each: what was typed, what it means, and its answer.

mod gauge;

mod lot;

mod anneal;

mod wind;

mod mandrel;

mod slit;

mod ring;

mod count;

mod metals;

mod patterns;

mod batch;

mod backup;

mod restore;

mod check;

mod export;

mod trials_out;

mod import;

mod completions;

mod man;

mod chain;

mod chain_for;

mod chart;

mod chart_on_record;

mod publish;

mod promise;

mod try_next;

mod pool;

mod run_sheet;

mod paper;

use clap::Subcommand;

use crate::failure::Failure;

/// Whether a command prints text or JSON.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Output {
    /// Tables and sentences, rounded, at most 80 columns wide.
    Text,
    /// One JSON object, unrounded.
    Json,
}

/// What the program can be told to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    Gauge(gauge::Args),
    Wind(wind::Args),
    Mandrel(mandrel::Args),
    Slit(slit::Args),
    Ring(ring::Args),
    Count(count::Args),
    Metals(metals::Args),
    Patterns(patterns::Args),
    RunSheet(run_sheet::Args),
    Chain(chain::Args),
    ChainFor(chain_for::Args),
    Chart(chart::Args),
    TryNext(try_next::Args),
    Promise(promise::Args),
    Pool(pool::Args),
    Paper(paper::Args),
    Batch(batch::Args),
    Backup(backup::Args),
    Restore(restore::Args),
    Check(check::Args),
    Export(export::Args),
    Import(import::Args),
    Completions(completions::Args),
    Man(man::Args),
}

impl Command {
    /// Makes sense of what was typed, and answers.
    pub fn run(self, output: Output) -> Result<(), Failure> {
        match self {
            Command::Gauge(args) => gauge::run(&args, output),
            Command::Wind(args) => wind::run(&args, output),
            Command::Mandrel(args) => mandrel::run(&args, output),
            Command::Slit(args) => slit::run(&args, output),
            Command::Ring(args) => ring::run(&args, output),
            Command::Count(args) => count::run(&args, output),
            Command::Metals(args) => metals::run(&args, output),
            Command::Patterns(args) => patterns::run(&args, output),
            Command::Batch(args) => batch::run(args),
            Command::Backup(args) => backup::run(&args, output),
            Command::Restore(args) => restore::run(&args, output),
            Command::Check(args) => check::run(&args, output),
            Command::Export(args) => export::run(&args, output),
            Command::Import(args) => import::run(&args, output),
            Command::Completions(args) => completions::run(&args),
            Command::Man(args) => man::run(&args),
            Command::RunSheet(args) => run_sheet::run(&args, output),
            Command::Chain(args) => chain::run(&args, output),
            Command::ChainFor(args) => chain_for::run(&args, output),
            Command::Chart(args) => chart::run(&args, output),
            Command::TryNext(args) => try_next::run(&args, output),
            Command::Promise(args) => promise::run(&args, output),
            Command::Pool(args) => pool::run(&args, output),
            Command::Paper(args) => paper::run(&args, output),
        }
    }
}
