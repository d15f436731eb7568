//! The Pythons of our chores: our own venvs with pinned libraries.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};

use crate::process::{program, root, run, works};

/// One venv: its folder and its pins, from the root.
struct Venv {
    folder: &'static str,
    pins: &'static str,
}

/// What writes reference tables.
const TABLES: Venv = Venv { folder: "xtask/.venv", pins: "xtask/references/requirements.txt" };
/// What our learning is compared with: large, and no run of the checks needs it.
const PEERS: Venv = Venv { folder: "xtask/.venv-peers", pins: "xtask/peers/requirements.txt" };

/// What our chains are compared with.
const CHAIN_PEERS: Venv =
    Venv { folder: "xtask/.venv-chain", pins: "xtask/peers/chain_requirements.txt" };

/// A command of the Python that writes reference tables, made first if it must be.
pub fn python() -> Result<Command> {
    TABLES.command()
}

/// A command of the Python that has the libraries our learning is compared with.
pub fn peers() -> Result<Command> {
    PEERS.command()
}

/// A command of the Python that has the solvers our chains are compared with.
pub fn chain_peers() -> Result<Command> {
    CHAIN_PEERS.command()
}

/// Makes the venv of the tables if it is not there or its pins changed; an error says what this
/// machine lacks.
pub fn ready() -> Result<()> {
    TABLES.ready()
}

impl Venv {
    fn command(&self) -> Result<Command> {
        self.ready()?;
        let mut command = program(self.interpreter());
        command.env("PYTHONDONTWRITEBYTECODE", "1");
        Ok(command)
    }

    fn ready(&self) -> Result<()> {
        let pins = root().join(self.pins);
        let stamp = self.path().join("requirements.txt");
        let wanted =
            std::fs::read_to_string(&pins).context("the pinned libraries cannot be read")?;
        if std::fs::read_to_string(&stamp).ok().as_ref() != Some(&wanted) {
            self.make(&pins)?;
            std::fs::write(&stamp, wanted)?;
        }
        Ok(())
    }

    fn make(&self, pins: &Path) -> Result<()> {
        let probe = "import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))";
        let mut present = program("python3");
        present.args(["-c", probe]);
        ensure!(works(present), "there is no python3 of 3.11 or later with venv");
        println!("making {} with the pinned libraries", self.folder);
        run(program("python3").args(["-m", "venv", "--clear"]).arg(self.path()))?;
        run(program(self.interpreter())
            .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-input"])
            .arg("--requirement")
            .arg(pins))
        .context("the pinned libraries could not be installed; is there a network?")
    }

    fn path(&self) -> PathBuf {
        root().join(self.folder)
    }

    fn interpreter(&self) -> PathBuf {
        let windows = self.path().join("Scripts/python.exe");
        if windows.exists() { windows } else { self.path().join("bin/python") }
    }
}
