//! Tables written for other programs.

use rust_xlsxwriter::{Format, Workbook, XlsxError};

use crate::error::StoreError;

/// A table as an xlsx file, its first row the heading; texts are never formulas there.
///
/// # Errors
/// If the file cannot be put together.
pub fn to_xlsx(name: &str, rows: &[Vec<String>], numbers: &[bool]) -> Result<Vec<u8>, StoreError> {
    let broken = |error: XlsxError| StoreError::Corrupt {
        record: "spreadsheet".to_owned(),
        what: error.to_string(),
    };
    let mut book = Workbook::new();
    let bold = Format::new().set_bold();
    let sheet = book.add_worksheet();
    sheet.set_name(name).map_err(broken)?;
    for (at, cells) in rows.iter().enumerate() {
        let row = u32::try_from(at).unwrap_or(u32::MAX);
        for (place, cell) in cells.iter().enumerate() {
            let column = u16::try_from(place).unwrap_or(u16::MAX);
            let number = numbers.get(place).filter(|is| **is && at > 0);
            let written = match number.and_then(|_| cell.parse::<f64>().ok()) {
                Some(number) => sheet.write_number(row, column, number),
                None if at == 0 => sheet.write_string_with_format(row, column, cell, &bold),
                None => sheet.write_string(row, column, cell),
            };
            written.map_err(broken)?;
        }
    }
    sheet.set_freeze_panes(1, 0).map_err(broken)?;
    book.save_to_buffer().map_err(broken)
}

/// A table as text separated by commas. A text that a spreadsheet would run as a formula gets a
/// single quote before it, which this program takes off again.
///
/// # Errors
/// If the text cannot be put together.
pub fn to_csv(rows: &[Vec<String>]) -> Result<Vec<u8>, StoreError> {
    let broken = |what: String| StoreError::Corrupt { record: "table".to_owned(), what };
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer
            .write_record(row.iter().map(|cell| guarded(cell)))
            .map_err(|e| broken(e.to_string()))?;
    }
    writer.into_inner().map_err(|error| broken(error.to_string()))
}

fn guarded(cell: &str) -> String {
    let is_number = cell.parse::<f64>().is_ok();
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && !is_number {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::to_csv;

    #[test]
    fn what_a_spreadsheet_would_run_is_guarded_and_read_back() {
        let row = ["=1+1", "@x", "-dash", "+plus", "-5", "plain"].map(str::to_owned).to_vec();
        let bytes = to_csv(std::slice::from_ref(&row)).expect("written");
        let text = String::from_utf8(bytes.clone()).expect("text");
        assert_eq!(text.trim(), "'=1+1,'@x,'-dash,'+plus,-5,plain");
        assert_eq!(super::super::read(&bytes).expect("read").sheets[0].rows[0], row);
    }
}
