//! Tables of other programs: xlsx, ods and text with separators, read into plain text and written.

mod bounds;

mod xlsx;

mod ods;

mod text;

mod write;

use serde::{Deserialize, Serialize};
use thiserror::Error;

pub(crate) use write::{CsvTable, XlsxTable};
pub use write::{to_csv, to_xlsx};

/// No file is larger than this, bytes.
pub const BYTES_MOST: usize = 5 * 1024 * 1024;

/// No table has more rows than this under its heading.
pub const ROWS_MOST: usize = 20_000;

/// No table has more columns than this.
pub const COLUMNS_MOST: usize = 100;

/// Lines above the heading and the heading itself that are let through beside the rows.
const LINES_ABOVE: usize = 20;

/// A file of tables as text, every formula as the value it had.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tables {
    /// Its sheets, in order; at least one.
    pub sheets: Vec<Sheet>,
    /// What had to be assumed to read it, in words.
    pub remarks: Vec<String>,
}

/// One sheet: rows of cells, numbers and days written out, blank rows at the end left off.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sheet {
    /// Its name.
    pub name: String,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

/// Why a file cannot be used as a table.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum SpreadsheetError {
    /// Too many bytes.
    #[error("the file is larger than 5 MB; split the table into several files")]
    TooLarge,
    /// Nothing in it.
    #[error("the file holds no filled cell")]
    Empty,
    /// Neither of the forms read here.
    #[error("this is no xlsx, ods or csv file; save the table as one of these and send that")]
    NoTable,
    /// Locked, or of the old binary form.
    #[error(
        "this is an old xls file, or one locked with a password; save it as xlsx without a password"
    )]
    LockedOrOld,
    /// Locked.
    #[error("the file is locked with a password; save it without one")]
    Locked,
    /// It unpacks to more than is reasonable.
    #[error("the file unpacks to far more than a table of trials can be; it was not read")]
    UnpacksTooFar,
    /// Too many rows.
    #[error(
        "sheet \u{201c}{sheet}\u{201d} has {rows} rows under its heading; at most 20,000 are taken at once: split the table"
    )]
    TooManyRows {
        /// The sheet.
        sheet: String,
        /// How many it has.
        rows: usize,
    },
    /// Too many columns.
    #[error(
        "sheet \u{201c}{sheet}\u{201d} has a filled cell in column {column}; at most 100 columns are read: delete what does not belong to the table"
    )]
    TooManyColumns {
        /// The sheet.
        sheet: String,
        /// The column, from 1.
        column: usize,
    },
    /// Damaged.
    #[error("the file is damaged and cannot be read ({what})")]
    Broken {
        /// What the reader said.
        what: String,
    },
}

/// Reads a file of any of the three forms; which one is told by its first bytes, not its name.
///
/// # Errors
/// [`SpreadsheetError`] says in words why it cannot be used.
pub fn read(bytes: &[u8]) -> Result<Tables, SpreadsheetError> {
    if bytes.len() > BYTES_MOST {
        return Err(SpreadsheetError::TooLarge);
    }
    let mut tables = if bytes.starts_with(b"PK") {
        let parts = bounds::unpacked(bytes)?;
        if parts.is_ods { ods::read(bytes, &parts)? } else { xlsx::read(bytes)? }
    } else if bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        return Err(SpreadsheetError::LockedOrOld);
    } else {
        text::read(bytes)?
    };
    for sheet in &mut tables.sheets {
        while sheet.rows.last().is_some_and(|row| row.iter().all(|cell| cell.trim().is_empty())) {
            sheet.rows.pop();
        }
    }
    tables.sheets.retain(|sheet| !sheet.rows.is_empty());
    if tables.sheets.is_empty() {
        return Err(SpreadsheetError::Empty);
    }
    Ok(tables)
}

/// Puts a cell at its place, if the place is within bounds.
fn put(sheet: &mut Sheet, row: usize, column: usize, text: String) -> Result<(), SpreadsheetError> {
    if text.trim().is_empty() {
        return Ok(());
    }
    if column >= COLUMNS_MOST {
        return Err(SpreadsheetError::TooManyColumns {
            sheet: sheet.name.clone(),
            column: column + 1,
        });
    }
    if row > ROWS_MOST + LINES_ABOVE {
        return Err(SpreadsheetError::TooManyRows { sheet: sheet.name.clone(), rows: row });
    }
    if sheet.rows.len() <= row {
        sheet.rows.resize(row + 1, Vec::new());
    }
    let cells = &mut sheet.rows[row];
    if cells.len() <= column {
        cells.resize(column + 1, String::new());
    }
    cells[column] = text;
    Ok(())
}
