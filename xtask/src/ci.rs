//! What the automatic run checks, in one word.

use anyhow::Result;

use crate::{audit, test};

/// `audit` first, since it is quick, then `test`.
pub fn run(_: &[String]) -> Result<()> {
    audit::run(&[])?;
    test::run(&[])
}
