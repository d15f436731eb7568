//! The columns of a table, found by name, and the values of one row.

use csv::StringRecord;

use super::TableError;

/// Columns that every table of cells has.
pub(super) const CELL: [&str; 12] = [
    "wire_mm",
    "mandrel_mm",
    "blade",
    "blade_dia_mm",
    "blade_kerf_mm",
    "blade_teeth",
    "metal",
    "temper",
    "taped",
    "lube",
    "operator",
    "axis_height_mm",
];

/// Columns that a table of trials has besides.
pub(super) const COUNTS: [&str; 7] =
    ["turns", "entry_lost", "stop_lost", "crushed", "uncut", "deformed", "good"];

/// The columns of a cell, in the order of docs/trials-table.md.
pub fn cell_columns() -> impl Iterator<Item = &'static str> {
    CELL.into_iter()
}

/// The columns of a trial: those of its cell and its counts.
pub fn trial_columns() -> impl Iterator<Item = &'static str> {
    CELL.into_iter().chain(COUNTS)
}

/// One row of a table, its values asked for by column.
pub(super) struct Row<'a> {
    pub(super) file: &'a str,
    pub(super) line: u64,
    pub(super) headings: &'a StringRecord,
    pub(super) record: &'a StringRecord,
}

impl Row<'_> {
    /// What stands in a column; `None` if the table has no such column or nothing stands there.
    pub(super) fn text(&self, column: &str) -> Option<&str> {
        let place = self.headings.iter().position(|heading| heading == column)?;
        self.record.get(place).map(str::trim).filter(|text| !text.is_empty())
    }

    /// What stands in a column that must not be empty.
    pub(super) fn needed(&self, column: &str) -> Result<&str, TableError> {
        self.text(column).ok_or_else(|| self.wrong(column, "", "it must not be empty"))
    }

    /// A number.
    pub(super) fn number(&self, column: &str) -> Result<f64, TableError> {
        let text = self.needed(column)?;
        let number = text.parse::<f64>().ok().filter(|number| number.is_finite());
        number.ok_or_else(|| self.wrong(column, text, "it must be a number such as 1.02"))
    }

    /// A number that may be absent.
    pub(super) fn number_if_known(&self, column: &str) -> Result<Option<f64>, TableError> {
        self.text(column).map(|_| self.number(column)).transpose()
    }

    /// A count.
    pub(super) fn count(&self, column: &str) -> Result<u32, TableError> {
        let text = self.needed(column)?;
        text.parse().map_err(|_| self.wrong(column, text, "it must be a whole number from 0 up"))
    }

    /// A yes or a no.
    pub(super) fn flag(&self, column: &str) -> Result<bool, TableError> {
        let text = self.needed(column)?;
        match text.to_lowercase().as_str() {
            "1" | "yes" | "true" => Ok(true),
            "0" | "no" | "false" => Ok(false),
            _ => Err(self.wrong(column, text, "it must be 1 or 0, yes or no")),
        }
    }

    /// The complaint about a value.
    pub(super) fn wrong(&self, column: &str, given: &str, wanted: &str) -> TableError {
        TableError::Value {
            file: self.file.to_owned(),
            line: self.line,
            column: column.to_owned(),
            given: given.to_owned(),
            wanted: wanted.to_owned(),
        }
    }

    /// The complaint about the row as a whole.
    pub(super) fn refused(&self, why: impl ToString) -> TableError {
        TableError::Row { file: self.file.to_owned(), line: self.line, why: why.to_string() }
    }
}
