//! The commands, one file each: what was typed, what it means, and its answer.

mod batch;

mod completions;

mod man;

mod run_sheet;

use std::io::{self, Write};

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
    Batch(batch::Args),
    Completions(completions::Args),
    Man(man::Args),
    RunSheet(run_sheet::Args),
}

impl Command {
    /// Makes sense of what was typed, and answers.
    pub fn run(self, output: Output) -> Result<(), Failure> {
        match self {
            Command::Batch(args) => batch::run(args),
            Command::Completions(args) => completions::run(&args),
            Command::Man(args) => man::run(&args),
            Command::RunSheet(args) => run_sheet::run(&args, output),
        }
    }
}

/// Prints what the program can do.
pub fn short_help(program: &mut clap::Command) -> Result<(), Failure> {
    write!(io::stdout(), "{}", program.render_help())?;
    Ok(())
}
