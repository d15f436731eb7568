//! The table read row by row: what would be kept, what cannot be, what is there already.

use linkwright_calc::metal::Catalogue;
use time::{Date, Duration, Month};

use super::matching::{CommaMeans, Matching, is_size, says_unit};
use crate::error::StoreError;
use crate::id::Id;
use crate::records::{Trial, TrialSource};
use crate::spreadsheet::Sheet;
use crate::trials::{FieldWrong, TrialEntry, TrialReader};
use crate::view::View;

/// What an import would do.
#[derive(Clone, Debug, Default)]
pub struct Preview {
    /// Rows that can be kept.
    pub good: Vec<GoodRow>,
    /// Rows that cannot.
    pub bad: Vec<BadRow>,
    /// Rows whose outcome was judged by their counts.
    pub judged: usize,
    /// Rows whose day stood as a day number.
    pub day_numbers: usize,
}

/// A row that can be kept.
#[derive(Clone, Debug)]
pub struct GoodRow {
    /// Its number in the spreadsheet.
    pub row: usize,
    /// What it says.
    pub trial: Trial,
    /// A trial of the same day, wire, rod, blade and counts that is kept already.
    pub kept_as: Option<Id<Trial>>,
}

/// A row that cannot be kept.
#[derive(Clone, Debug)]
pub struct BadRow {
    /// Its number in the spreadsheet.
    pub row: usize,
    /// Its cells.
    pub cells: Vec<String>,
    /// What is wrong: the heading of the column and the complaint.
    pub wrong: Vec<(String, FieldWrong)>,
}

impl BadRow {
    /// Everything that is wrong, as one sentence.
    #[must_use]
    pub fn reason(&self) -> String {
        let each = self.wrong.iter().map(|(column, wrong)| format!("{column}: {}", wrong.why));
        each.collect::<Vec<_>>().join("; ")
    }
}

impl Preview {
    /// The rows that cannot be kept, as they stood, with their number and the reason behind them.
    #[must_use]
    pub fn bad_table(&self, headings: &[String]) -> Vec<Vec<String>> {
        let behind = ["Row".to_owned(), "Reason left out".to_owned()];
        let heading = headings.iter().cloned().chain(behind).collect();
        let rows = self.bad.iter().map(|row| {
            let mut cells = row.cells.clone();
            cells.resize(headings.len(), String::new());
            cells.extend([row.row.to_string(), row.reason()]);
            cells
        });
        std::iter::once(heading).chain(rows).collect()
    }
}

/// Reads every row of a sheet; nothing is kept.
///
/// # Errors
/// If the data file cannot be read.
pub fn preview(
    view: &View<'_>,
    sheet: &Sheet,
    matching: &Matching,
    metals: &Catalogue,
) -> Result<Preview, StoreError> {
    let (blades, lots) = (view.all()?, view.all()?);
    let reader = TrialReader {
        metals,
        blades: &blades,
        lots: &lots,
        source: TrialSource::Imported,
        dates: matching.dates,
    };
    let headings = matching.headings(sheet);
    let mut out = Preview::default();
    for (row, cells) in matching.rows(sheet) {
        let (mut entry, is_day_number) = entry_of(matching, cells);
        let is_judged = matching.judge_by_counts && entry.outcome.is_empty();
        if is_judged {
            entry.outcome = judged(&entry).to_owned();
        }
        match reader.read(&entry) {
            Ok(trial) => {
                let kept_as = view.trial_like(&trial)?.map(|trial| trial.id);
                out.good.push(GoodRow { row, trial, kept_as });
                out.judged += usize::from(is_judged);
                out.day_numbers += usize::from(is_day_number);
            }
            Err(wrong) => {
                let named =
                    wrong.into_iter().map(|wrong| (column_of(matching, &headings, &wrong), wrong));
                out.bad.push(BadRow { row, cells: cells.to_vec(), wrong: named.collect() });
            }
        }
    }
    Ok(out)
}

fn column_of(matching: &Matching, headings: &[String], wrong: &FieldWrong) -> String {
    let column = matching.columns.iter().position(|column| column.field == wrong.field);
    let heading = column.and_then(|at| headings.get(at)).filter(|heading| !heading.is_empty());
    heading.map_or_else(|| wrong.field.replace('_', " "), Clone::clone)
}

/// What a row says, blanks filled with what was said for all rows.
fn entry_of(matching: &Matching, cells: &[String]) -> (TrialEntry, bool) {
    let mut entry = matching.otherwise.clone();
    let mut is_day_number = false;
    for (column, cell) in matching.columns.iter().zip(cells) {
        let mut text = cell.trim().to_owned();
        if column.field.is_empty() || text.is_empty() {
            continue;
        }
        if column.field == "tried_on"
            && let Some(day) = day_of_number(&text)
        {
            text = day.to_string();
            is_day_number = true;
        }
        if is_size(&column.field) {
            if matching.comma == CommaMeans::Decimal && !text.contains('.') {
                text = text.replace(',', ".");
            }
            if !says_unit(&text) && !column.unit.is_empty() {
                text = format!("{text} {}", column.unit);
            }
        }
        entry.type_into(&column.field, text);
    }
    (entry, is_day_number)
}

/// A day kept as a count of days, as spreadsheets do.
fn day_of_number(text: &str) -> Option<Date> {
    let days: f64 = text.parse().ok()?;
    if !(20_000.0..80_000.0).contains(&days) {
        return None;
    }
    let zero = Date::from_calendar_date(1899, Month::December, 30).ok()?;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "bounded above; the time of day is dropped"
    )]
    let whole = days as i64;
    zero.checked_add(Duration::days(whole))
}

/// The rule for rows without an outcome: failed if the blade broke or no ring is good, good if at
/// least nine of ten counted rings are, else poor. Own choice, said on the page.
fn judged(entry: &TrialEntry) -> &'static str {
    let count = |text: &str| text.trim().parse::<u32>().unwrap_or(0);
    let good = u64::from(count(&entry.good));
    let others = [&entry.uncut, &entry.nicked, &entry.crushed];
    let all = good + others.into_iter().map(|text| u64::from(count(text))).sum::<u64>();
    if entry.good.trim().is_empty() {
        ""
    } else if good == 0 || entry.blade_event.to_lowercase().contains("broke") {
        "failed"
    } else if good * 10 >= all * 9 {
        "good"
    } else {
        "poor"
    }
}

#[cfg(test)]
mod tests {
    use super::{day_of_number, judged};
    use crate::trials::TrialEntry;

    #[test]
    fn a_day_number_is_the_day_a_spreadsheet_means() {
        // In the count of common spreadsheets 2000-01-01 is 36526; from memory.
        let day = |text| day_of_number(text).map(|day| day.to_string());
        assert_eq!(day("36526").as_deref(), Some("2000-01-01"));
        assert_eq!(day("36526.75").as_deref(), Some("2000-01-01"));
        assert_eq!(day("12"), None);
    }

    #[test]
    fn rows_are_judged_by_their_counts_as_the_page_says() {
        let row = |good: &str, uncut: &str, event: &str| {
            judged(&TrialEntry {
                good: good.into(),
                uncut: uncut.into(),
                blade_event: event.into(),
                ..TrialEntry::default()
            })
        };
        assert_eq!(row("9", "1", ""), "good");
        assert_eq!(row("8", "1", ""), "poor");
        assert_eq!(row("0", "1", ""), "failed");
        assert_eq!(row("40", "0", "Broke"), "failed");
        assert_eq!(row("", "1", ""), "");
    }
}
