//! The `linkwright` program: alone it starts the workshop app; every calculation is also a command.

mod app;

mod commands;

mod data_file;

mod typed;

mod failure;

mod printout;

use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{CommandFactory, Parser};

use commands::{Command, Output};

/// Plan, make and account for jump rings at the bench.
///
/// Without a command it starts the workshop app on this computer and opens the browser.
///
/// Sizes are typed as people say them: "18 awg", "16 swg" (British), "1.02 mm", ".040 in",
/// 3/16", "40 thou". A bare number is asked about, never guessed.
#[derive(Debug, Parser)]
#[command(name = "linkwright", version, term_width = 80, after_help = failure::EXIT_CODES)]
struct Cli {
    /// Print one JSON object, unrounded, instead of text.
    #[arg(long, global = true)]
    json: bool,

    #[command(flatten)]
    app: app::Args,

    #[command(subcommand)]
    command: Option<Command>,
}

fn main() -> ExitCode {
    let typed = Cli::parse();
    let output = if typed.json { Output::Json } else { Output::Text };
    let outcome = match typed.command {
        Some(_) if typed.app.is_given() => Cli::command()
            .error(
                ErrorKind::ArgumentConflict,
                "--port, --no-browser and a --data before the command are for the app; \
                 write --data after the command",
            )
            .exit(),
        Some(command) => command.run(output),
        None => app::run(&typed.app),
    };
    failure::exit_code(outcome, output)
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::Cli;

    #[test]
    fn no_two_options_of_a_command_clash() {
        Cli::command().debug_assert();
    }
}
