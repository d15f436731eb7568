//! Ours against named libraries, on the same inputs in one run.

mod chain;

mod columns;

mod nuts_table;

mod peers;

mod trials;

mod winding;

use std::time::{Duration, Instant};

use anyhow::{Result, bail};

use crate::process::{cargo, run as start};

/// `chain` for taut lengths, `trials` for the chart that learns, `nuts-table` to write its reference; the winding if nothing
/// is said. Debug timings mean nothing, so a debug build starts itself again as a release build.
pub fn run(arguments: &[String]) -> Result<()> {
    if cfg!(debug_assertions) {
        let mut again = cargo();
        again.args(["run", "--release", "--package", "xtask", "--", "versus"]);
        return start(again.args(arguments));
    }
    match arguments.split_first() {
        None => winding::run(),
        Some((word, _)) if word == "chain" => chain::run(),
        Some((word, rest)) if word == "trials" => trials::run(rest),
        Some((word, _)) if word == "nuts-table" => nuts_table::run(),
        Some((word, _)) => {
            bail!(
                "`{word}` is not known; there are `chain`, `trials`, `nuts-table`, or nothing for \
                 winding"
            )
        }
    }
}

/// How long a piece of work took, and what came of it.
#[expect(clippy::disallowed_methods, reason = "these chores are timings")]
pub fn stopwatch<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let began = Instant::now();
    let answer = work();
    (began.elapsed(), answer)
}

/// How long this thread was on a processor for a piece of work, where the system tells; else the time
/// that passed. On a machine with other work it is the fairer number.
fn processor_time<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let before = on_processor();
    let (passed, answer) = stopwatch(work);
    let on = before.zip(on_processor()).map(|(before, after)| after.saturating_sub(before));
    (on.unwrap_or(passed), answer)
}

/// Time this thread was on a processor so far: Linux tells it in nanoseconds.
fn on_processor() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split_whitespace().next()?.parse().ok().map(Duration::from_nanos)
}
