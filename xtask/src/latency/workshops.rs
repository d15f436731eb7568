//! The two data files: the sample workshop, and the same with far more than any workshop has.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use super::client::Client;
use crate::app::App;
use crate::process::{cargo, program, root, run as start, target};

/// What the large workshop has beside the sample.
const TRIALS: &str = "100000";
const BATCHES: &str = "20000";

/// Builds the program as it is shipped and what enlarges a workshop; says where they are.
pub fn built() -> Result<(PathBuf, PathBuf)> {
    start(
        cargo()
            .args(["build", "--release", "--package", "linkwright", "--package", "linkwright-web"])
            .args(["--bin", "linkwright", "--bin", "linkwright-large-workshop"]),
    )?;
    let at = |name: &str| target().join("release").join(name).canonicalize();
    Ok((at("linkwright")?, at("linkwright-large-workshop")?))
}

/// Makes both files anew and says where they are, with a name for each.
pub fn made(app: &Path, enlarge: &Path) -> Result<[(&'static str, PathBuf); 2]> {
    let folder = root().join("target/latency");
    // Files of an earlier run would hold its records.
    let _ = fs::remove_dir_all(&folder);
    let (sample, large) = (folder.join("sample/bench"), folder.join("large/bench"));
    for file in [&sample, &large] {
        fs::create_dir_all(file.parent().context("no folder")?)?;
    }
    fill_sample(app, &sample)?;
    fs::copy(&sample, &large)?;
    start(program(enlarge).arg(&large).args([TRIALS, BATCHES]))?;
    Ok([("sample workshop", sample), ("100,000 trials, 20,000 batches", large)])
}

/// Fills a file with the sample as a jeweller would: by the button of the welcome page.
fn fill_sample(app: &Path, data: &Path) -> Result<()> {
    let app = App::start(app, data)?;
    let mut client = Client::plain(app.host())?;
    let page = client.text("/welcome")?;
    let token = value_of(&page, "token").context("the welcome page has no form")?;
    let answer = client.post("/welcome/sample", &format!("token={token}"))?;
    ensure!(answer.status == 303, "the sample is answered with {}", answer.status);
    app.stop()
}

/// The value of the first hidden field of that name.
fn value_of<'a>(page: &'a str, name: &str) -> Option<&'a str> {
    let (_, after) = page.split_once(&format!("name=\"{name}\" value=\""))?;
    after.split('"').next()
}
