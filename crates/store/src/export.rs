//! Every record as one JSON document, for other programs.

use std::io::{self, Write};

use serde_json::{Map, Value};
use thiserror::Error;

use crate::error::{OpenError, StoreError};
use crate::rows::{object, record_tables};
use crate::schema;
use crate::view::View;

/// Form of the document, as docs/data-file.md describes it.
const FORM: u32 = 1;

/// Rows read in one go; no more of them are in memory.
const ROWS_AT_ONCE: u32 = 500;

/// What goes into the document beside the records.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Beside {
    /// Every action and what records were before it.
    pub history: bool,
    /// The pictures themselves, in base64.
    pub images: bool,
}

/// Why the document is not whole.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum ExportError {
    /// The data file cannot be used.
    #[error(transparent)]
    DataFile(#[from] OpenError),
    /// A record cannot be read.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// What was to take the document did not.
    #[error("the export could not be written: {0}")]
    Write(#[from] io::Error),
}

/// Writes every record as one JSON document, row by row.
///
/// # Errors
/// [`ExportError`]; what was written so far is then no whole document.
pub fn json(view: &View<'_>, beside: Beside, mut to: impl Write) -> Result<(), ExportError> {
    let step = schema::step_of(view.connection).map_err(StoreError::from)?;
    write!(to, "{{\"linkwright_export\":{FORM},\"schema_step\":{step},\"tables\":{{")?;
    let mut between = "\n";
    for table in record_tables() {
        write!(to, "{between}\"{table}\":[")?;
        records(view, table, &mut to)?;
        write!(to, "]")?;
        between = ",\n";
    }
    if beside.images {
        write!(to, "{between}\"image\":[")?;
        others(view, "select * from image order by id", &mut to)?;
        write!(to, "]")?;
    }
    if beside.history {
        for table in ["action", "change"] {
            write!(to, "{between}\"{table}\":[")?;
            others(view, &format!("select * from {table} order by id"), &mut to)?;
            write!(to, "]")?;
        }
    }
    writeln!(to, "}}}}")?;
    to.flush()?;
    Ok(())
}

fn records(view: &View<'_>, table: &str, to: &mut impl Write) -> Result<(), ExportError> {
    let mut after = 0;
    let mut between = "\n";
    loop {
        let rows = view.rows(table, after, ROWS_AT_ONCE)?.unwrap_or_default();
        let Some(last) = rows.last() else { return Ok(()) };
        after = last.get("id").and_then(Value::as_i64).unwrap_or(i64::MAX);
        for row in &rows {
            one(between, row, to)?;
            between = ",\n";
        }
    }
}

/// Rows of a table that holds no records.
fn others(view: &View<'_>, query: &str, to: &mut impl Write) -> Result<(), ExportError> {
    let database = StoreError::from;
    let mut statement = view.connection.prepare(query).map_err(database)?;
    let names: Vec<String> = statement.column_names().map(str::to_owned).collect();
    let mut rows = statement.query([]).map_err(database)?;
    let mut between = "\n";
    while let Some(row) = rows.next().map_err(database)? {
        one(between, &object(&names, row).map_err(database)?, to)?;
        between = ",\n";
    }
    Ok(())
}

fn one(between: &str, row: &Map<String, Value>, to: &mut impl Write) -> io::Result<()> {
    to.write_all(between.as_bytes())?;
    serde_json::to_writer(to, row).map_err(io::Error::from)
}
