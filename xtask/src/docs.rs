//! Documentation.

use anyhow::Result;

use crate::process::{cargo, run as start};

/// Builds the documentation of every crate; a broken link is a failure.
pub fn run(_: &[String]) -> Result<()> {
    start(
        cargo()
            .args(["doc", "--workspace", "--no-deps", "--document-private-items"])
            .env("RUSTDOCFLAGS", "-D warnings"),
    )
}
