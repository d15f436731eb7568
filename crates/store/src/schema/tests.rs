//! Every step on a sample of the one before, and what every table of records must have.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;

use super::{APPLICATION_ID, RECORD_TABLES, STEPS, columns_of, known_step, take_step};
use crate::record::Record;
use crate::records::{EachKind, FurtherRing, RingOfPiece, every_kind};
use crate::{Id, Moment, Store, StoreError, check};

/// The rows that programs of a step wrote.
fn sample(step: u32) -> String {
    let path = format!("{}/tests/samples/step_{step:03}.sql", env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// A file as a program that knew `step` steps left it, with that program's rows in it.
fn left_by(step: u32, folder: &Path) -> PathBuf {
    let path = folder.join(format!("step-{step}.linkwright"));
    let mut connection = Connection::open(&path).expect("a file");
    for taken in 0..step {
        let transaction = connection.transaction().expect("begun");
        take_step(&transaction, taken).expect("taken");
        transaction.commit().expect("committed");
    }
    connection.pragma_update(None, "foreign_keys", true).expect("on");
    connection.execute_batch(&sample(step)).expect("the sample fits its step");
    path
}

fn tables(connection: &Connection) -> BTreeSet<String> {
    connection
        // An index of words keeps itself in tables beside it, whose names begin with its own.
        .prepare(
            "select name from sqlite_schema where type = 'table' and name not like 'sqlite_%'
             and name not like '%\\_words\\_%' escape '\\'",
        )
        .expect("prepared")
        .query_map([], |row| row.get(0))
        .expect("queried")
        .collect::<Result<_, _>>()
        .expect("read")
}

fn rows(connection: &Connection, table: &str) -> i64 {
    let query = format!("select count(*) from {table}");
    connection.query_row(&query, [], |row| row.get(0)).expect("counted")
}

#[test]
fn a_file_of_every_earlier_step_opens_with_all_its_rows() {
    let folder = tempfile::tempdir().expect("a folder");
    for step in 1..=known_step() {
        let path = left_by(step, folder.path());
        let before = Connection::open(&path).expect("a file");
        let held: Vec<(String, i64)> = tables(&before)
            .into_iter()
            .map(|table| (table.clone(), rows(&before, &table)))
            .collect();
        drop(before);
        assert!(held.iter().all(|(_, rows)| *rows > 0), "step {step} has a table without a sample");
        drop(Store::open(&path).expect("opens with today's program"));
        let report = check(&path).expect("checked");
        assert_eq!((report.step, report.troubles), (known_step(), Vec::new()), "from step {step}");
        let after = Connection::open(&path).expect("a file");
        for (table, rows_before) in held.iter().filter(|(table, _)| tables(&after).contains(table))
        {
            assert!(rows(&after, table) >= *rows_before, "step {step} lost rows of {table}");
        }
    }
}

#[test]
fn a_sample_can_be_changed_and_taken_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    for step in 1..=known_step() {
        let store = Store::open(&left_by(step, folder.path())).expect("opens");
        let mut changing = ChangeAll { store: &store, now };
        every_kind(&mut changing).expect("changed and taken back");
    }
}

#[test]
fn the_second_ring_size_of_step_6_is_a_further_ring_and_is_taken_back_with_its_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = left_by(6, folder.path());
    let before = Connection::open(&path).expect("a file");
    before
        .execute_batch(
            "insert into action (id, at_utc, what)
                 values (2, '2026-11-03T08:00:00.000Z', 'Added a line');
             insert into order_line (order_id, position, name, kind, metal, temper, wire_typed,
                                     wire_mm, rod_typed, second_wire_typed, second_ring_typed,
                                     second_tolerance_typed)
                 values (1, 2, 'anklet', 'chain', 'copper', 'soft', '1 mm', 1, '4 mm', '0.8 mm',
                         '3 mm inside closed', '0.05 mm');
             insert into action (id, at_utc, what)
                 values (3, '2026-11-03T08:05:00.000Z', 'Renamed it');
             update order_line set name = 'bangle' where name = 'anklet';",
        )
        .expect("as step 6 kept it");
    drop(before);
    let store = Store::open(&path).expect("opens");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    let last_line = || {
        let lines = store.read(|view| view.lines_in_full(Id::new(1))).expect("read");
        lines.into_iter().next_back().expect("a line")
    };
    let bangle = last_line();
    let small = FurtherRing {
        order_line_id: bangle.id,
        size: 2,
        wire_typed: "0.8 mm".to_owned(),
        wire_mm: None,
        ring_typed: Some("3 mm inside closed".to_owned()),
        tolerance_typed: Some("0.05 mm".to_owned()),
        rod_typed: None,
    };
    assert_eq!((bangle.line.name.as_str(), &bangle.further[..]), ("bangle", &[small][..]));
    assert_eq!(store.undo_last(now).expect("undone"), "Renamed it");
    assert_eq!(last_line().line.name, "anklet");
    assert_eq!(store.undo_last(now).expect("undone"), "Added a line");
    assert_eq!(last_line().line.name, "bracelet");
    assert_eq!(store.read(|view| view.count::<FurtherRing>()).expect("read"), 1);
}

#[test]
fn the_second_ring_size_of_a_piece_of_step_8_is_a_further_ring_and_is_taken_back_with_its_piece() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = left_by(8, folder.path());
    let before = Connection::open(&path).expect("a file");
    before
        .execute_batch(
            "insert into action (id, at_utc, what)
                 values (200, '2026-11-27T08:00:00.000Z', 'Measured 20 rings');
             insert into measured_piece (pattern, measured_on, metal, wire_typed, wire_mm,
                                         ring_typed, closed_inside_mm, second_wire_typed,
                                         second_wire_mm, second_ring_typed,
                                         second_closed_inside_mm, rings, length_typed, length_mm,
                                         note)
                 values ('large_and_small', '2026-11-27', 'copper', '1 mm', 1,
                         '6 mm inside closed', 6, '0.8 mm', 0.8, '3.5 mm inside closed', 3.5,
                         20, '97 mm', 97, '');
             insert into action (id, at_utc, what)
                 values (201, '2026-11-27T08:05:00.000Z', 'Noted it');
             update measured_piece set note = 'by hand' where length_mm = 97;",
        )
        .expect("as step 8 kept it");
    drop(before);
    let store = Store::open(&path).expect("opens");
    let now = Moment::parse("2026-11-28T08:30:00Z").expect("a moment");
    let pieces = || store.read(|view| view.pieces_in_full()).expect("read");
    let last = pieces().pop().expect("a piece");
    let small = RingOfPiece {
        measured_piece_id: last.id,
        size: 2,
        wire_typed: "0.8 mm".to_owned(),
        wire_mm: 0.8,
        ring_typed: "3.5 mm inside closed".to_owned(),
        closed_inside_mm: 3.5,
    };
    assert_eq!((last.piece.note.as_str(), &last.further[..]), ("by hand", &[small][..]));
    assert!(pieces()[0].further.is_empty());
    assert_eq!(store.undo_last(now).expect("undone"), "Noted it");
    assert_eq!(pieces().pop().map(|last| last.piece.note).as_deref(), Some(""));
    assert_eq!(store.undo_last(now).expect("undone"), "Measured 20 rings");
    assert_eq!(pieces().len(), 1);
    assert_eq!(store.read(|view| view.count::<RingOfPiece>()).expect("read"), 0);
}

struct ChangeAll<'a> {
    store: &'a Store,
    now: Moment,
}

impl EachKind<StoreError> for ChangeAll<'_> {
    fn kind<T: Record>(&mut self) -> Result<(), StoreError> {
        let before = self.store.read(|view| view.rows(T::TABLE, 0, 10))?;
        for saved in self.store.read(|view| view.all::<T>())? {
            self.store
                .act(self.now, "Put back the same", |act| act.change(saved.id, &saved.record))?;
            let history = self.store.read(|view| view.former_values(saved.id))?;
            let former = history[0].former.clone();
            assert_eq!(
                former.as_ref(),
                before.as_ref().and_then(|rows| rows.first()),
                "{}",
                T::TABLE
            );
            self.store.undo_last(self.now)?;
        }
        assert_eq!(self.store.read(|view| view.rows(T::TABLE, 0, 10))?, before, "{}", T::TABLE);
        Ok(())
    }
}

#[test]
fn the_document_on_the_data_file_names_every_table() {
    let path = format!("{}/../../docs/data-file.md", env!("CARGO_MANIFEST_DIR"));
    let document = fs::read_to_string(path).expect("there");
    for table in tables(&today()) {
        assert!(document.contains(&format!("`{table}`")), "docs/data-file.md lacks {table}");
    }
}

fn today() -> Connection {
    let mut connection = Connection::open_in_memory().expect("a file");
    let transaction = connection.transaction().expect("begun");
    for taken in 0..known_step() {
        take_step(&transaction, taken).expect("taken");
    }
    transaction.commit().expect("committed");
    connection
}

#[test]
fn every_step_has_its_sample_and_marks_the_file() {
    for step in 1..=u32::try_from(STEPS.len()).expect("few") {
        assert!(!sample(step).is_empty());
    }
    let connection = today();
    let id: i32 =
        connection.pragma_query_value(None, "application_id", |row| row.get(0)).expect("read");
    assert_eq!(id, APPLICATION_ID);
}

#[test]
fn every_table_of_records_writes_its_history_down_with_all_columns() {
    let connection = today();
    for table in RECORD_TABLES {
        let columns = columns_of(&connection, table).expect("read");
        for (kind, keeps_former) in [("added", false), ("changed", true), ("removed", true)] {
            let trigger: String = connection
                .query_row(
                    "select sql from sqlite_schema where type = 'trigger' and name = ?1 and tbl_name = ?2",
                    [format!("{table}_{kind}"), (*table).to_owned()],
                    |row| row.get(0),
                )
                .unwrap_or_else(|error| panic!("{table} {kind}: {error}"));
            for column in columns.iter().filter(|_| keeps_former) {
                let kept = format!("'{column}', old.{column}");
                assert!(trigger.contains(&kept), "{table} {kind} does not keep {column}");
            }
        }
    }
}

#[test]
fn what_was_undone_is_found_by_an_index_however_long_the_list_of_actions() {
    let plan: Vec<String> = today()
        .prepare("explain query plan select 1 from action as later where later.undoes = ?1")
        .expect("prepared")
        .query_map([1], |row| row.get("detail"))
        .expect("queried")
        .collect::<Result<_, _>>()
        .expect("read");
    assert!(plan[0].contains("action_of_undone"), "{plan:?}");
}

#[test]
fn every_kind_of_record_has_the_columns_of_its_table_and_every_table_is_known() {
    struct Compare {
        connection: Connection,
        seen: Vec<&'static str>,
    }
    impl EachKind<std::convert::Infallible> for Compare {
        fn kind<T: Record>(&mut self) -> Result<(), std::convert::Infallible> {
            let mut declared = vec!["id".to_owned()];
            declared.extend(T::COLUMNS.iter().map(|column| (*column).to_owned()));
            let mut kept = columns_of(&self.connection, T::TABLE).expect("read");
            declared.sort();
            kept.sort();
            assert_eq!(declared, kept, "{}", T::TABLE);
            self.seen.push(T::TABLE);
            Ok(())
        }
    }
    let mut compare = Compare { connection: today(), seen: Vec::new() };
    let Ok(()) = every_kind(&mut compare);
    assert_eq!(compare.seen, RECORD_TABLES);
    let others = [
        "action",
        "batch_words",
        "blade_tally",
        "change",
        "image",
        "import_staging",
        "setting",
        "trial_words",
    ];
    let known: BTreeSet<String> =
        RECORD_TABLES.iter().chain(&others).map(|table| (*table).to_owned()).collect();
    assert_eq!(
        tables(&compare.connection),
        known,
        "a table without records, or records without history"
    );
}
