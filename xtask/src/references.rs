//! Tables that outside libraries vouch for, written by `xtask/references/*.py`.

use anyhow::Result;

use crate::process::run as start;
use crate::python::python;

/// Writes `crates/calc/tests/references/data/*.csv`; with `--check` writes nothing and fails on a difference.
pub fn run(arguments: &[String]) -> Result<()> {
    start(python()?.arg("xtask/references/write.py").args(arguments))
}
