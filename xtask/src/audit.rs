//! What we lean on: licences and sources of every crate, crates nobody uses, spelling.

use std::process::Command;

use anyhow::{Result, bail};

use crate::process::{cargo, in_ci, program, run as start, works};

/// Each check with the tool it needs; a tool that is not installed is named, and skipped outside CI.
pub fn run(_: &[String]) -> Result<()> {
    // `deny` reads the manifests of every crate, those of other systems too, and fetches none.
    start(cargo().args(["fetch", "--locked"]))?;
    let deny = ["deny", "--offline", "check", "licenses", "bans", "sources"];
    check("cargo-deny", with(cargo(), &["deny", "--help"]), with(cargo(), &deny))?;
    // By its own name: as `cargo machete` it takes a cargo that runs it from a build for another.
    let machete = || program("cargo-machete");
    check("cargo-machete", with(machete(), &["--help"]), machete())?;
    let typos = with(program("typos"), &["--format", "brief"]);
    check("typos", with(program("typos"), &["--help"]), typos)
}

fn check(tool: &str, probe: Command, mut checking: Command) -> Result<()> {
    if works(probe) {
        return start(&mut checking);
    }
    if in_ci() {
        bail!("{tool} is not installed, and nothing may be skipped here");
    }
    println!("skipped: {tool} is not installed");
    Ok(())
}

fn with(mut command: Command, arguments: &[&str]) -> Command {
    command.args(arguments);
    command
}
