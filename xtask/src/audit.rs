//! What we lean on: licences and sources of every crate, crates nobody uses, spelling.

use anyhow::{Result, bail};

use crate::process::{cargo, in_ci, program, run as start, works};

/// Each check with the tool it needs; a tool that is not installed is named, and skipped outside CI.
pub fn run(_: &[String]) -> Result<()> {
    let mut deny = cargo();
    deny.args(["deny", "--offline", "--all-features", "check", "licenses", "bans", "sources"]);
    let mut machete = cargo();
    machete.arg("machete");
    let mut typos = program("typos");
    typos.args(["--format", "brief"]);

    let mut probe_deny = cargo();
    probe_deny.args(["deny", "--version"]);
    let mut probe_machete = cargo();
    probe_machete.args(["machete", "--version"]);
    let mut probe_typos = program("typos");
    probe_typos.arg("--version");

    for (name, probe, mut check) in [
        ("cargo-deny", probe_deny, deny),
        ("cargo-machete", probe_machete, machete),
        ("typos", probe_typos, typos),
    ] {
        if works(probe) {
            start(&mut check)?;
        } else if in_ci() {
            bail!("{name} is not installed, and nothing may be skipped here");
        } else {
            println!("skipped: {name} is not installed");
        }
    }
    Ok(())
}
