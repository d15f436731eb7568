//! Sheets of xlsx files, cell by cell, so that a lone cell far out costs nothing.

use std::io::Cursor;

use calamine::{DataRef, ExcelDateTime, Reader, Xlsx, XlsxError};

use super::{Sheet, SpreadsheetError, Tables, put};

pub(super) fn read(bytes: &[u8]) -> Result<Tables, SpreadsheetError> {
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(|error| of(&error))?;
    let mut sheets = Vec::new();
    for name in book.sheet_names() {
        let mut sheet = Sheet { name: name.clone(), rows: Vec::new() };
        // A sheet that is a drawing has no cells to read.
        let Ok(mut cells) = book.worksheet_cells_reader(&name) else { continue };
        while let Some(cell) = cells.next_cell().map_err(|error| of(&error))? {
            let (row, column) = cell.get_position();
            let place = |at: u32| usize::try_from(at).unwrap_or(usize::MAX - 1);
            put(&mut sheet, place(row), place(column), text_of(cell.get_value()))?;
        }
        sheets.push(sheet);
    }
    Ok(Tables { sheets, remarks: Vec::new() })
}

fn of(error: &XlsxError) -> SpreadsheetError {
    match error {
        XlsxError::Password => SpreadsheetError::Locked,
        other => SpreadsheetError::Broken { what: other.to_string() },
    }
}

fn text_of(value: &DataRef<'_>) -> String {
    match value {
        DataRef::Int(whole) => whole.to_string(),
        DataRef::Float(number) => number.to_string(),
        DataRef::String(text) | DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => {
            text.trim().to_owned()
        }
        DataRef::SharedString(text) => text.trim().to_owned(),
        DataRef::Bool(truth) => if *truth { "yes" } else { "no" }.to_owned(),
        DataRef::DateTime(day) => day_of(day),
        DataRef::Error(error) => format!("{error}"),
        DataRef::Empty => String::new(),
    }
}

/// A day as 2026-03-04; a duration or a time alone as its number.
pub(super) fn day_of(day: &ExcelDateTime) -> String {
    if !day.is_datetime() || day.as_f64() < 1.0 {
        return day.as_f64().to_string();
    }
    let (year, month, date, ..) = day.to_ymd_hms_milli();
    format!("{year:04}-{month:02}-{date:02}")
}
