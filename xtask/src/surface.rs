//! The app's HTTP surface, tried with generated requests from its own description.

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};

use crate::app::App;
use crate::process::{cargo, program, root, run as start, target, works};

/// The generator of requests (MIT), as its package index names it.
const GENERATOR: &str = "schemathesis==4.32.5";

/// Requests for each operation; enough to go round all inputs, few enough for every change.
const EXAMPLES: &str = "25";

/// Where the generator is, after making its venv if it is not there; an error says what this
/// machine lacks.
pub fn ready() -> Result<PathBuf> {
    let folder = root().join("target/surface-tools").join(GENERATOR);
    let tool = folder.join("bin/st");
    if !tool.exists() {
        let mut probe = program("python3");
        probe.args(["-c", "import venv, ensurepip"]);
        ensure!(works(probe), "there is no python3 with venv");
        start(program("python3").args(["-m", "venv", "--clear"]).arg(&folder))?;
        start(
            program(folder.join("bin/python"))
                .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check"])
                .args(["--no-input", GENERATOR]),
        )
        .context("the generator of requests cannot be fetched")?;
    }
    Ok(tool)
}

/// Starts the app on the sample workshop and sends it what the description allows and what it does
/// not: no answer may be a failure of the program.
pub fn run(_: &[String]) -> Result<()> {
    let tool = ready()?;
    let folder = root().join("target/surface");
    // A file of an earlier run would hold its records.
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder)?;
    let app = App::start(&built()?, &folder.join("bench.linkwright"))?;
    let description = format!("{}/api/openapi.json", app.address);
    start(
        program(tool)
            .args(["run", &description, "--checks", "not_a_server_error"])
            .args(["--max-examples", EXAMPLES, "--seed", "14", "--workers", "2"])
            .args(["--no-color"]),
    )
    .context("a request made the app fail")
}

/// The program as the tests have it, so that nothing is built twice with other features.
pub fn built() -> Result<PathBuf> {
    start(cargo().args([
        "test",
        "--workspace",
        "--features",
        "linkwright/browser",
        "--no-run",
        "--quiet",
    ]))?;
    Ok(target().join("debug/linkwright").canonicalize()?)
}
