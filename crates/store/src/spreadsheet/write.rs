//! Tables written for other programs.

use std::io::{self, Write};

use rust_xlsxwriter::{Format, Workbook, XlsxError};

use crate::error::StoreError;
use crate::export::ExportError;

/// A spreadsheet under way, its first row the heading; texts are never formulas there. Rows wait in
/// a file without a name, so that a long table takes no memory.
pub(crate) struct XlsxTable {
    book: Workbook,
    bold: Format,
    numbers: Vec<bool>,
    rows: u32,
}

impl XlsxTable {
    /// An empty sheet of that name, and which of its columns are numbers.
    pub(crate) fn new(name: &str, numbers: Vec<bool>) -> Result<XlsxTable, StoreError> {
        let mut book = Workbook::new();
        let sheet = book.add_worksheet_with_constant_memory().map_err(broken)?;
        sheet.set_name(name).and_then(|sheet| sheet.set_freeze_panes(1, 0)).map_err(broken)?;
        Ok(XlsxTable { book, bold: Format::new().set_bold(), numbers, rows: 0 })
    }

    /// The next row.
    pub(crate) fn row(&mut self, cells: Vec<String>) -> Result<(), StoreError> {
        let (row, is_heading) = (self.rows, self.rows == 0);
        self.rows += 1;
        let sheet = self.book.worksheet_from_index(0).map_err(broken)?;
        for (place, cell) in cells.iter().enumerate() {
            let column = u16::try_from(place).unwrap_or(u16::MAX);
            let number = self.numbers.get(place).filter(|is| **is && !is_heading);
            let written = match number.and_then(|_| cell.parse::<f64>().ok()) {
                Some(number) => sheet.write_number(row, column, number),
                None if is_heading => sheet.write_string_with_format(row, column, cell, &self.bold),
                None => sheet.write_string(row, column, cell),
            };
            written.map_err(broken)?;
        }
        Ok(())
    }

    /// Puts the file together and writes it.
    pub(crate) fn finish(mut self, mut to: impl Write) -> Result<(), ExportError> {
        let bytes = self.book.save_to_buffer().map_err(broken)?;
        to.write_all(&bytes)?;
        Ok(to.flush()?)
    }
}

/// A small spreadsheet, whole: sheets by name, the first row of each its heading. A number stands as
/// a number where its whole column is numbers; texts are never formulas there.
///
/// # Errors
/// If a sheet cannot be put together, as one whose name is too long.
pub fn to_xlsx(sheets: &[(&str, Vec<Vec<String>>)]) -> Result<Vec<u8>, StoreError> {
    let mut book = Workbook::new();
    let bold = Format::new().set_bold();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet();
        sheet.set_name(*name).and_then(|sheet| sheet.set_freeze_panes(1, 0)).map_err(broken)?;
        for (at, cells) in (0_u32..).zip(rows) {
            for ((column, place), cell) in (0_u16..).zip(0..).zip(cells) {
                let written = match cell.parse::<f64>() {
                    _ if at == 0 => sheet.write_string_with_format(at, column, cell, &bold),
                    Ok(number) if is_of_numbers(rows, place) => {
                        sheet.write_number(at, column, number)
                    }
                    _ => sheet.write_string(at, column, cell),
                };
                written.map_err(broken)?;
            }
        }
    }
    book.save_to_buffer().map_err(broken)
}

/// Whether every cell of a column under its heading is a number, or empty.
fn is_of_numbers(rows: &[Vec<String>], column: usize) -> bool {
    let cells = rows.iter().skip(1).filter_map(|row| row.get(column));
    cells.filter(|cell| !cell.is_empty()).all(|cell| cell.parse::<f64>().is_ok_and(f64::is_finite))
}

fn broken(error: XlsxError) -> StoreError {
    StoreError::Corrupt { record: "spreadsheet".to_owned(), what: error.to_string() }
}

/// Text separated by commas under way. A text that a spreadsheet would run as a formula gets a
/// single quote before it, which this program takes off again.
pub(crate) struct CsvTable<W: Write> {
    writer: csv::Writer<W>,
}

impl<W: Write> CsvTable<W> {
    pub(crate) fn new(to: W) -> CsvTable<W> {
        CsvTable { writer: csv::Writer::from_writer(to) }
    }

    /// The next row.
    pub(crate) fn row(&mut self, cells: Vec<String>) -> io::Result<()> {
        self.writer.write_record(cells.iter().map(|cell| guarded(cell))).map_err(io::Error::from)
    }

    /// Writes what is still held back, and gives back what was written to.
    pub(crate) fn finish(self) -> io::Result<W> {
        let mut to = self.writer.into_inner().map_err(|error| error.into_error())?;
        to.flush()?;
        Ok(to)
    }
}

/// A whole table as such text.
///
/// # Errors
/// If the text cannot be put together.
pub fn to_csv(rows: &[Vec<String>]) -> Result<Vec<u8>, StoreError> {
    let mut table = CsvTable::new(Vec::new());
    let written = rows.iter().try_for_each(|row| table.row(row.clone()));
    written.and_then(|()| table.finish()).map_err(|error| StoreError::Corrupt {
        record: "table".to_owned(),
        what: error.to_string(),
    })
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
