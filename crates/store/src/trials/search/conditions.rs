//! A search as conditions of SQL that all hold.

use rusqlite::types::Value;

use super::{Length, SizeClue, TrialFilter, TrialKey};
use crate::words::{anywhere, escaped, in_threes};

/// Conditions that all hold, and the values of their marks in order.
#[derive(Default)]
pub(super) struct Conditions {
    all: Vec<String>,
    given: Vec<Value>,
}

impl Conditions {
    /// All that a filter asks for.
    pub(super) fn of(filter: &TrialFilter) -> Conditions {
        let mut conditions = Conditions::default();
        let outcome = filter.outcome.map(|outcome| outcome.word().to_owned());
        for (condition, value) in [
            ("metal = ?", &filter.metal),
            ("blade_name = ? collate nocase", &filter.blade),
            ("outcome = ?", &outcome),
            ("tried_on >= ?", &filter.from),
            ("tried_on <= ?", &filter.to),
        ] {
            if let Some(value) = value {
                conditions.and(condition, [Value::from(value.clone())]);
            }
        }
        if let Some(temper) = &filter.temper {
            // A table of the metal may word it longer: "half hard wire".
            let longer = format!("{} %", escaped(temper));
            conditions.and(
                "(temper = ? or temper like ? escape '\\')",
                [Value::from(temper.clone()), Value::from(longer)],
            );
        }
        for clue in &filter.sizes {
            let mut given = Vec::new();
            let condition = of_size(clue, &mut given);
            conditions.and(condition, given);
        }
        for word in &filter.words {
            let pattern = Value::from(anywhere(word));
            conditions.and(
                "(metal like ? escape '\\' or temper like ? escape '\\' \
                  or blade_name like ? escape '\\' or note like ? escape '\\')",
                std::iter::repeat_n(pattern, 4),
            );
        }
        conditions
    }

    /// Trials with these words are gathered from the index of words.
    pub(super) fn with_words_by_index(mut self, words: &[&str]) -> Conditions {
        for threes in words.iter().filter_map(|word| in_threes(word)) {
            self.and(
                "id in (select rowid from trial_words where trial_words match ?)",
                [Value::from(threes)],
            );
        }
        self
    }

    /// Only what comes behind a trial, newest first.
    pub(super) fn behind(&mut self, after: Option<&TrialKey>) {
        if let Some(after) = after {
            self.and("(tried_on, id) < (?, ?)", after.values());
        }
    }

    pub(super) fn and(
        &mut self,
        condition: impl Into<String>,
        given: impl IntoIterator<Item = Value>,
    ) {
        self.all.push(condition.into());
        self.given.extend(given);
    }

    /// "where ... ", or nothing, and what it is given.
    pub(super) fn clause(self) -> (String, Vec<Value>) {
        let clause = match self.all.as_slice() {
            [] => String::new(),
            all => format!("where {} ", all.join(" and ")),
        };
        (clause, self.given)
    }
}

fn of_size(clue: &SizeClue, given: &mut Vec<Value>) -> String {
    let mut ends = |length: &Length| given.extend([length.low_mm, length.high_mm].map(Value::from));
    match clue {
        SizeClue::Wire(length) => {
            ends(length);
            "wire_mm between ? and ?".to_owned()
        }
        SizeClue::Rod(length) => {
            ends(length);
            "rod_mm between ? and ?".to_owned()
        }
        SizeClue::Either(length) => {
            ends(length);
            ends(length);
            "(wire_mm between ? and ? or rod_mm between ? and ?)".to_owned()
        }
        SizeClue::Any(clues) => {
            let any: Vec<String> = clues.iter().map(|clue| of_size(clue, given)).collect();
            if any.is_empty() { "false".to_owned() } else { format!("({})", any.join(" or ")) }
        }
    }
}
