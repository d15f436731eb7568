//! What can be wrong with a file that workshops share.

use linkwright_trials::PoolError;
use serde_json::Value;
use thiserror::Error;

/// A file that cannot be used; nothing of it was.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PoolFileError {
    /// More bytes than any such file has.
    #[error("the file has {bytes} bytes; at most {limit_bytes} are read")]
    TooLarge {
        /// How many it has.
        bytes: usize,
        /// The most.
        limit_bytes: usize,
    },
    /// No JSON.
    #[error("the file is not JSON at line {line}, character {column}")]
    NotJson {
        /// The line, from 1.
        line: usize,
        /// The character of that line, from 1.
        column: usize,
    },
    /// JSON of something else.
    #[error("format is {given}; this must be a file of format \"{wanted}\"")]
    OtherFormat {
        /// What it says it is.
        given: Box<Value>,
        /// What is wanted.
        wanted: &'static str,
    },
    /// Written by a later program.
    #[error(
        "version is {given}: a newer linkwright wrote this file; this one reads versions up to {known}, so update it or ask for a file of version {known}"
    )]
    Newer {
        /// The version of the file.
        given: u64,
        /// The last version that is known.
        known: u64,
    },
    /// Something is not there.
    #[error("{field} is missing")]
    Missing {
        /// What.
        field: String,
    },
    /// Something is there that does not belong.
    #[error("{field} does not belong into this file; it holds {known}")]
    Unknown {
        /// What.
        field: String,
        /// What may stand there, comma separated.
        known: &'static str,
    },
    /// A value of another kind.
    #[error("{field} is {given}; it must be {wanted}")]
    Kind {
        /// Where.
        field: String,
        /// What stands there, shortened.
        given: String,
        /// What would do.
        wanted: &'static str,
    },
    /// A number outside its limits.
    #[error("{field} is {given}; it must be between {low} and {high}")]
    OutOfLimits {
        /// Where.
        field: String,
        /// What stands there.
        given: f64,
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// Each number will do, but not together.
    #[error("gates.{gate}: {error}")]
    Gate {
        /// Which gate.
        gate: &'static str,
        /// What is wrong with it.
        error: PoolError,
    },
}

impl PoolFileError {
    /// Where in the file the trouble is, such as `gates.kept.terms[3]`.
    pub fn field(&self) -> String {
        match self {
            PoolFileError::TooLarge { .. } | PoolFileError::NotJson { .. } => "file".to_owned(),
            PoolFileError::OtherFormat { .. } => "format".to_owned(),
            PoolFileError::Newer { .. } => "version".to_owned(),
            PoolFileError::Missing { field }
            | PoolFileError::Unknown { field, .. }
            | PoolFileError::Kind { field, .. }
            | PoolFileError::OutOfLimits { field, .. } => field.clone(),
            PoolFileError::Gate { gate, .. } => format!("gates.{gate}"),
        }
    }
}
