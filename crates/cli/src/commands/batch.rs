//! `batch`: many questions in one go, for scripts, spreadsheets and tests.

use std::fs::File;
use std::io::{self, BufReader};
use std::path::PathBuf;

use crate::failure::Failure;
use linkwright_answers::batch::answer_lines;
use linkwright_answers::chain::{KnownPatterns, Solver};

/// Answer many questions: one JSON object a line in, one a line out.
///
/// Each line is an object with "ask" and its inputs; an "id" comes back unchanged. Each line gets
/// exactly one line back, in the same order and at once, so a script can ask and wait. A line that
/// cannot be answered says why and never stops the others. docs/batch.md lists every ask.
///
/// Example: echo '{"ask": "gauge", "system": "awg", "number": 18}' | linkwright batch
#[derive(Debug, clap::Args)]
pub struct Args {
    /// File of questions; standard input if absent.
    file: Option<PathBuf>,
}

/// Steps of the solver after which a question about a pattern is given up: a batch comes to its end. Patterns
/// in rings of any proportion take a few thousand.
const STEPS_MOST: u32 = 20_000;

/// Answers every line of the file or of standard input.
pub fn run(args: Args) -> Result<(), Failure> {
    let output = io::stdout().lock();
    let patterns = KnownPatterns::built_in().solved_by(Solver::giving_up_after(STEPS_MOST));
    match args.file {
        None => answer_lines(io::stdin().lock(), output, &patterns)?,
        Some(path) => {
            let file = File::open(&path).map_err(Failure::at(path))?;
            answer_lines(BufReader::new(file), output, &patterns)?;
        }
    }
    Ok(())
}
