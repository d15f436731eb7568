//! Batches of rings: found by any clue, by the code on a label, and what belongs to one.

use rusqlite::types::Value;

use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Batch, Run, Trial};
use crate::view::View;
use crate::words::{anywhere, in_threes};

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

/// Fewer batches than this are gathered by an index and put in order; more are met soon enough on
/// the way through the days.
const FEW: u64 = 500;

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
        let by_index = search.clues.is_empty() || self.batch_totals(search)?.0 < FEW;
        let (clause, given) = page(search, by_index, skipped, count);
        self.some(&clause, rusqlite::params_from_iter(given))
    }

    /// How many batches fit, and how many rings they hold together.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn batch_totals(&self, search: &BatchSearch) -> Result<(u64, u64), StoreError> {
        // Every page of a search begins with them.
        let name = format!("totals of {search:?}");
        Ok(*self.worked_out(&name, || self.batch_totals_afresh(search))?)
    }

    fn batch_totals_afresh(&self, search: &BatchSearch) -> Result<(u64, u64), StoreError> {
        let (condition, given) = condition(search, true);
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

/// The clause of a page, newest first, and what it is given.
fn page(search: &BatchSearch, by_index: bool, skipped: u32, count: u32) -> (String, Vec<Value>) {
    let (condition, mut given) = condition(search, by_index);
    given.extend([Value::from(count), Value::from(skipped)]);
    (format!("where {condition} order by made_on desc, id desc limit ? offset ?"), given)
}

/// The condition of a search, with what is found by the indexes of words and sizes or past them,
/// and what it is given.
fn condition(search: &BatchSearch, by_index: bool) -> (String, Vec<Value>) {
    let mut condition =
        String::from(if search.gone { "gone_on is not null" } else { "gone_on is null" });
    let mut given = Vec::new();
    for clue in &search.clues {
        condition.push_str(" and ");
        add_clue(clue, by_index, &mut condition, &mut given);
    }
    (condition, given)
}

fn add_clue(clue: &BatchClue, by_index: bool, condition: &mut String, given: &mut Vec<Value>) {
    match clue {
        BatchClue::Word(word) => {
            condition.push('(');
            if by_index && let Some(threes) = in_threes(word) {
                condition.push_str(
                    "(id in (select rowid from batch_words where batch_words match ?)
                      or wire_lot_id in (select id from wire_lot
                                         where name || ' ' || supplier like ? escape '\\')) and ",
                );
                given.extend([Value::from(threes), Value::from(anywhere(word))]);
            }
            condition.push_str(
                "code || ' ' || replace(metal, '_', ' ') || ' ' || temper || ' ' || place || ' '
                    || note || ' ' || wire_typed || ' ' || coalesce(rod_typed, '') || ' '
                    || coalesce((select name || ' ' || supplier from wire_lot
                                 where wire_lot.id = batch.wire_lot_id), '')
                 like ? escape '\\')",
            );
            given.push(Value::from(anywhere(word)));
        }
        BatchClue::Length { low_mm, high_mm } => {
            // A sign before a column keeps its index out.
            let plus = if by_index { "" } else { "+" };
            let within = ["wire_mm", "rod_mm", "inside_mm", "closed_inside_mm"]
                .map(|column| format!("{plus}{column} between ? and ?"));
            condition.push_str(&format!("({})", within.join(" or ")));
            for _ in within {
                given.extend([Value::from(*low_mm), Value::from(*high_mm)]);
            }
        }
        BatchClue::Any(clues) => {
            condition.push_str("(false");
            for clue in clues {
                condition.push_str(" or ");
                add_clue(clue, by_index, condition, given);
            }
            condition.push(')');
        }
    }
}

#[cfg(test)]
mod tests {
    use rusqlite::params_from_iter;

    use super::{BatchClue, BatchSearch, page};
    use crate::{Moment, Store};

    /// A file with so many batches, put in below the records' door to save time: one lot of wire
    /// in seven, three of four gone.
    fn with_batches(count: u32) -> (tempfile::TempDir, Store) {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("bench.linkwright");
        drop(Store::open(&path).expect("opens"));
        let connection = rusqlite::Connection::open(&path).expect("opens");
        connection
            .execute_batch(&format!(
                "insert into action (at_utc, what) values ('2026-11-25T08:30:00.000Z', 'Sample');
                 insert into wire_lot (id, name, metal, temper, diameter_typed, diameter_mm,
                     annealed, mass_typed, supplier, bought_on, note,
                     finished_why)
                 values (1, 'reel 9', 'copper', 'soft', '1 mm', 1, 0, '500 g', 'an invented supplier',
                         '2026-01-01', '', '');
                 with recursive n (i) as (select 1 union all select i + 1 from n where i < {count})
                 insert into batch (code, made_on, wire_lot_id, metal, temper, wire_typed, wire_mm,
                     rod_typed, rod_mm, inside_mm, inside_readings, closed_how, rings, counted_how,
                     place, note, gone_on)
                 select 'L' || i, date('2020-01-01', (i % 2000) || ' days'),
                     case i % 7 when 0 then 1 end,
                     case i % 2 when 0 then 'copper' else 'sterling_925' end, 'soft',
                     (i % 40) || ' mm', 0.4 + (i % 40) * 0.05, null, 2.0 + (i % 50) * 0.25,
                     3.0 + (i % 90) * 0.1, 5, '', 100, 'counted', 'drawer ' || (i % 300), '',
                     case when i % 4 then '2026-01-01' end from n;"
            ))
            .expect("filled");
        drop(connection);
        (folder, Store::open(&path).expect("opens"))
    }

    fn word(word: &str) -> BatchClue {
        BatchClue::Word(word.to_owned())
    }

    fn plan(store: &Store, search: &BatchSearch, by_index: bool) -> String {
        let (clause, given) = page(search, by_index, 0, 50);
        store
            .read(|view| {
                let query = format!("explain query plan select * from batch {clause}");
                let mut statement = view.connection.prepare(&query)?;
                let lines = statement
                    .query_map(params_from_iter(given), |row| row.get::<_, String>(3))?
                    .collect::<Result<Vec<_>, _>>()?;
                Ok::<_, crate::StoreError>(lines.join("\n"))
            })
            .expect("planned")
    }

    #[test]
    fn words_and_sizes_are_looked_up_and_the_shelf_is_read_in_the_order_of_days() {
        let (_folder, store) = with_batches(20_000);
        let of = |clue, gone| BatchSearch { clues: vec![clue], gone };
        let size = BatchClue::Length { low_mm: 1.24, high_mm: 1.26 };
        for (search, index) in [
            (of(word("drawer"), false), "batch_words VIRTUAL TABLE INDEX"),
            (of(word("reel"), false), "batch_of_lot (wire_lot_id=?)"),
            (of(size.clone(), true), "batch_of_inside (inside_mm>? AND inside_mm<?)"),
        ] {
            let how = plan(&store, &search, true);
            assert!(how.contains(index), "{how}");
            assert!(!how.contains("SCAN batch\n"), "{how}");
        }
        for (search, index) in [
            (of(word("copper"), false), "batch_on_shelf"),
            (of(size, true), "batch_gone"),
            (BatchSearch { clues: Vec::new(), gone: false }, "batch_on_shelf"),
        ] {
            let how = plan(&store, &search, false);
            assert!(how.contains(&format!("SCAN batch USING INDEX {index}")), "{how}");
            assert!(!how.contains("TEMP B-TREE"), "{how}");
        }
    }

    #[test]
    fn a_search_finds_the_same_batches_by_index_and_past_it() {
        let (_folder, store) = with_batches(4_000);
        let size = BatchClue::Length { low_mm: 2.0, high_mm: 2.3 };
        for clues in [
            vec![word("opper")],
            vec![word("invented"), word("drawer")],
            vec![word("ER 3"), size.clone()],
            vec![size.clone()],
            vec![BatchClue::Any(vec![size, word("REEL")])],
            vec![word("l1")],
        ] {
            for gone in [false, true] {
                let search = BatchSearch { clues: clues.clone(), gone };
                let found = |by_index| {
                    let (clause, given) = page(&search, by_index, 0, 10_000);
                    store
                        .read(|view| {
                            view.some::<crate::records::Batch>(&clause, params_from_iter(given))
                        })
                        .expect("read")
                };
                let all = found(true);
                assert!(all.len() > 3, "{}", all.len());
                assert!(all == found(false), "{search:?}");
                let totals = store.read(|view| view.batch_totals(&search)).expect("read");
                assert_eq!(totals.0, all.len() as u64);
            }
        }
    }

    #[test]
    fn a_batch_that_was_moved_is_found_where_it_is_now() {
        let (_folder, store) = with_batches(10);
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let found = |place: &str| {
            let search = BatchSearch { clues: vec![word(place)], gone: false };
            store.read(|view| view.batches(&search, 0, 50)).expect("read").len()
        };
        let id = crate::Id::<crate::records::Batch>::new(8);
        let mut batch = store.read(|view| view.get(id)).expect("there");
        batch.place = "cupboard".to_owned();
        store.act(now, "Moved", |act| act.change(id, &batch)).expect("saved");
        assert_eq!((found("cupboard"), found("drawer")), (1, 1));
        store.act(now, "Removed", |act| act.remove(id)).expect("saved");
        assert_eq!((found("cupboard"), found("drawer")), (0, 1));
        store.undo_last(now).expect("undone");
        store.undo_last(now).expect("undone");
        assert_eq!((found("cupboard"), found("drawer")), (0, 2));
        assert_eq!(crate::check(store.path()).expect("checked").troubles, []);
    }
}
