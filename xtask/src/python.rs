//! The Python that writes reference tables: our own venv with pinned libraries.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};

use crate::process::{program, root, run, works};

/// A command of the venv's Python, after making the venv if it is not there or its pins changed.
pub fn python() -> Result<Command> {
    ready()?;
    let mut command = program(interpreter());
    command.env("PYTHONDONTWRITEBYTECODE", "1");
    Ok(command)
}

/// Makes the venv if it is not there or its pins changed; an error says what this machine lacks.
pub fn ready() -> Result<()> {
    let pins = root().join("xtask/references/requirements.txt");
    let stamp = folder().join("requirements.txt");
    let wanted = std::fs::read_to_string(&pins).context("the pinned libraries cannot be read")?;
    if std::fs::read_to_string(&stamp).ok().as_ref() != Some(&wanted) {
        make(&pins)?;
        std::fs::write(&stamp, wanted)?;
    }
    Ok(())
}

fn make(pins: &Path) -> Result<()> {
    let probe = "import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))";
    let mut present = program("python3");
    present.args(["-c", probe]);
    ensure!(works(present), "there is no python3 of 3.11 or later with venv");
    println!("making xtask/.venv with the pinned libraries");
    run(program("python3").args(["-m", "venv", "--clear"]).arg(folder()))?;
    run(program(interpreter())
        .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-input"])
        .arg("--requirement")
        .arg(pins))
    .context("the pinned libraries could not be installed; is there a network?")
}

fn folder() -> PathBuf {
    root().join("xtask/.venv")
}

fn interpreter() -> PathBuf {
    let windows = folder().join("Scripts/python.exe");
    if windows.exists() { windows } else { folder().join("bin/python") }
}
