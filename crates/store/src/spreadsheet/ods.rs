//! Sheets of ods files.

use std::io::Cursor;

use calamine::{Data, Ods, OdsError, Reader};

use super::bounds::{Parts, check_repeats};
use super::xlsx::day_of;
use super::{Sheet, SpreadsheetError, Tables, put};

pub(super) fn read(bytes: &[u8], parts: &Parts) -> Result<Tables, SpreadsheetError> {
    if parts.manifest.contains("encryption-data") {
        return Err(SpreadsheetError::Locked);
    }
    check_repeats(&parts.content)?;
    let mut book = Ods::new(Cursor::new(bytes)).map_err(|error| match error {
        OdsError::Password => SpreadsheetError::Locked,
        other => SpreadsheetError::Broken { what: other.to_string() },
    })?;
    let mut sheets = Vec::new();
    for (name, range) in book.worksheets() {
        let mut sheet = Sheet { name, rows: Vec::new() };
        let (top, left) = range.start().unwrap_or((0, 0));
        let place = |at: u32| usize::try_from(at).unwrap_or(usize::MAX / 2);
        for (row, cells) in range.rows().enumerate() {
            for (column, cell) in cells.iter().enumerate() {
                put(&mut sheet, place(top) + row, place(left) + column, text_of(cell))?;
            }
        }
        sheets.push(sheet);
    }
    Ok(Tables { sheets, remarks: Vec::new() })
}

fn text_of(value: &Data) -> String {
    match value {
        Data::Int(whole) => whole.to_string(),
        Data::Float(number) => number.to_string(),
        Data::String(text) | Data::DurationIso(text) => text.trim().to_owned(),
        // A day may carry its time behind it.
        Data::DateTimeIso(text) => text.split('T').next().unwrap_or(text).to_owned(),
        Data::Bool(truth) => if *truth { "yes" } else { "no" }.to_owned(),
        Data::DateTime(day) => day_of(day),
        Data::Error(error) => format!("{error}"),
        _ => String::new(),
    }
}
