//! Why the data file could not be opened, read or written.

use std::path::PathBuf;

use thiserror::Error;

/// The data file cannot be used; it was left as it is.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum OpenError {
    /// Its folder cannot be made or reached.
    #[error("{}: the folder of the data file cannot be used: {source}", path.display())]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// Another program has it open.
    #[error(
        "{}: another linkwright has this data file open; close it first, or choose another file with --data",
        path.display()
    )]
    InUse {
        /// The data file.
        path: PathBuf,
    },
    /// There is no such file.
    #[error("{}: there is no such data file", path.display())]
    Missing {
        /// The data file.
        path: PathBuf,
    },
    /// The system does not let it be read.
    #[error("{}: the data file cannot be read: {source}", path.display())]
    Unreadable {
        /// The data file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// An earlier version of the program wrote it, and only reading was asked for.
    #[error(
        "{}: written by an older linkwright (its schema step is {found}, this program's is {known}); \
         start linkwright with it once, and it is brought up to date",
        path.display()
    )]
    Older {
        /// The data file.
        path: PathBuf,
        /// Its schema step.
        found: u32,
        /// The step this program reads.
        known: u32,
    },
    /// A later version of the program wrote it.
    #[error(
        "{}: written by a newer linkwright (its schema step is {found}, this program knows {known}); \
         the file was left untouched: use the newer program",
        path.display()
    )]
    Newer {
        /// The data file.
        path: PathBuf,
        /// Its schema step.
        found: u32,
        /// The last step this program knows.
        known: u32,
    },
    /// It is a database, but not one of ours.
    #[error("{}: this file belongs to another program; it was left untouched", path.display())]
    Foreign {
        /// The file.
        path: PathBuf,
    },
    /// It is damaged or no database.
    #[error(
        "{}: the file is damaged ({what}); it was left untouched. \
         `linkwright restore` puts a backup in its place",
        path.display()
    )]
    Damaged {
        /// The data file.
        path: PathBuf,
        /// What was found.
        what: String,
    },
    /// It may be read but not written.
    #[error("{}: the file cannot be written to; change its permissions or choose another with --data", path.display())]
    ReadOnly {
        /// The data file.
        path: PathBuf,
    },
    /// The backup before a schema step failed, so the step was not taken.
    #[error("{}: no backup could be made, so the file was left untouched: {source}", path.display())]
    Backup {
        /// Where the backup should have gone.
        path: PathBuf,
        /// What went wrong.
        source: Box<StoreError>,
    },
    /// Anything else the database said.
    #[error("{}: the data file cannot be opened: {source}", path.display())]
    Sqlite {
        /// The data file.
        path: PathBuf,
        /// What the database said.
        source: rusqlite::Error,
    },
}

/// A record could not be read or saved.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum StoreError {
    /// There is none with this number.
    #[error("there is no {record} number {number}; it may have been removed")]
    NotFound {
        /// What was looked for, such as "blade".
        record: &'static str,
        /// Its number.
        number: i64,
    },
    /// It clashes with what is kept.
    #[error("{0}")]
    Conflict(Conflict),
    /// A row does not have the form it should.
    #[error("the data file holds a {record} that cannot be read: {what}")]
    Corrupt {
        /// The table.
        record: String,
        /// What is wrong.
        what: String,
    },
    /// Part of the file is damaged.
    #[error(
        "the data file is damaged ({what}); `linkwright check` says more, `linkwright restore` puts a backup in its place"
    )]
    Damaged {
        /// What the database said.
        what: String,
    },
    /// The disk is full or gone; nothing was saved.
    #[error("nothing was saved: the disk is full or does not answer")]
    NoRoom,
    /// The file became read-only; nothing was saved.
    #[error("nothing was saved: the data file cannot be written to")]
    ReadOnly,
    /// A file beside the data file could not be used.
    #[error("{}: {source}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// Anything else the database said.
    #[error("the data file does not answer: {0}")]
    Sqlite(#[source] rusqlite::Error),
}

/// What stands in the way of a change.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[non_exhaustive]
pub enum Conflict {
    /// Two records may not share this value.
    #[error("another record already has this {column}; choose another")]
    Taken {
        /// Table and column, such as "blade.name".
        column: String,
    },
    /// Others refer to it.
    #[error("it is used by other records; retire it instead of removing it")]
    Used,
    /// A rule of the table refuses the value.
    #[error("the value is outside what may be kept ({rule})")]
    Refused {
        /// The rule as the schema names it.
        rule: String,
    },
    /// It changed since the page was shown.
    #[error("it was changed elsewhere in the meantime; look at it again")]
    ChangedMeanwhile,
    /// Only the sample workshop is removed in one step.
    #[error("this is not the sample workshop, so nothing was removed")]
    NoSample,
    /// There is nothing left to undo.
    #[error("there is nothing to undo")]
    NothingToUndo,
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> StoreError {
        use rusqlite::ffi::{
            SQLITE_CONSTRAINT_CHECK, SQLITE_CONSTRAINT_FOREIGNKEY, SQLITE_CONSTRAINT_PRIMARYKEY,
            SQLITE_CONSTRAINT_TRIGGER, SQLITE_CONSTRAINT_UNIQUE,
        };
        use rusqlite::{Error, ErrorCode};
        let Error::SqliteFailure(failure, ref message) = error else {
            return StoreError::Sqlite(error);
        };
        let said = message.clone().unwrap_or_default();
        let after = |prefix: &str| said.strip_prefix(prefix).unwrap_or(&said).to_owned();
        match (failure.code, failure.extended_code) {
            (_, SQLITE_CONSTRAINT_UNIQUE | SQLITE_CONSTRAINT_PRIMARYKEY) => {
                StoreError::Conflict(Conflict::Taken {
                    column: after("UNIQUE constraint failed: "),
                })
            }
            (_, SQLITE_CONSTRAINT_FOREIGNKEY | SQLITE_CONSTRAINT_TRIGGER) => {
                StoreError::Conflict(Conflict::Used)
            }
            (_, SQLITE_CONSTRAINT_CHECK) => {
                StoreError::Conflict(Conflict::Refused { rule: after("CHECK constraint failed: ") })
            }
            (ErrorCode::DiskFull | ErrorCode::SystemIoFailure, _) => StoreError::NoRoom,
            (ErrorCode::ReadOnly, _) => StoreError::ReadOnly,
            (ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase, _) => {
                StoreError::Damaged { what: error.to_string() }
            }
            _ => StoreError::Sqlite(error),
        }
    }
}
