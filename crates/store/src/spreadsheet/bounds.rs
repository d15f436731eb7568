//! How far a packed file may unpack: looked at before any reader keeps anything of it.

use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::{COLUMNS_MOST, LINES_ABOVE, ROWS_MOST, SpreadsheetError};

/// More text than a table of 20,000 rows needs in either form, bytes.
const UNPACKED_MOST: u64 = 64 * 1024 * 1024;

/// Parts of a packed file, as far as they tell its form.
pub(super) struct Parts {
    pub(super) is_ods: bool,
    pub(super) content: String,
    pub(super) manifest: String,
}

/// Unpacks everything once, counting, and keeps only what tells the form.
pub(super) fn unpacked(bytes: &[u8]) -> Result<Parts, SpreadsheetError> {
    let broken = |what: &dyn std::fmt::Display| SpreadsheetError::Broken { what: what.to_string() };
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| broken(&error))?;
    let mut parts = Parts { is_ods: false, content: String::new(), manifest: String::new() };
    let mut is_xlsx = false;
    let mut left = UNPACKED_MOST;
    for at in 0..archive.len() {
        let file = archive.by_index(at).map_err(|error| match error {
            zip::result::ZipError::UnsupportedArchive(what) if what.contains("assword") => {
                SpreadsheetError::Locked
            }
            other => broken(&other),
        })?;
        let name = file.name().map_err(|error| broken(&error))?.into_owned();
        let mut content = Vec::new();
        // The size a part claims is not to be trusted; what comes out of it is counted.
        file.take(left + 1).read_to_end(&mut content).map_err(|error| broken(&error))?;
        let size = u64::try_from(content.len()).unwrap_or(u64::MAX);
        left = left.checked_sub(size).ok_or(SpreadsheetError::UnpacksTooFar)?;
        match name.as_str() {
            "content.xml" => parts.content = String::from_utf8_lossy(&content).into_owned(),
            "META-INF/manifest.xml" => {
                parts.manifest = String::from_utf8_lossy(&content).into_owned();
            }
            "xl/workbook.xml" => is_xlsx = true,
            _ => {}
        }
    }
    parts.is_ods = !parts.content.is_empty();
    if !parts.is_ods && !is_xlsx {
        return Err(SpreadsheetError::NoTable);
    }
    Ok(parts)
}

/// Refuses an ods sheet whose repeats would unroll to more than a table may have.
pub(super) fn check_repeats(content: &str) -> Result<(), SpreadsheetError> {
    let mut sheet = String::new();
    let (mut rows, mut row_repeat, mut column, mut filled) = (0_usize, 1_usize, 0_usize, 0_usize);
    for tag in Tags(content) {
        let repeat =
            |name: &str| attribute(tag, name).and_then(|text| text.parse().ok()).unwrap_or(1_usize);
        let name = tag.split([' ', '\t', '\n', '\r', '/']).next().unwrap_or("");
        match name {
            "table:table" => {
                sheet = attribute(tag, "table:name").unwrap_or_default().to_owned();
                rows = 0;
            }
            "table:table-row" => {
                row_repeat = repeat("table:number-rows-repeated");
                (column, filled) = (0, 0);
            }
            "table:table-cell" | "table:covered-table-cell" => {
                column = column.saturating_add(repeat("table:number-columns-repeated"));
                if tag.contains("value-type") || !tag.ends_with('/') {
                    filled = column;
                }
            }
            _ => {}
        }
        if filled > COLUMNS_MOST {
            return Err(SpreadsheetError::TooManyColumns { sheet, column: filled });
        }
        // `/table:table-row` closes a row that has cells.
        if tag == "/table:table-row" && filled > 0 {
            rows = rows.saturating_add(row_repeat);
            if rows > ROWS_MOST + LINES_ABOVE {
                return Err(SpreadsheetError::TooManyRows { sheet, rows });
            }
        } else if tag == "/table:table-row" && row_repeat <= ROWS_MOST {
            // Blank rows between filled ones unroll too; those at the end are dropped by the reader.
            rows = rows.saturating_add(row_repeat);
        }
    }
    Ok(())
}

/// The tags of a text of XML, without their brackets; a bracket inside quotes ends none.
struct Tags<'a>(&'a str);

impl<'a> Iterator for Tags<'a> {
    type Item = &'a str;

    fn next(&mut self) -> Option<&'a str> {
        let start = self.0.find('<')? + 1;
        let rest = &self.0[start..];
        let mut quote = None;
        for (at, letter) in rest.char_indices() {
            match (quote, letter) {
                (None, '"' | '\'') => quote = Some(letter),
                (Some(open), letter) if open == letter => quote = None,
                (None, '>') => {
                    self.0 = &rest[at + 1..];
                    return Some(&rest[..at]);
                }
                _ => {}
            }
        }
        None
    }
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let after = tag.split_once(&format!("{name}="))?.1;
    let quote = after.chars().next().filter(|letter| ['"', '\''].contains(letter))?;
    after[1..].split(quote).next()
}
