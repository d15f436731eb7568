//! Backups: one a day, a fortnight of them, each a whole plain file.

use std::fs;

use linkwright_store::export::ExportError;
use linkwright_store::{DAILY_BACKUPS_KEPT, Moment, StoreError, back_up, by_hand, check};
use time::macros::date;

use crate::bench::{Bench, add_rod, names_in, now, rod_names};

#[test]
fn the_first_opening_of_a_day_makes_a_backup_and_the_second_does_not() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    let today = date!(2026 - 11 - 25);
    let made = store.back_up_daily(today).expect("made").expect("the first of the day");
    add_rod(&store, "5.0");
    assert_eq!(store.back_up_daily(today).expect("nothing to do"), None);
    let copy = Bench { file: made, ..Bench::new() };
    assert_eq!(rod_names(&copy.open()), ["4.0"]);
}

#[test]
fn a_backup_is_one_plain_file_without_a_log() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    store.back_up_daily(date!(2026 - 11 - 25)).expect("made");
    let backups = bench.folder.path().join("backups");
    assert_eq!(names_in(&backups), ["bench-2026-11-25.linkwright"]);
    let plain = rusqlite::Connection::open(backups.join("bench-2026-11-25.linkwright"));
    let mode: String = plain
        .expect("a database")
        .pragma_query_value(None, "journal_mode", |row| row.get(0))
        .expect("read");
    assert_eq!(mode, "delete", "readable from a disk that takes no writing");
}

#[test]
fn a_fortnight_of_daily_backups_is_kept_and_every_other_backup() {
    let bench = Bench::with_rods(1);
    let store = bench.open();
    let backups = bench.folder.path().join("backups");
    back_up::<ExportError>(&bench.file, &by_hand(&bench.file, now())).expect("made");
    fs::write(backups.join("bench-before-step-002.linkwright"), b"kept").expect("written");
    let mut day = date!(2026 - 11 - 20);
    for _ in 0..DAILY_BACKUPS_KEPT + 3 {
        store.back_up_daily(day).expect("made");
        day = day.next_day().expect("a day");
    }
    let names = names_in(&backups);
    assert_eq!(names.len(), DAILY_BACKUPS_KEPT + 2, "{names:?}");
    assert_eq!(names[0], "bench-2026-11-23.linkwright");
    assert!(names.contains(&"bench-2026-11-25-083000.linkwright".to_owned()), "{names:?}");
    assert!(names.contains(&"bench-before-step-002.linkwright".to_owned()), "{names:?}");
}

#[test]
fn a_backup_can_be_made_beside_the_program_that_has_the_file_open() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    let copy = Bench::new();
    back_up::<ExportError>(&bench.file, &copy.file).expect("made");
    add_rod(&store, "5.0");
    assert_eq!(check(&copy.file).expect("checked").troubles, []);
    assert_eq!(rod_names(&copy.open()), ["4.0"]);
}

#[test]
fn a_backup_never_takes_the_place_of_a_file() {
    let bench = Bench::with_rods(1);
    let there = bench.folder.path().join("letters.txt");
    fs::write(&there, b"Dear").expect("written");
    let error = back_up::<ExportError>(&bench.file, &there).expect_err("refused");
    assert!(matches!(error, ExportError::Store(StoreError::File { .. })), "{error}");
    assert_eq!(fs::read(&there).expect("there"), b"Dear");
}

#[test]
fn two_backups_asked_for_in_one_second_have_two_names() {
    let bench = Bench::with_rods(1);
    let moment = Moment::parse("2026-11-25T23:59:59Z").expect("a moment");
    let first = by_hand(&bench.file, moment);
    back_up::<ExportError>(&bench.file, &first).expect("made");
    let second = by_hand(&bench.file, moment);
    assert!(second.ends_with("backups/bench-2026-11-25-235959-2.linkwright"), "{second:?}");
}
