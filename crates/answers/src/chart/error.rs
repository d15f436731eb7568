//! What can be wrong with a table of trials or cells.

use thiserror::Error;

/// A table that cannot be used; nothing of it was.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum TableError {
    /// The text is no table of values with commas between them.
    #[error("{file}, line {line}: {what}")]
    NotCsv {
        /// The file, as it was named.
        file: String,
        /// The line, counted from 1.
        line: u64,
        /// What is wrong with it.
        what: String,
    },
    /// A column is missing.
    #[error("{file} has no column {column}; it needs {needed}")]
    ColumnMissing {
        /// The file, as it was named.
        file: String,
        /// The column.
        column: &'static str,
        /// All columns that are needed.
        needed: String,
    },
    /// A value cannot be used.
    #[error("{file}, line {line}: {column} is {given:?}; {wanted}")]
    Value {
        /// The file, as it was named.
        file: String,
        /// The line, counted from 1.
        line: u64,
        /// The column.
        column: String,
        /// What stands there.
        given: String,
        /// What would be accepted.
        wanted: String,
    },
    /// A row as a whole cannot be used.
    #[error("{file}, line {line}: {why}")]
    Row {
        /// The file, as it was named.
        file: String,
        /// The line, counted from 1.
        line: u64,
        /// Why not.
        why: String,
    },
}
