//! Lints.

use anyhow::Result;

use crate::process::{cargo, run as start};

/// Clippy over every target of every crate; a warning is a failure.
pub fn run(_: &[String]) -> Result<()> {
    start(cargo().args([
        "clippy",
        "--workspace",
        "--all-targets",
        "--features",
        "linkwright/browser",
        "--",
        "-D",
        "warnings",
    ]))
}
