//! `completions`: lets the shell finish half-typed commands.

use std::io::{self, Write};

use clap::CommandFactory;
use clap_complete::Shell;

use crate::failure::Failure;

/// Print the completion script for a shell.
///
/// Example: linkwright completions bash > ~/.local/share/bash-completion/completions/linkwright
#[derive(Debug, clap::Args)]
pub struct Args {
    /// The shell that will read the script.
    shell: Shell,
}

/// Prints the script.
pub fn run(args: &Args) -> Result<(), Failure> {
    let mut script = Vec::new();
    let mut program = crate::Cli::command();
    clap_complete::generate(args.shell, &mut program, "linkwright", &mut script);
    io::stdout().write_all(&script)?;
    Ok(())
}
