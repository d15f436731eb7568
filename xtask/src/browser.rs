//! What the tests in a real browser need, and pictures of every page.

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};

use crate::process::{cargo, program, root, run as start, works};

/// The accessibility checker; its licence is MPL-2.0, and no part of it is built in.
const AXE: &str = "axe-core@4.14.1";

/// Where the checker's script is, after fetching it if it is not there; an error says what this
/// machine lacks.
pub fn ready() -> Result<PathBuf> {
    for tool in ["chromium", "chromedriver"] {
        let mut probe = program(tool);
        probe.arg("--version");
        ensure!(works(probe), "{tool} is not installed");
    }
    let folder = root().join("target/browser-tools").join(AXE);
    let script = folder.join("node_modules/axe-core/axe.min.js");
    if !script.exists() {
        std::fs::create_dir_all(&folder).context("the folder for axe-core cannot be made")?;
        let mut npm = program("npm");
        npm.args(["install", "--silent", "--no-save", "--ignore-scripts", "--prefix"]);
        start(npm.arg(&folder).arg(AXE)).context("axe-core cannot be fetched")?;
    }
    Ok(script.canonicalize()?)
}

/// Keeps a picture of every page in target/pictures, at both sizes and in both schemes.
pub fn pictures(_: &[String]) -> Result<()> {
    let axe = ready()?;
    let folder = root().join("target/pictures");
    start(
        cargo()
            .args(["test", "--package", "linkwright", "--features", "browser", "--test", "browser"])
            .args(["--", "every_page"])
            .env("LINKWRIGHT_AXE", axe)
            .env("LINKWRIGHT_PICTURES", &folder),
    )?;
    println!("pictures are in target/pictures");
    Ok(())
}
