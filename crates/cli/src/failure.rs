//! Why a command stopped, and the exit code that says so.

use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use linkwright_calc::plan::LineRefused;
use linkwright_calc::quantity::Question;
use linkwright_sheets::SheetError;
use linkwright_store::export::ExportError;
use linkwright_store::{OpenError, RestoreError, StoreError};
use serde_json::json;
use thiserror::Error;

use crate::commands::Output;
use crate::printout::{both_lengths, rows, significant, wrapped};
use linkwright_answers::files::load::LoadError;
use linkwright_answers::refusal::Refusal;

/// The exit codes as every `--help` prints them.
pub const EXIT_CODES: &str = "\
Exit codes:
  0  answered (also when the reader of a pipe went away)
  1  what was typed cannot be used: the message says what is wrong, or asks back
  2  the command line itself is wrong: no such command or option
  3  a file or the terminal could not be read or written";

const REFUSED: u8 = 1;
const TROUBLE_WITH_A_FILE: u8 = 3;

/// Why a command stopped before its answer.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum Failure {
    /// What was typed cannot be used.
    #[error("{0}")]
    Refused(#[from] Refusal),
    /// An order, workshop or metals file cannot be used.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// A line of an order cannot be planned.
    #[error(transparent)]
    Line(#[from] LineRefused),
    /// The data file cannot be used.
    #[error(transparent)]
    DataFile(#[from] OpenError),
    /// A record could not be read or saved.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// No backup was put in place.
    #[error(transparent)]
    Restore(#[from] RestoreError),
    /// A check found something wrong.
    #[error(
        "{}: {} found; `linkwright restore` lists the backups and puts one in its place",
        path.display(),
        if *troubles == 1 { "one thing wrong was".to_owned() } else { format!("{troubles} things wrong were") }
    )]
    NotSound {
        /// The data file.
        path: PathBuf,
        /// How many things are wrong.
        troubles: usize,
    },
    /// A sheet cannot be printed.
    #[error(transparent)]
    Sheet(#[from] SheetError),
    /// The system does not say where a program keeps its data.
    #[error("this system names no folder for data; say where the data file is with --data PATH")]
    NoDataFolder,
    /// The app cannot be served at this port.
    #[error("port {port} of this computer cannot be used ({source}); name another with --port")]
    Port {
        /// The port.
        port: u16,
        /// What the system said.
        source: io::Error,
    },
    /// A named file could not be read or written.
    #[error("{} could not be read or written: {source}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// Standard input or output failed.
    #[error("standard input or output failed: {0}")]
    Stream(#[from] io::Error),
}

impl Failure {
    /// Joins the path to what the system said about it.
    pub fn at(path: impl Into<PathBuf>) -> impl FnOnce(io::Error) -> Failure {
        let path = path.into();
        move |source| Failure::File { path, source }
    }
}

impl From<ExportError> for Failure {
    fn from(error: ExportError) -> Failure {
        match error {
            ExportError::DataFile(error) => Failure::DataFile(error),
            ExportError::Store(error) => Failure::Store(error),
            ExportError::Write(error) => Failure::Stream(error),
            other => Failure::Stream(io::Error::other(other)),
        }
    }
}

/// Says what went wrong, if anything, and gives the exit code for it.
pub fn exit_code(outcome: Result<(), Failure>, output: Output) -> ExitCode {
    let Err(failure) = outcome else {
        return ExitCode::SUCCESS;
    };
    match &failure {
        Failure::Stream(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Failure::Refused(refusal) => {
            say_refusal(refusal, output);
            ExitCode::from(REFUSED)
        }
        Failure::Load(error) if !error.is_trouble_with_a_file() => {
            say_refusal(&error.to_refusal(), output);
            ExitCode::from(REFUSED)
        }
        Failure::Line(refused) => {
            let given = refused.line.as_str();
            say_refusal(&Refusal::bench("line", given, refused), output);
            ExitCode::from(REFUSED)
        }
        Failure::File { .. }
        | Failure::Load(_)
        | Failure::Stream(_)
        | Failure::DataFile(_)
        | Failure::Store(_)
        | Failure::Sheet(_)
        | Failure::Restore(_)
        | Failure::NotSound { .. }
        | Failure::Port { .. }
        | Failure::NoDataFolder => {
            say(&wrapped(&format!("linkwright: {failure}"), "  "));
            ExitCode::from(TROUBLE_WITH_A_FILE)
        }
    }
}

fn say_refusal(refusal: &Refusal, output: Output) {
    match output {
        Output::Text => match refusal.question() {
            Some(question) => say(&asked_back(refusal.field(), question)),
            None => say(&wrapped(&with_field(refusal), "  ")),
        },
        Output::Json => {
            let line = json!({ "error": refusal.to_json() }).to_string();
            // A reader that went away does not change why the command stopped.
            drop(writeln!(io::stdout(), "{line}"));
        }
    }
}

/// The sentence behind the option or key it is about, unless it names that itself.
fn with_field(refusal: &Refusal) -> String {
    let (field, sentence) = (refusal.field(), refusal.to_string());
    if sentence.contains(field) {
        format!("linkwright: {sentence}")
    } else {
        format!("linkwright: {field}: {sentence}")
    }
}

/// The question with its readings below one another.
fn asked_back(field: &str, question: &Question) -> String {
    let head =
        format!("linkwright: {field}: \"{}\" does not say {}. Type:", question.text, question.ask);
    let readings: Vec<(String, String)> = question
        .readings
        .iter()
        .map(|reading| {
            let value = match reading.mm() {
                Some(mm) => both_lengths(mm),
                None => format!("{} {}", significant(reading.value, 5), reading.unit),
            };
            let said = reading.label == reading.type_instead;
            let label = if said { String::new() } else { format!("{}, ", reading.label) };
            (reading.type_instead.clone(), format!("{label}{value}"))
        })
        .collect();
    format!("{}{}", wrapped(&head, "  "), rows(&readings)).trim_end().to_owned()
}

fn say(message: &str) {
    // Nothing is left to tell if the terminal itself is gone.
    drop(writeln!(io::stderr(), "{}", message.trim_end()));
}
