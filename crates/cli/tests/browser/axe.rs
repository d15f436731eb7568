//! Accessibility of a page as it stands in the browser, checked by axe-core (MPL-2.0, tests only).

use std::path::PathBuf;

use serde_json::Value;
use thirtyfour::prelude::*;

/// Rules of WCAG 2.0 to 2.2, levels A and AA.
const RUN: &str = "
    const done = arguments[arguments.length - 1];
    axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })
       .then(found => done(found.violations.map(
           violation => violation.id + ': ' + violation.help + ' at '
               + violation.nodes.map(node => node.target.join(' ') + ' [' + (node.failureSummary || '') + ']').join('; '))),
             error => done(['axe failed: ' + error]));
";

/// Where `cargo xtask test` puts axe-core.
fn script() -> String {
    let kept = std::env::var_os("LINKWRIGHT_AXE").map(PathBuf::from);
    let path = kept.expect("LINKWRIGHT_AXE names axe.min.js; `cargo xtask test` sets it");
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// What axe-core finds wrong with the page, one sentence each; nothing if all is well.
pub async fn violations(browser: &WebDriver) -> Vec<String> {
    let there = browser.execute("return typeof axe !== 'undefined'", Vec::new()).await;
    if there.expect("asked").json() != &Value::Bool(true) {
        browser.execute(script(), Vec::new()).await.expect("axe-core loads");
    }
    let found = browser.execute_async(RUN, Vec::new()).await.expect("axe-core runs");
    let found: Vec<Value> = found.json().as_array().expect("a list").clone();
    found.iter().map(|one| one.as_str().unwrap_or_default().to_owned()).collect()
}
