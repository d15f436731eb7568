//! Benches.

use anyhow::Result;

use crate::process::{cargo, run as start};

/// Runs every bench of `calc` and `store`, or those whose name holds the given word.
pub fn run(arguments: &[String]) -> Result<()> {
    start(
        cargo()
            .args(["bench", "--package", "linkwright-calc", "--package", "linkwright-store"])
            .args(["--benches", "--"])
            .args(arguments),
    )
}
