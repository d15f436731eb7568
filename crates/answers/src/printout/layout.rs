//! Text within 80 columns: rows of label and value, tables, wrapped sentences.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, TableStyle};

use crate::printout::Table;

const COLUMNS: usize = 80;

/// A rule under the headings and nothing else, so that it prints well.
const STYLE: TableStyle =
    TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─'));

/// The rows with their values lined up.
pub fn rows(rows: &[(String, String)]) -> String {
    let width = rows.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0);
    let hanging = " ".repeat(width + 4);
    rows.iter()
        .map(|(label, value)| wrapped(&format!("  {label:<width$}  {value}"), &hanging))
        .collect()
}

/// The table under its title, no wider than the page.
pub fn table(table: &Table) -> String {
    let mut grid = comfy_table::Table::new();
    grid.load_style(STYLE)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(u16::try_from(COLUMNS).unwrap_or(u16::MAX))
        .set_header(&table.headings);
    for row in &table.rows {
        grid.add_row(row);
    }
    for (index, column) in grid.column_iter_mut().enumerate() {
        if is_numeric(table, index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let mut text = wrapped(&table.title, "");
    for line in grid.lines() {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// What is said below the figures, one paragraph each; said twice is printed once.
pub fn remarks(remarks: &[(&'static str, String)]) -> String {
    let mut text = String::new();
    for (index, (heading, sentence)) in remarks.iter().enumerate() {
        if remarks[..index].iter().any(|(_, said)| said == sentence) {
            continue;
        }
        if text.is_empty() {
            text.push('\n');
        }
        text.push_str(&wrapped(&format!("{heading}: {sentence}"), "  "));
    }
    text
}

/// The text broken at spaces, every line after the first behind `hanging`.
pub fn wrapped(text: &str, hanging: &str) -> String {
    let mut out = String::new();
    let mut column = 0;
    for (index, word) in text.split(' ').enumerate() {
        let length = word.chars().count();
        if index > 0 && column + 1 + length > COLUMNS {
            out.push('\n');
            out.push_str(hanging);
            column = hanging.chars().count();
        } else if index > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out.push('\n');
    out
}

fn is_numeric(table: &Table, column: usize) -> bool {
    table.rows.iter().all(|row| {
        row.get(column)
            .is_some_and(|cell| cell.starts_with(|c: char| c.is_ascii_digit() || "+-~".contains(c)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_page() {
        let long = "a sentence that goes on ".repeat(10);
        for line in rows(&[("label".to_owned(), long.clone())]).lines() {
            assert!(line.chars().count() <= COLUMNS, "{line}");
        }
        let table = table(&Table {
            title: long.clone(),
            headings: vec!["one".to_owned(), "two".to_owned()],
            rows: vec![vec!["1.0".to_owned(), long]],
        });
        for line in table.lines() {
            assert!(line.chars().count() <= COLUMNS, "{line}");
        }
    }

    #[test]
    fn values_line_up_and_continue_under_themselves() {
        let text = rows(&[
            ("rod".to_owned(), "4.000 mm".to_owned()),
            ("inside diameter".to_owned(), "4.140 mm ".repeat(10)),
        ]);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[0], "  rod              4.000 mm");
        assert_eq!(lines[1].find('4'), Some(19));
        assert!(lines[2].starts_with(&" ".repeat(19)), "{text}");
    }
}
