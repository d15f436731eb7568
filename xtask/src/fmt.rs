//! Formatting.

use anyhow::Result;

use crate::process::{cargo, run as start};

/// Formats every crate; with `--check` says what would change and fails.
pub fn run(arguments: &[String]) -> Result<()> {
    start(cargo().args(["fmt", "--all"]).args(arguments))
}
