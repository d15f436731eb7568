//! A program the chore `latency` starts: it adds invented trials and batches to a data file.

use std::path::Path;
use std::process::ExitCode;

use linkwright_store::Store;
use linkwright_web::Clock;
use linkwright_web::sample::{Large, enlarge};

fn main() -> ExitCode {
    let given: Vec<String> = std::env::args().skip(1).collect();
    let [path, trials, batches] = given.as_slice() else {
        eprintln!("give a data file, a count of trials and a count of batches");
        return ExitCode::from(2);
    };
    match add(path, trials, batches) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn add(path: &str, trials: &str, batches: &str) -> Result<(), Box<dyn std::error::Error>> {
    let clock = Clock::of_this_computer();
    let large = Large { trials: trials.parse()?, batches: batches.parse()?, today: clock.today() };
    let store = Store::open(Path::new(path))?;
    store.act(clock.now(), "Added a large workshop", |act| enlarge(act, large))?;
    Ok(())
}
