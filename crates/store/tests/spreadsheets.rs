//! Messy files of other programs, made here, read through the door.

use std::io::{Cursor, Write};

use linkwright_store::spreadsheet::{SpreadsheetError, read};
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

fn zipped(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in parts {
        writer.start_file(*name, SimpleFileOptions::default()).expect("a part");
        writer.write_all(content).expect("written");
    }
    writer.finish().expect("finished").into_inner()
}

fn ods(rows: &str) -> Vec<u8> {
    let content = format!(
        "<?xml version=\"1.0\"?><office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body>\
         <office:spreadsheet><table:table table:name=\"Old\">{rows}</table:table>\
         </office:spreadsheet></office:body></office:document-content>"
    );
    zipped(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", content.as_bytes()),
        ("META-INF/manifest.xml", b"<manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"/>"),
    ])
}

#[test]
fn an_xlsx_gives_values_of_formulas_days_and_every_sheet() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.merge_range(0, 0, 0, 2, "My trials", &Format::new()).expect("merged");
    sheet.write_row(2, 0, ["Day", "wire", "good"]).expect("headings");
    let day = ExcelDateTime::parse_from_str("2026-03-04").expect("a day");
    let as_day = Format::new().set_num_format("d mmm yyyy");
    sheet.write_datetime_with_format(3, 0, &day, &as_day).expect("a day");
    sheet.write_number(3, 1, 1.63).expect("a number");
    sheet.write_formula(3, 2, Formula::new("=20+21").set_result("41")).expect("a formula");
    book.add_worksheet().write_string(0, 0, "other").expect("a cell");
    let tables = read(&book.save_to_buffer().expect("a file")).expect("read");
    assert_eq!(tables.sheets.len(), 2);
    assert_eq!(tables.sheets[0].rows[0], ["My trials"]);
    assert_eq!(tables.sheets[0].rows[3], ["2026-03-04", "1.63", "41"]);
}

#[test]
fn an_ods_gives_numbers_days_and_repeats() {
    let tables = read(&ods(
        "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>Day</text:p></table:table-cell>\
         <table:table-cell office:value-type=\"string\"><text:p>wire</text:p></table:table-cell></table:table-row>\
         <table:table-row table:number-rows-repeated=\"2\"><table:table-cell office:value-type=\"date\" \
         office:date-value=\"2026-03-04\"><text:p>4 Mar</text:p></table:table-cell>\
         <table:table-cell office:value-type=\"float\" office:value=\"1.63\"><text:p>1,63</text:p></table:table-cell>\
         </table:table-row><table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell \
         table:number-columns-repeated=\"1024\"/></table:table-row>",
    ))
    .expect("read");
    assert_eq!(tables.sheets[0].rows.len(), 3);
    assert_eq!(tables.sheets[0].rows[2], ["2026-03-04", "1.63"]);
}

#[test]
fn repeats_and_far_cells_that_would_fill_the_memory_are_refused() {
    let cell = "<table:table-cell office:value-type=\"float\" office:value=\"1\"";
    let rows = read(&ods(&format!(
        "<table:table-row table:number-rows-repeated=\"1000000\">{cell}/></table:table-row>"
    )));
    assert!(matches!(rows, Err(SpreadsheetError::TooManyRows { .. })), "{rows:?}");
    let columns = read(&ods(&format!(
        "<table:table-row>{cell} table:number-columns-repeated=\"16000\"/></table:table-row>"
    )));
    assert!(matches!(columns, Err(SpreadsheetError::TooManyColumns { .. })), "{columns:?}");
    let mut book = Workbook::new();
    book.add_worksheet().write_string(1_048_575, 16_383, "far").expect("a cell");
    let far = read(&book.save_to_buffer().expect("a file"));
    assert!(matches!(far, Err(SpreadsheetError::TooManyColumns { .. })), "{far:?}");
}

#[test]
fn a_file_that_unpacks_to_far_more_is_refused() {
    let nothing = vec![b' '; 80 * 1024 * 1024];
    let bomb = zipped(&[("xl/workbook.xml", b"<workbook/>"), ("xl/sharedStrings.xml", &nothing)]);
    assert!(bomb.len() < 1024 * 1024, "{}", bomb.len());
    assert!(matches!(read(&bomb), Err(SpreadsheetError::UnpacksTooFar)));
}

#[test]
fn locked_old_broken_and_foreign_files_are_refused_in_words() {
    let old = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];
    assert!(read(&old).expect_err("old").to_string().contains("password"));
    assert!(matches!(read(b"PK\x03\x04 cut off"), Err(SpreadsheetError::Broken { .. })));
    assert!(matches!(read(&zipped(&[("a.txt", b"x")])), Err(SpreadsheetError::NoTable)));
    assert!(matches!(read(b"\x89PNG\r\n\x1a\n\0\0"), Err(SpreadsheetError::NoTable)));
    assert!(matches!(read(b" \n\n"), Err(SpreadsheetError::Empty)));
    assert!(matches!(read(&vec![b'a'; 5 * 1024 * 1024 + 1]), Err(SpreadsheetError::TooLarge)));
    let locked = zipped(&[
        ("content.xml", b"<x/>"),
        ("META-INF/manifest.xml", b"<m><manifest:encryption-data/></m>"),
    ]);
    assert!(matches!(read(&locked), Err(SpreadsheetError::Locked)));
}

#[test]
fn text_is_read_with_any_separator_and_usual_encoding() {
    for (bytes, cell) in [
        ("\u{feff}wire;rod\n1,63;6,0\n".as_bytes().to_vec(), "1,63"),
        (b"wire\trod\r\n1.63\t6.0\r\n".to_vec(), "1.63"),
        (b"wire,rod\n\"1,63\",6\n".to_vec(), "1,63"),
        (b"wire;rod\nM\xfcnze;6\n".to_vec(), "M\u{fc}nze"),
        (
            "wire\trod\n\u{fc}\t6".encode_utf16().fold(vec![0xff, 0xfe], |mut all, unit| {
                all.extend(unit.to_le_bytes());
                all
            }),
            "\u{fc}",
        ),
    ] {
        let tables = read(&bytes).expect("read");
        assert_eq!(tables.sheets[0].rows[1][0], cell);
        assert_eq!(tables.sheets[0].rows[1].len(), 2, "{tables:?}");
    }
}
