//! Everything a change must pass, counted.

use std::fmt;
use std::path::Path;

use anyhow::{Result, bail};

use crate::process::{cargo, in_ci, watched, works};
use crate::{
    browser, bundle, chain_tables, docs, fmt as format, lint, pages, python, references, surface,
    tidy,
};

/// Runs every check to its end, even after one failed, and closes with one plain line.
pub fn run(_: &[String]) -> Result<()> {
    let mut count = Count::default();
    count.check("format", format::run(&["--check".to_owned()]));
    count.check("tidy", tidy::run(&[]));
    count.check("lint", lint::run(&[]));
    let axe = match browser::ready() {
        Ok(axe) => Some(axe),
        Err(error) if in_ci() => {
            count.check("browser", Err(error));
            None
        }
        Err(error) => {
            count.skip("tests in a browser", &format!("{error:#}"));
            None
        }
    };
    count.tests("tests", workspace_tests(axe.as_deref())?);
    count.tests("documentation examples", doc_tests()?);
    count.check("docs", docs::run(&[]));
    count.check("chain tables", chain_tables::run(&["--check".to_owned()]));
    let check = ["--check".to_owned()];
    count.where_ready("turning picture", bundle::ready(), || bundle::run(&check));
    count.where_ready("printed pages", pages::ready(), || pages::run(&[]));
    count.where_ready("HTTP surface", surface::ready().map(drop), || surface::run(&[]));
    count.where_ready("references", python::ready(), || references::run(&check));
    println!("{count}");
    if count.failed > 0 {
        bail!("something failed");
    }
    Ok(())
}

/// What was run, as the closing line says it.
#[derive(Debug, Default, PartialEq)]
struct Count {
    passed: u32,
    failed: u32,
    skipped: u32,
}

impl Count {
    fn check(&mut self, name: &str, outcome: Result<()>) {
        match outcome {
            Ok(()) => {
                println!("ok: {name}");
                self.passed += 1;
            }
            Err(error) => {
                println!("FAILED: {name}: {error:#}");
                self.failed += 1;
            }
        }
    }

    fn skip(&mut self, name: &str, why: &str) {
        println!("skipped: {name}: {why}");
        self.skipped += 1;
    }

    /// A check that needs more than cargo: where this machine lacks it, the check is skipped, but fails in
    /// the automatic run.
    fn where_ready(&mut self, name: &str, ready: Result<()>, check: impl FnOnce() -> Result<()>) {
        match ready {
            Ok(()) => self.check(name, check()),
            Err(error) if in_ci() => self.check(name, Err(error)),
            Err(error) => self.skip(name, &format!("{error:#}")),
        }
    }

    /// Adds the tests that a runner counted; a runner that failed without a failed test counts as one.
    fn tests(&mut self, name: &str, (succeeded, lines): (bool, Vec<String>)) {
        let mut ran = Count::default();
        for line in &lines {
            let of = counted(line);
            ran.passed += of.passed;
            ran.failed += of.failed;
            ran.skipped += of.skipped;
        }
        if !succeeded && ran.failed == 0 || ran.passed + ran.failed == 0 {
            println!("FAILED: {name}: the runner did not get as far as its tests");
            ran.failed += 1;
        }
        self.passed += ran.passed;
        self.failed += ran.failed;
        self.skipped += ran.skipped;
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} passed, {} failed", self.passed, self.failed)?;
        if self.skipped > 0 {
            write!(f, ", {} skipped", self.skipped)?;
        }
        Ok(())
    }
}

/// All tests; those in a browser too where there is an accessibility checker for them.
fn workspace_tests(axe: Option<&Path>) -> Result<(bool, Vec<String>)> {
    let mut probe = cargo();
    probe.args(["nextest", "--version"]);
    let mut tests = cargo();
    if works(probe) {
        tests.args(["nextest", "run", "--workspace", "--no-fail-fast", "--color", "never"]);
    } else {
        println!("cargo-nextest is not installed; cargo test does the same, one binary at a time");
        tests.args(["test", "--workspace", "--no-fail-fast", "--lib", "--bins", "--tests"]);
    }
    if let Some(axe) = axe {
        tests.args(["--features", "linkwright/browser"]).env("LINKWRIGHT_AXE", axe);
    }
    watched(&mut tests)
}

fn doc_tests() -> Result<(bool, Vec<String>)> {
    watched(cargo().args(["test", "--workspace", "--doc", "--no-fail-fast"]))
}

/// The numbers in a closing line of nextest (`Summary [...] 3 tests run: 2 passed, 1 failed, 0
/// skipped`) or of cargo test (`test result: ok. 3 passed; 0 failed; 0 ignored; ...`).
fn counted(line: &str) -> Count {
    // A failed test's own output stands indented among the lines of the other runner.
    let closing = line.strip_prefix("test result:").or_else(|| {
        let summary = line.trim_start().strip_prefix("Summary [")?;
        summary.split_once("run:").map(|(_, end)| end)
    });
    let mut count = Count::default();
    let words: Vec<&str> = closing.unwrap_or_default().split_whitespace().collect();
    for pair in words.windows(2) {
        let Ok(number) = pair[0].parse::<u32>() else {
            continue;
        };
        match pair[1].trim_end_matches([',', ';']) {
            "passed" => count.passed += number,
            "failed" | "timed" => count.failed += number,
            "skipped" | "ignored" => count.skipped += number,
            _ => {}
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::{Count, counted};

    #[test]
    fn the_closing_line_of_nextest_is_counted() {
        let line = "     Summary [   0.012s] 7 tests run: 4 passed (1 slow), 2 failed, 1 timed out, 3 skipped";
        assert_eq!(counted(line), Count { passed: 4, failed: 3, skipped: 3 });
    }

    #[test]
    fn the_closing_line_of_cargo_test_is_counted() {
        let line = "test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out";
        assert_eq!(counted(line), Count { passed: 12, failed: 0, skipped: 1 });
    }

    #[test]
    fn any_other_line_counts_nothing() {
        assert_eq!(counted("we passed 3 passed cars"), Count::default());
        let told_again = "    test result: FAILED. 0 passed; 1 failed; 0 ignored";
        assert_eq!(counted(told_again), Count::default());
    }

    #[test]
    fn a_runner_that_never_ran_a_test_is_a_failure() {
        let mut count = Count::default();
        count.tests("tests", (true, vec![]));
        assert_eq!(count.to_string(), "0 passed, 1 failed");
    }
}
