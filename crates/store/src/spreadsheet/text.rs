//! Tables as text: separated by commas, semicolons or tabs, in any usual encoding.

use csv::ReaderBuilder;

use super::{Sheet, SpreadsheetError, Tables, put};

pub(super) fn read(bytes: &[u8]) -> Result<Tables, SpreadsheetError> {
    let mut remarks = Vec::new();
    let text = decoded(bytes, &mut remarks)?;
    let (separator, called) = separator_of(&text);
    remarks.push(format!("cells are taken to be separated by {called}"));
    let mut sheet = Sheet { name: "table".to_owned(), rows: Vec::new() };
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    for (row, record) in reader.records().enumerate() {
        let record =
            record.map_err(|error| SpreadsheetError::Broken { what: error.to_string() })?;
        for (column, cell) in record.iter().enumerate() {
            put(&mut sheet, row, column, unguarded(cell).to_owned())?;
        }
    }
    Ok(Tables { sheets: vec![sheet], remarks })
}

/// Takes off the sign that keeps a text from being run as a formula; see [`super::to_csv`].
fn unguarded(cell: &str) -> &str {
    let cell = cell.trim();
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(['=', '+', '-', '@']) => rest,
        _ => cell,
    }
}

fn decoded(bytes: &[u8], remarks: &mut Vec<String>) -> Result<String, SpreadsheetError> {
    let wide = |order: fn([u8; 2]) -> u16, bytes: &[u8]| {
        let units: Vec<u16> = bytes.chunks_exact(2).map(|pair| order([pair[0], pair[1]])).collect();
        String::from_utf16(&units).map_err(|_| SpreadsheetError::NoTable)
    };
    match bytes {
        [0xff, 0xfe, rest @ ..] => return wide(u16::from_le_bytes, rest),
        [0xfe, 0xff, rest @ ..] => return wide(u16::from_be_bytes, rest),
        _ => {}
    }
    let bytes = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    // No table as text holds such signs; pictures and programs do.
    if bytes.iter().any(|byte| *byte < 0x20 && !b"\t\r\n\x0c".contains(byte)) {
        return Err(SpreadsheetError::NoTable);
    }
    Ok(match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => {
            remarks.push("letters are read as Latin-1, since the file is not Unicode".to_owned());
            bytes.iter().map(|byte| char::from(*byte)).collect()
        }
    })
}

/// The separator that stands most evenly in the first lines, outside quotes.
fn separator_of(text: &str) -> (u8, &'static str) {
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).take(20).collect();
    let score = |separator: char| {
        let counts = lines.iter().map(|line| {
            let mut quoted = false;
            line.chars()
                .filter(|letter| {
                    quoted ^= *letter == '"';
                    *letter == separator && !quoted
                })
                .count()
        });
        counts.clone().filter(|count| *count > 0).count() * 100 + counts.min().unwrap_or(0)
    };
    let choices = [(b';', "semicolons"), (b'\t', "tabs"), (b',', "commas")];
    let best = choices.into_iter().rev().max_by_key(|(byte, _)| score(char::from(*byte)));
    best.unwrap_or((b',', "commas"))
}
