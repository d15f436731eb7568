//! A backup put back, and what was there before kept.

use std::fs;

use linkwright_store::export::ExportError;
use linkwright_store::{OpenError, RestoreError, back_up, restore};

use crate::bench::{Bench, add_rod, damage_the_middle, now, rod_names};

/// A closed file with rod r1 whose backup is beside it, and rod "later" added since.
fn with_backup() -> (Bench, std::path::PathBuf) {
    let bench = Bench::with_rods(1);
    let backup = bench.folder.path().join("yesterday.linkwright");
    back_up::<ExportError>(&bench.file, &backup).expect("made");
    add_rod(&bench.open(), "later");
    (bench, backup)
}

#[test]
fn a_restored_backup_is_in_place_and_the_replaced_file_is_kept() {
    let (bench, backup) = with_backup();
    let before = bench.bytes();
    let restored = restore(&bench.file, &backup, now()).expect("restored");
    assert_eq!(rod_names(&bench.open()), ["r1"]);
    let replaced = restored.replaced.expect("there was one");
    assert!(replaced.ends_with("bench-replaced-2026-11-25-083000.linkwright"), "{replaced:?}");
    assert!(fs::read(&replaced).expect("kept") == before);
}

#[test]
fn a_damaged_file_can_be_replaced() {
    let (bench, backup) = with_backup();
    damage_the_middle(&bench.file);
    restore(&bench.file, &backup, now()).expect("restored");
    assert_eq!(rod_names(&bench.open()), ["r1"]);
}

#[test]
fn the_log_of_a_killed_program_is_kept_with_its_file_and_not_played_into_the_backup() {
    let (bench, backup) = with_backup();
    // Copied while open: a file and its log as a killed program leaves them.
    let killed = Bench::new();
    let store = bench.open();
    add_rod(&store, "only in the log");
    let log = |bench: &Bench| bench.folder.path().join("bench.linkwright-wal");
    fs::copy(&bench.file, &killed.file).expect("copied");
    fs::copy(log(&bench), log(&killed)).expect("copied");
    let replaced = restore(&killed.file, &backup, now()).expect("restored").replaced;
    assert_eq!(rod_names(&killed.open()), ["r1"]);
    let kept = Bench { file: replaced.expect("there was one"), ..Bench::new() };
    assert_eq!(rod_names(&kept.open()), ["r1", "later", "only in the log"]);
}

#[test]
fn a_damaged_backup_is_refused_and_the_file_stays() {
    let (bench, backup) = with_backup();
    damage_the_middle(&backup);
    let before = bench.bytes();
    let error = restore(&bench.file, &backup, now()).expect_err("refused");
    assert!(matches!(error, RestoreError::DamagedBackup { .. }), "{error}");
    assert!(bench.bytes() == before);
}

#[test]
fn a_backup_that_is_not_there_or_not_ours_is_refused() {
    let (bench, _) = with_backup();
    let nowhere = bench.folder.path().join("nowhere.linkwright");
    let error = restore(&bench.file, &nowhere, now()).expect_err("refused");
    assert!(matches!(error, RestoreError::Backup(OpenError::Missing { .. })), "{error}");
    let other = Bench::new();
    other.behind().execute_batch("create table song (title text)").expect("made");
    let error = restore(&bench.file, &other.file, now()).expect_err("refused");
    assert!(matches!(error, RestoreError::Backup(OpenError::Foreign { .. })), "{error}");
    assert_eq!(rod_names(&bench.open()), ["r1", "later"]);
}

#[test]
fn nothing_is_restored_over_the_file_of_another_program() {
    let (_, backup) = with_backup();
    let other = Bench::new();
    other.behind().execute_batch("create table song (title text)").expect("made");
    let before = other.bytes();
    let error = restore(&other.file, &backup, now()).expect_err("refused");
    assert!(matches!(error, RestoreError::DataFile(OpenError::Foreign { .. })), "{error}");
    assert!(other.bytes() == before);
}

#[test]
fn nothing_is_restored_over_a_file_in_use() {
    let (bench, backup) = with_backup();
    let store = bench.open();
    let error = restore(&bench.file, &backup, now()).expect_err("refused");
    assert!(matches!(error, RestoreError::DataFile(OpenError::InUse { .. })), "{error}");
    assert_eq!(rod_names(&store), ["r1", "later"]);
}

#[test]
fn a_backup_is_restored_where_there_is_no_file() {
    let (_bench, backup) = with_backup();
    let empty = Bench::new();
    let restored = restore(&empty.file, &backup, now()).expect("restored");
    assert_eq!(restored.replaced, None);
    assert_eq!(rod_names(&empty.open()), ["r1"]);
}
