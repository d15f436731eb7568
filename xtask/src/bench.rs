//! Benches.

use anyhow::Result;

use crate::process::{cargo, run as start};

/// Runs every bench of `calc`, `linkage` and `store`, or those whose name holds the given word.
pub fn run(arguments: &[String]) -> Result<()> {
    start(
        cargo()
            .arg("bench")
            .args(["calc", "linkage", "store"].map(|one| format!("--package=linkwright-{one}")))
            .args(["--benches", "--"])
            .args(arguments),
    )
}
