//! Chores of the house, one word each; `cargo xtask help` lists them.

mod app;
mod audit;
mod bench;
mod browser;
mod bundle;
mod calibrate;
mod chain_tables;
mod ci;
mod docs;
mod fault_table;
mod fmt;
mod latency;
mod lint;
mod pages;
mod process;
mod python;
mod references;
mod surface;
mod tables;
mod test;
mod tidy;
mod versus;

use std::process::ExitCode;

/// One chore: its word, what it does, and the function that does it.
struct Chore(&'static str, &'static str, fn(&[String]) -> anyhow::Result<()>);

const CHORES: &[Chore] = &[
    Chore("test", "all that a change must pass", test::run),
    Chore("fmt", "format; `--check` only looks", fmt::run),
    Chore("lint", "clippy, no warning let through", lint::run),
    Chore("docs", "rustdoc, no warning let through", docs::run),
    Chore("tidy", "rules no compiler knows", tidy::run),
    Chore(
        "tables",
        "metals and faults in `calc`, from data/*.csv; `--check` only looks",
        tables::run,
    ),
    Chore("chain-tables", "linked patterns, solved anew; `--check` a sample", chain_tables::run),
    Chore("bundle", "the turning picture of the Chain page; `--check` compares", bundle::run),
    Chore("references", "tables that libraries vouch for; `--check` compares", references::run),
    Chore("versus", "our winding against scipy; `chain`, `trials` against others", versus::run),
    Chore("calibrate", "what the blade chart believes against invented workshops", calibrate::run),
    Chore("bench", "time `calc`, `linkage` and `store`; a word picks", bench::run),
    Chore("latency", "start, memory and page times of the app with 50 clients", latency::run),
    Chore("pages", "run sheets printed by a browser, pages counted", pages::run),
    Chore("pictures", "every page of the app, at two sizes, light and dark", browser::pictures),
    Chore("surface", "generated requests from the description of the HTTP interface", surface::run),
    Chore("audit", "licences, spelling, unused crates", audit::run),
    Chore("ci", "`audit`, then `test`", ci::run),
];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let word = arguments.first().map_or("help", String::as_str);
    let Some(Chore(_, _, chore)) = CHORES.iter().find(|Chore(name, ..)| *name == word) else {
        return help(word);
    };
    match chore(&arguments[1..]) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("xtask {word}: {error:#}");
            ExitCode::FAILURE
        }
    }
}

/// Lists the chores; a failure if what was typed is not one of them.
fn help(word: &str) -> ExitCode {
    println!("Usage: cargo xtask CHORE\n");
    for Chore(name, purpose, _) in CHORES {
        println!("  {name:<12} {purpose}");
    }
    if matches!(word, "help" | "--help" | "-h") {
        return ExitCode::SUCCESS;
    }
    eprintln!("\nno chore is called `{word}`");
    ExitCode::FAILURE
}
