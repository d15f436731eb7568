//! What is refused at opening, and that a refused file is left as it was.

use std::fs;
use std::path::Path;

use linkwright_store::{OpenError, Store};
use rusqlite::Connection;

use crate::bench::{Bench, add_rod, damage_the_middle, rod_names};

/// Why the file is refused; panics if that changed a byte of it.
fn refused(bench: &Bench) -> OpenError {
    let before = bench.bytes();
    let error = Store::open(&bench.file).expect_err("refused");
    assert!(bench.bytes() == before, "refused, yet changed: {error}");
    error
}

#[test]
fn a_new_file_is_made_and_closing_it_leaves_nothing_but_the_file_and_its_lock() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    assert_eq!(rod_names(&store), ["4.0"]);
    drop(store);
    assert_eq!(bench.names(), ["bench.linkwright", "bench.linkwright.lock"]);
    assert_eq!(rod_names(&bench.open()), ["4.0"]);
}

#[test]
fn a_file_half_made_by_a_killed_program_is_made_anew() {
    let bench = Bench::new();
    fs::write(bench.folder.path().join("bench.linkwright.new"), b"SQLite f").expect("written");
    assert!(rod_names(&bench.open()).is_empty());
    assert_eq!(bench.names(), ["bench.linkwright", "bench.linkwright.lock"]);
}

#[test]
fn a_file_of_a_newer_program_is_refused() {
    let bench = Bench::with_rods(1);
    bench.behind().pragma_update(None, "user_version", 99).expect("marked");
    assert!(matches!(refused(&bench), OpenError::Newer { found: 99, .. }));
    assert_eq!(bench.names(), ["bench.linkwright", "bench.linkwright.lock"]);
}

#[test]
fn a_newer_step_that_stands_only_in_the_log_is_seen_and_the_log_stays() {
    let bench = Bench::with_rods(1);
    let killed = Bench::new();
    let log = killed.folder.path().join("bench.linkwright-wal");
    let newer = bench.behind();
    newer.pragma_update(None, "user_version", 99).expect("marked");
    fs::copy(&bench.file, &killed.file).expect("copied");
    fs::copy(bench.folder.path().join("bench.linkwright-wal"), &log).expect("copied");
    let log_before = fs::read(&log).expect("readable");
    assert!(matches!(refused(&killed), OpenError::Newer { found: 99, .. }));
    assert!(fs::read(&log).expect("readable") == log_before);
}

#[test]
fn a_database_of_another_program_is_refused_and_nothing_is_put_beside_it() {
    let bench = Bench::new();
    bench.behind().execute_batch("create table song (title text)").expect("made");
    assert!(matches!(refused(&bench), OpenError::Foreign { .. }));
    assert_eq!(bench.names(), ["bench.linkwright"]);
}

#[test]
fn what_is_no_database_is_refused() {
    for content in ["", "SQLite format 3\0", "The notebook of the workshop.\n"] {
        let bench = Bench::new();
        fs::write(&bench.file, content).expect("written");
        assert!(matches!(refused(&bench), OpenError::Damaged { .. }), "{content:?}");
        assert_eq!(bench.names(), ["bench.linkwright"], "{content:?}");
    }
}

#[test]
fn a_folder_in_the_place_of_the_file_is_refused() {
    let bench = Bench::new();
    let error = Store::open(bench.folder.path()).expect_err("refused");
    assert!(matches!(error, OpenError::Damaged { .. }), "{error}");
}

#[test]
fn a_file_cut_short_is_refused() {
    let bench = Bench::with_rods(40);
    let bytes = bench.bytes();
    fs::write(&bench.file, &bytes[..bytes.len() / 2]).expect("written");
    let error = refused(&bench);
    assert!(matches!(error, OpenError::Damaged { .. }), "{error}");
}

#[test]
fn a_file_with_a_damaged_page_is_refused() {
    let bench = Bench::with_rods(40);
    damage_the_middle(&bench.file);
    let error = refused(&bench);
    assert!(matches!(error, OpenError::Damaged { .. }), "{error}");
    assert!(error.to_string().contains("linkwright restore"), "{error}");
}

#[test]
fn a_log_whose_file_is_gone_is_not_taken_for_that_of_a_new_one() {
    let bench = Bench::new();
    let log = bench.folder.path().join("bench.linkwright-wal");
    fs::write(&log, b"what was saved last").expect("written");
    let error = Store::open(&bench.file).expect_err("refused");
    assert!(matches!(error, OpenError::Damaged { .. }), "{error}");
    assert_eq!(fs::read(&log).expect("still there"), b"what was saved last");
    assert!(!bench.file.exists());
}

#[test]
fn a_file_marked_read_only_is_refused() {
    let bench = Bench::with_rods(1);
    let mut marks = fs::metadata(&bench.file).expect("there").permissions();
    marks.set_readonly(true);
    fs::set_permissions(&bench.file, marks).expect("marked");
    let error = refused(&bench);
    assert!(matches!(error, OpenError::ReadOnly { .. }), "{error}");
}

#[test]
fn a_missing_folder_is_not_made_up() {
    let bench = Bench::new();
    let elsewhere = bench.folder.path().join("mistyped/bench.linkwright");
    let error = Store::open(&elsewhere).expect_err("refused");
    assert!(matches!(error, OpenError::Folder { .. }), "{error}");
    assert!(bench.names().is_empty());
}

#[test]
fn a_file_that_is_open_is_not_opened_a_second_time() {
    let bench = Bench::new();
    let first = bench.open();
    let error = Store::open(&bench.file).expect_err("refused");
    assert!(matches!(error, OpenError::InUse { .. }), "{error}");
    drop(first);
    bench.open();
}

/// A file of ours before its first step, as no program leaves it, steps like one of an earlier version.
fn before_the_first_step(file: &Path) {
    let connection = Connection::open(file).expect("a database");
    connection.pragma_update(None, "application_id", 0x4c6b_5772).expect("marked");
}

#[test]
fn an_earlier_file_is_backed_up_before_it_is_brought_to_today() {
    let bench = Bench::new();
    before_the_first_step(&bench.file);
    add_rod(&bench.open(), "4.0");
    let backups = bench.folder.path().join("backups");
    let kept = Connection::open(backups.join("bench-before-step-001.linkwright")).expect("kept");
    let tables: u32 = kept
        .query_row("select count(*) from sqlite_schema", [], |row| row.get(0))
        .expect("readable");
    assert_eq!(tables, 0, "as it was before the step");
}

#[test]
fn without_a_backup_no_step_is_taken() {
    let bench = Bench::new();
    before_the_first_step(&bench.file);
    // A file where the folder of the backups should be.
    fs::write(bench.folder.path().join("backups"), b"in the way").expect("written");
    let error = Store::open(&bench.file).expect_err("refused");
    assert!(matches!(error, OpenError::Backup { .. }), "{error}");
    let step: u32 = bench
        .behind()
        .pragma_query_value(None, "user_version", |row| row.get(0))
        .expect("readable");
    assert_eq!(step, 0);
}
