//! Batches of rings: found by any clue, by the code on a label, and what belongs to one.

use rusqlite::types::Value;

use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Batch, Run, Trial};
use crate::view::View;

/// One thing somebody remembers of a batch.
#[derive(Clone, Debug, PartialEq)]
pub enum BatchClue {
    /// A word of its code, metal, temper, place, note, or of its lot of wire.
    Word(String),
    /// A length that is its wire, its rod or an inside diameter, between two ends in mm.
    Length {
        /// Low end, mm.
        low_mm: f64,
        /// High end, mm.
        high_mm: f64,
    },
    /// Any one of several clues.
    Any(Vec<BatchClue>),
}

/// Which batches are looked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BatchSearch {
    /// All of these hold.
    pub clues: Vec<BatchClue>,
    /// Those that are gone instead of those on the shelf.
    pub gone: bool,
}

impl View<'_> {
    /// The batches that fit, newest first: so many after the first `skipped`.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn batches(
        &self,
        search: &BatchSearch,
        skipped: u32,
        count: u32,
    ) -> Result<Vec<Saved<Batch>>, StoreError> {
        let (condition, mut given) = condition(search);
        given.push(Value::from(count));
        given.push(Value::from(skipped));
        let clause = format!("where {condition} order by made_on desc, id desc limit ? offset ?");
        self.some(&clause, rusqlite::params_from_iter(given))
    }

    /// How many batches fit, and how many rings they hold together.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn batch_totals(&self, search: &BatchSearch) -> Result<(u64, u64), StoreError> {
        if !search.clues.is_empty() {
            return self.batch_totals_afresh(search);
        }
        // What every look at the list begins with.
        let name = format!("totals of batches, gone: {}", search.gone);
        Ok(*self.worked_out(&name, || self.batch_totals_afresh(search))?)
    }

    fn batch_totals_afresh(&self, search: &BatchSearch) -> Result<(u64, u64), StoreError> {
        let (condition, given) = condition(search);
        let query =
            format!("select count(*), coalesce(sum(rings), 0) from batch where {condition}");
        let (batches, rings): (i64, i64) = self
            .connection
            .prepare_cached(&query)?
            .query_row(rusqlite::params_from_iter(given), |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok((u64::try_from(batches).unwrap_or(0), u64::try_from(rings).unwrap_or(0)))
    }

    /// The batch with this code on its label, whatever the case of its letters.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn batch_of_code(&self, code: &str) -> Result<Option<Saved<Batch>>, StoreError> {
        self.one("where code = ?1 collate nocase order by code = ?1 desc", [code])
    }

    /// A code no batch has yet, for one made by hand.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn free_batch_code(&self) -> Result<String, StoreError> {
        let query = "select coalesce(max(id), 0) from batch";
        let last: i64 = self.connection.prepare_cached(query)?.query_row([], |row| row.get(0))?;
        for number in last + 1.. {
            let code = format!("B{number:03}");
            if self.batch_of_code(&code)?.is_none() {
                return Ok(code);
            }
        }
        unreachable!("some number is free")
    }

    /// The trials recorded from a run, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn trials_from_run(&self, run: Id<Run>) -> Result<Vec<Saved<Trial>>, StoreError> {
        self.some("where run_id = ?1 order by coil_number, id", [run])
    }
}

/// The condition of a search and what it is given.
fn condition(search: &BatchSearch) -> (String, Vec<Value>) {
    let mut condition =
        String::from(if search.gone { "gone_on is not null" } else { "gone_on is null" });
    let mut given = Vec::new();
    for clue in &search.clues {
        condition.push_str(" and ");
        add_clue(clue, &mut condition, &mut given);
    }
    (condition, given)
}

fn add_clue(clue: &BatchClue, condition: &mut String, given: &mut Vec<Value>) {
    match clue {
        BatchClue::Word(word) => {
            condition.push_str(
                "(code || ' ' || replace(metal, '_', ' ') || ' ' || temper || ' ' || place || ' '
                    || note || ' ' || wire_typed || ' ' || coalesce(rod_typed, '') || ' '
                    || coalesce((select name || ' ' || supplier from wire_lot
                                 where wire_lot.id = batch.wire_lot_id), '')
                 like ? escape '\\')",
            );
            given.push(Value::from(like(word)));
        }
        BatchClue::Length { low_mm, high_mm } => {
            condition.push_str("(wire_mm between ? and ?");
            for column in ["rod_mm", "inside_mm", "closed_inside_mm"] {
                condition.push_str(&format!(" or {column} between ? and ?"));
            }
            condition.push(')');
            for _ in 0..4 {
                given.extend([Value::from(*low_mm), Value::from(*high_mm)]);
            }
        }
        BatchClue::Any(clues) => {
            condition.push_str("(false");
            for clue in clues {
                condition.push_str(" or ");
                add_clue(clue, condition, given);
            }
            condition.push(')');
        }
    }
}

/// The word anywhere in a text; its own signs stand for themselves.
fn like(word: &str) -> String {
    let mut pattern = String::from("%");
    for letter in word.chars() {
        if matches!(letter, '%' | '_' | '\\') {
            pattern.push('\\');
        }
        pattern.push(letter);
    }
    pattern.push('%');
    pattern
}

#[cfg(test)]
mod tests {
    use super::like;

    #[test]
    fn a_percent_sign_that_was_typed_is_looked_for_as_it_stands() {
        assert_eq!(like("10 %"), "%10 \\%%");
    }
}
