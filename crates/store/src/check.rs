//! A data file looked at from end to end, and what is wrong with it in words.

use std::path::Path;

use rusqlite::Connection;
use thiserror::Error;

use crate::error::OpenError;
use crate::look::Looking;
use crate::record::{Record, Saved, columns};
use crate::records::{EachKind, every_kind};
use crate::schema;

/// What a check found.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The schema step of the file.
    pub step: u32,
    /// How many records of each kind could be read.
    pub records: Vec<(&'static str, u64)>,
    /// What is wrong; nothing if the file is sound.
    pub troubles: Vec<Trouble>,
}

/// One thing that is wrong with a data file.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum Trouble {
    /// The database's own check.
    #[error("the file is damaged: {what}")]
    Damaged {
        /// In the database's words.
        what: String,
    },
    /// A record refers to one that is not there.
    #[error("{table} number {number} refers to a {parent} that is not there")]
    Dangling {
        /// Table of the record.
        table: String,
        /// Its number.
        number: i64,
        /// Table of what is missing.
        parent: String,
    },
    /// A record cannot be read.
    #[error("{record} number {number} cannot be read: {what}")]
    Unreadable {
        /// What it is called.
        record: &'static str,
        /// Its number.
        number: i64,
        /// Why.
        what: String,
    },
    /// A table cannot be read at all.
    #[error("no {record} can be read: {what}")]
    NoneReadable {
        /// What they are called.
        record: &'static str,
        /// Why.
        what: String,
    },
}

/// Looks at a data file from end to end: every page, every index, every reference and, at today's
/// schema step, every record. The file is not changed; it may be in use.
///
/// # Errors
/// [`OpenError`] if it is not there, not ours, or written by a newer program. That it is damaged is
/// a finding, unless it does not even begin as a data file does.
pub fn check(path: &Path) -> Result<Report, OpenError> {
    let looking = Looking::at(path)?;
    let connection = &looking.connection;
    let mut checking = Checking { connection, records: Vec::new(), troubles: Vec::new() };
    let damaged = |error: rusqlite::Error| vec![error.to_string()];
    for what in looking.integrity_check().unwrap_or_else(damaged) {
        checking.troubles.push(Trouble::Damaged { what });
    }
    match dangling(connection) {
        Ok(found) => checking.troubles.extend(found),
        Err(error) => checking.troubles.push(Trouble::Damaged { what: error.to_string() }),
    }
    if looking.step == schema::known_step() {
        let Ok(()) = every_kind(&mut checking);
    }
    let Checking { records, troubles, .. } = checking;
    Ok(Report { step: looking.step, records, troubles })
}

fn dangling(connection: &Connection) -> rusqlite::Result<Vec<Trouble>> {
    connection
        .prepare(
            "select \"table\", coalesce(rowid, 0), parent from pragma_foreign_key_check limit 20",
        )?
        .query_map([], |row| {
            Ok(Trouble::Dangling { table: row.get(0)?, number: row.get(1)?, parent: row.get(2)? })
        })?
        .collect()
}

struct Checking<'a> {
    connection: &'a Connection,
    records: Vec<(&'static str, u64)>,
    troubles: Vec<Trouble>,
}

impl Checking<'_> {
    /// Reads every row, and goes on after one that cannot be read.
    fn read<T: Record>(&mut self) -> rusqlite::Result<u64> {
        let query = format!("select {} from {} order by id", columns::<T>(), T::TABLE);
        let mut statement = self.connection.prepare(&query)?;
        let mut rows = statement.query([])?;
        let mut readable = 0;
        while let Some(row) = rows.next()? {
            match Saved::<T>::from_row(row) {
                Ok(_) => readable += 1,
                Err(error) => self.troubles.push(Trouble::Unreadable {
                    record: T::NAME,
                    number: row.get("id").unwrap_or_default(),
                    what: error.to_string(),
                }),
            }
        }
        Ok(readable)
    }
}

impl EachKind<std::convert::Infallible> for Checking<'_> {
    fn kind<T: Record>(&mut self) -> Result<(), std::convert::Infallible> {
        match self.read::<T>() {
            Ok(readable) => self.records.push((T::NAME, readable)),
            Err(error) => self
                .troubles
                .push(Trouble::NoneReadable { record: T::NAME, what: error.to_string() }),
        }
        Ok(())
    }
}
