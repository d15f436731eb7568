//! Which column is which, and what is said once for all rows.

use super::columns::guess;
use crate::spreadsheet::Sheet;
use crate::trials::{DateOrder, TrialEntry};

/// Units a column of bare numbers can be said to be in; the first means that each cell says its own.
pub const UNITS: &[(&str, &str)] = &[
    ("", "each cell says its own"),
    ("mm", "millimetres"),
    ("in", "inches"),
    ("thou", "thou"),
    ("awg", "AWG numbers"),
    ("swg", "British SWG numbers"),
];

/// What a comma in a number means throughout the table.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CommaMeans {
    /// Asked where it could be either.
    #[default]
    Asked,
    /// The decimal sign.
    Decimal,
}

/// One column.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ColumnMatch {
    /// Name of the field; "" if the column is left out.
    pub field: String,
    /// Unit of its bare numbers; "" if each cell says its own.
    pub unit: String,
}

/// The whole match.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Matching {
    /// Place of the first line of the heading, from 0.
    pub heading_row: usize,
    /// Lines of the heading: 1 or more.
    pub heading_lines: usize,
    /// One for each column.
    pub columns: Vec<ColumnMatch>,
    /// What holds where a row says nothing.
    pub otherwise: TrialEntry,
    /// Whether rows without an outcome are judged by their counts.
    pub judge_by_counts: bool,
    /// What a comma means.
    pub comma: CommaMeans,
    /// Order of day and month.
    pub dates: DateOrder,
}

/// Whether a field is a size, whose bare numbers need a unit.
#[must_use]
pub fn is_size(field: &str) -> bool {
    matches!(field, "wire" | "rod" | "blade_diameter" | "projection" | "inside")
}

/// Whether a cell says more than a number: a unit, an inch sign.
pub(super) fn says_unit(cell: &str) -> bool {
    cell.contains(|letter: char| letter.is_alphabetic() || "\"'#\u{2033}\u{201d}".contains(letter))
}

/// The row that looks most like a heading, from 0.
#[must_use]
pub fn heading_row(sheet: &Sheet) -> usize {
    const LOOKED_AT: usize = 20;
    let known = |row: &[String]| row.iter().filter(|cell| guess(cell).field.is_some()).count();
    let mut best: Option<(usize, usize)> = None;
    for (at, row) in sheet.rows.iter().take(LOOKED_AT).enumerate() {
        let words = known(row);
        if words >= 2 && best.is_none_or(|(_, most)| words > most) {
            best = Some((at, words));
        }
    }
    let filled = |row: &Vec<String>| row.iter().any(|cell| !cell.is_empty());
    best.map_or_else(|| sheet.rows.iter().position(filled).unwrap_or(0), |(at, _)| at)
}

impl Matching {
    /// The match that the headings suggest; a unit only where a heading names it.
    #[must_use]
    pub fn guessed(sheet: &Sheet, heading_row: usize, heading_lines: usize) -> Matching {
        let mut taken: Vec<&str> = Vec::new();
        let columns = headings(sheet, heading_row, heading_lines)
            .iter()
            .map(|heading| {
                let found = guess(heading);
                // Two columns of one kind: the first one is it.
                let field = found.field.filter(|field| !taken.contains(field));
                taken.extend(field);
                let unit = found.unit.filter(|_| field.is_some_and(is_size));
                ColumnMatch {
                    field: field.unwrap_or("").to_owned(),
                    unit: unit.unwrap_or("").to_owned(),
                }
            })
            .collect();
        Matching { heading_row, heading_lines, columns, ..Matching::default() }
    }

    /// The headings, one a column; lines of one heading joined.
    #[must_use]
    pub fn headings(&self, sheet: &Sheet) -> Vec<String> {
        headings(sheet, self.heading_row, self.heading_lines)
    }

    /// The rows under the heading with their numbers as the spreadsheet counts them; blank ones and
    /// repeats of the heading left out.
    pub fn rows<'a>(&self, sheet: &'a Sheet) -> impl Iterator<Item = (usize, &'a [String])> {
        let first = self.heading_row + self.heading_lines;
        let heading = first.checked_sub(1).and_then(|last| sheet.rows.get(last));
        sheet
            .rows
            .iter()
            .enumerate()
            .skip(first)
            .filter(move |(_, row)| {
                row.iter().any(|cell| !cell.trim().is_empty()) && heading != Some(*row)
            })
            .map(|(at, row)| (at + 1, row.as_slice()))
    }

    /// Columns of sizes that hold bare numbers and have no unit said for them: to be asked.
    #[must_use]
    pub fn units_missing(&self, sheet: &Sheet) -> Vec<usize> {
        let is_bare = |cell: &String| !cell.trim().is_empty() && !says_unit(cell);
        let columns = self.columns.iter().enumerate();
        columns
            .filter(|(_, column)| is_size(&column.field) && column.unit.is_empty())
            .filter(|(at, _)| self.rows(sheet).any(|(_, row)| row.get(*at).is_some_and(is_bare)))
            .map(|(at, _)| at)
            .collect()
    }

    /// A field two columns are matched to, if there is one.
    #[must_use]
    pub fn twice(&self) -> Option<&str> {
        let fields: Vec<&str> = self
            .columns
            .iter()
            .map(|column| column.field.as_str())
            .filter(|field| !field.is_empty())
            .collect();
        let mut placed = fields.iter().enumerate();
        placed.find(|(at, field)| fields[..*at].contains(field)).map(|(_, field)| *field)
    }
}

fn headings(sheet: &Sheet, first: usize, lines: usize) -> Vec<String> {
    let columns = sheet.rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut out = vec![String::new(); columns];
    for line in first..first + lines {
        let mut merged = "";
        for (column, heading) in out.iter_mut().enumerate() {
            let cell = sheet.rows.get(line).and_then(|row| row.get(column));
            let cell = cell.map_or("", |cell| cell.trim());
            if !cell.is_empty() {
                merged = cell;
            }
            // A cell merged over several columns stands in the first of them; the last line is not.
            let cell = if line + 1 < first + lines { merged } else { cell };
            if !cell.is_empty() {
                let join = if heading.is_empty() { "" } else { " " };
                *heading = format!("{heading}{join}{cell}");
            }
        }
    }
    out
}
