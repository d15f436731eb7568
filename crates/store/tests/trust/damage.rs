//! A file that is damaged while it is open, and what a check finds.

use linkwright_store::records::Rod;
use linkwright_store::{OpenError, StoreError, Trouble, check};

use crate::bench::{Bench, add_rod, damage_the_middle};

#[test]
fn a_page_that_goes_bad_under_an_open_file_is_reported_as_damage() {
    let bench = Bench::with_rods(400);
    let store = bench.open();
    let mut bytes = bench.bytes();
    // Every page but the first, so that the table that is read is among them.
    bytes[4096..].fill(0xa5);
    std::fs::write(&bench.file, bytes).expect("written");
    let error = store.read(|view| view.all::<Rod>()).expect_err("unreadable");
    assert!(matches!(error, StoreError::Damaged { .. }), "{error}");
}

#[test]
fn a_sound_file_is_reported_with_its_records_and_stays_as_it_is() {
    let bench = Bench::with_rods(3);
    let before = bench.bytes();
    let report = check(&bench.file).expect("checked");
    assert_eq!(report.troubles, []);
    assert!(report.records.contains(&("rod", 3)), "{report:?}");
    assert!(bench.bytes() == before);
    assert_eq!(bench.names(), ["bench.linkwright", "bench.linkwright.lock"]);
}

#[test]
fn a_file_in_use_can_be_checked_with_what_was_saved_a_moment_ago() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    let report = check(&bench.file).expect("checked");
    assert_eq!(report.troubles, []);
    assert!(report.records.contains(&("rod", 1)), "{report:?}");
}

#[test]
fn a_damaged_page_is_found() {
    let bench = Bench::with_rods(40);
    damage_the_middle(&bench.file);
    let report = check(&bench.file).expect("checked");
    assert!(
        report.troubles.iter().any(|trouble| matches!(trouble, Trouble::Damaged { .. })),
        "{report:?}"
    );
}

#[test]
fn a_record_that_refers_to_nothing_is_named() {
    let bench = Bench::with_rods(1);
    let behind = bench.behind();
    behind.pragma_update(None, "foreign_keys", false).expect("off");
    behind
        .execute(
            "insert into run (id, frozen_sheet_id, name, started_at, step, coil_number,
                              anneal_skipped, note)
             values (7, 99, 'Monday', '2026-11-25T08:30:00.000Z', 'wind', 1, 0, '')",
            [],
        )
        .expect("slipped in");
    drop(behind);
    let said: Vec<String> =
        check(&bench.file).expect("checked").troubles.iter().map(Trouble::to_string).collect();
    assert_eq!(said, ["run number 7 refers to a frozen_sheet that is not there"]);
}

#[test]
fn a_record_that_cannot_be_read_is_named_and_the_others_are_read() {
    let bench = Bench::with_rods(2);
    let behind = bench.behind();
    behind
        .execute_batch(
            "insert into ring_order (id, name, asked_on, buyer, note)
                 values (1, 'Necklace', '2026-11-20', '', '');
             insert into frozen_sheet (id, order_id, line_name, frozen_at, program_version,
                                       inputs, answer)
                 values (3, 1, 'rings', 'yesterday', '0.1.0', '{}', '{}'),
                        (4, 1, 'rings', '2026-11-25T08:30:00.000Z', '0.1.0', '{}', '{}');",
        )
        .expect("slipped in");
    drop(behind);
    let report = check(&bench.file).expect("checked");
    assert!(report.records.contains(&("run sheet", 1)), "{report:?}");
    assert!(
        matches!(report.troubles[..], [Trouble::Unreadable { record: "run sheet", number: 3, .. }]),
        "{report:?}"
    );
}

#[test]
fn a_file_that_is_not_there_is_not_made_by_a_check() {
    let bench = Bench::new();
    assert!(matches!(check(&bench.file), Err(OpenError::Missing { .. })));
    assert!(bench.names().is_empty());
}
