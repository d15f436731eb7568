//! The Python that writes reference tables: our own venv with pinned libraries.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::process::{output, program, root, run, works};

/// A command of the venv's Python, after making the venv if it is not there or its pins changed.
pub fn python() -> Result<Command> {
    let pins = root().join("xtask/references/requirements.txt");
    let stamp = folder().join("requirements.txt");
    let wanted =
        std::fs::read_to_string(&pins).context("the pinned requirements cannot be read")?;
    if std::fs::read_to_string(&stamp).ok().as_ref() != Some(&wanted) {
        make(&pins)?;
        std::fs::write(&stamp, wanted)?;
    }
    Ok(program(interpreter()))
}

/// Whether a Python that can make a venv is on this machine.
pub fn is_present() -> bool {
    let mut probe = program("python3");
    probe.args(["-c", "import venv, ensurepip"]);
    works(probe)
}

fn make(pins: &PathBuf) -> Result<()> {
    if !is_present() {
        bail!("no python3 with venv on this machine");
    }
    let version =
        output(program("python3").args(["-c", "import sys; print(sys.version_info >= (3, 11))"]))?;
    if version.trim() != "True" {
        bail!("the pinned libraries want python3 3.11 or newer");
    }
    println!("making xtask/.venv with the pinned libraries");
    run(program("python3")
        .args(["-m", "venv", "--clear"])
        .arg(folder()))?;
    run(program(interpreter())
        .args([
            "-m",
            "pip",
            "install",
            "--quiet",
            "--disable-pip-version-check",
            "--no-input",
            "--requirement",
        ])
        .arg(pins))
}

fn folder() -> PathBuf {
    root().join("xtask/.venv")
}

fn interpreter() -> PathBuf {
    let unix = folder().join("bin/python");
    let windows = folder().join("Scripts/python.exe");
    if windows.exists() { windows } else { unix }
}
