//! What was chosen so far, as it stands in the address.

use axum::extract::Query;
use axum::http::Uri;
use linkwright_store::spreadsheet::{Sheet, Tables};
use linkwright_store::trials::import::{ColumnMatch, CommaMeans, Matching, heading_row};
use linkwright_store::trials::{DateOrder, TrialEntry};

use crate::error::PageError;
use crate::pages::trials::address::address;

/// The choices by name.
#[derive(Clone, Debug, Default)]
pub(super) struct Steps {
    pairs: Vec<(String, String)>,
}

impl Steps {
    pub(super) fn of(pairs: Vec<(String, String)>) -> Steps {
        Steps { pairs }
    }

    /// The choices of an address's part behind the question mark.
    pub(super) fn parse(text: &str) -> Result<Steps, PageError> {
        let unreadable = |error: &dyn std::fmt::Display| PageError::Unreadable(error.to_string());
        let uri: Uri = format!("/?{text}").parse().map_err(|error| unreadable(&error))?;
        let Query(pairs) = Query::try_from_uri(&uri).map_err(|error| unreadable(&error))?;
        Ok(Steps { pairs })
    }

    pub(super) fn get(&self, name: &str) -> &str {
        self.pairs.iter().find(|(known, _)| known == name).map_or("", |(_, value)| value.trim())
    }

    fn number(&self, name: &str) -> Option<usize> {
        self.get(name).parse().ok()
    }

    /// The address of a step with these choices.
    pub(super) fn at(&self, path: &str) -> String {
        let pairs: Vec<(&str, &str)> =
            self.pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        address(path, &pairs)
    }

    /// The choices as they stand behind the question mark.
    pub(super) fn text(&self) -> String {
        self.at("").trim_start_matches('?').to_owned()
    }

    /// The sheet, and its place.
    pub(super) fn sheet<'a>(&self, tables: &'a Tables) -> Result<(usize, &'a Sheet), PageError> {
        let at = self.number("sheet").unwrap_or(0);
        tables.sheets.get(at).map(|sheet| (at, sheet)).ok_or(PageError::NotFound { what: "sheet" })
    }

    /// The match as chosen; as guessed where nothing was chosen yet.
    pub(super) fn matching(&self, sheet: &Sheet) -> Matching {
        let first =
            self.number("heading").map_or_else(|| heading_row(sheet), |at| at.saturating_sub(1));
        let lines = self.number("lines").unwrap_or(1).clamp(1, 3);
        let mut matching = Matching::guessed(sheet, first, lines);
        if !self.get("chosen").is_empty() {
            for (at, column) in matching.columns.iter_mut().enumerate() {
                *column = ColumnMatch {
                    field: self.get(&format!("f{at}")).to_owned(),
                    unit: self.get(&format!("u{at}")).to_owned(),
                };
            }
        }
        let judge = self.get("otherwise_outcome") == "counts";
        matching.otherwise = TrialEntry {
            tried_on: self.get("otherwise_day").to_owned(),
            metal: self.get("otherwise_metal").to_owned(),
            temper: self.get("otherwise_temper").to_owned(),
            outcome: if judge { String::new() } else { self.get("otherwise_outcome").to_owned() },
            ..TrialEntry::default()
        };
        matching.judge_by_counts = judge;
        if self.get("comma") == "decimal" {
            matching.comma = CommaMeans::Decimal;
        }
        matching.dates = match self.get("dates") {
            "day" => DateOrder::DayFirst,
            "month" => DateOrder::MonthFirst,
            _ => DateOrder::Asked,
        };
        matching
    }
}
