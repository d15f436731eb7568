//! The program as a whole, run the way people and scripts run it.

mod trials;

#[cfg(unix)]
mod app;

mod chain;

mod chain_for;

mod chain_orders;

mod chart;

mod patterns;

mod pool;

mod run_sheet_trials;

mod publish;

#[allow(dead_code, reason = "the tests in a browser share this file and use the rest")]
#[path = "../browser/program.rs"]
mod program;

mod linkwright;

mod paper;

mod commands;

mod batch_examples;

mod batch_refusals;

mod batch_lines;

mod data_file;

mod import_kill;
