//! Batches of rings are found by what somebody remembers of them.

use linkwright_store::records::Batch;
use linkwright_store::{BatchClue, BatchSearch, Moment, Store, StoreError};

fn batch(code: &str, metal: &str, wire_mm: f64, inside_mm: f64, place: &str) -> Batch {
    Batch {
        code: code.to_owned(),
        made_on: "2026-11-20".to_owned(),
        run_id: None,
        wire_lot_id: None,
        metal: metal.to_owned(),
        temper: "soft".to_owned(),
        wire_typed: format!("{wire_mm} mm"),
        wire_mm,
        rod_typed: None,
        rod_mm: None,
        inside_mm: Some(inside_mm),
        inside_readings: Some(10),
        closed_inside_mm: None,
        closed_how: String::new(),
        rings: 120,
        rings_uncertainty: None,
        counted_how: "one by one".to_owned(),
        place: place.to_owned(),
        note: String::new(),
        gone_on: None,
    }
}

fn found(store: &Store, clues: Vec<BatchClue>) -> Vec<String> {
    let search = BatchSearch { clues, gone: false };
    let batches = store.read(|view| view.batches(&search, 0, 50)).expect("a search");
    batches.into_iter().map(|batch| batch.record.code).collect()
}

#[test]
fn a_batch_is_found_by_metal_size_or_place_and_not_when_it_is_gone() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    let gone = store
        .act(now, "Added batches", |act| {
            act.add(&batch("B001", "sterling_925", 1.02, 4.14, "drawer 3"))?;
            act.add(&batch("B002", "copper", 1.29, 5.18, "tin 100%"))?;
            act.add(&batch("B003", "copper", 1.02, 3.9, "drawer 3"))
        })
        .expect("saved");
    let word = |text: &str| BatchClue::Word(text.to_owned());
    let wire = BatchClue::Length { low_mm: 1.015, high_mm: 1.025 };
    let inside = BatchClue::Length { low_mm: 5.175, high_mm: 5.185 };
    assert_eq!(found(&store, vec![word("sterling")]), ["B001"]);
    assert_eq!(found(&store, vec![word("DRAWER"), wire.clone()]), ["B003", "B001"]);
    assert_eq!(found(&store, vec![word("copper"), wire.clone()]), ["B003"]);
    assert_eq!(found(&store, vec![inside.clone()]), ["B002"]);
    assert_eq!(found(&store, vec![BatchClue::Any(vec![inside, word("b001")])]), ["B002", "B001"]);
    // A percent sign is a sign like any other, not "anything".
    assert_eq!(found(&store, vec![word("100%")]), ["B002"]);
    assert!(found(&store, vec![word("1%0")]).is_empty());

    store
        .act(now, "Batch used up", |act| {
            let mut batch = act.get(gone)?;
            batch.gone_on = Some("2026-11-25".to_owned());
            act.change(gone, &batch)
        })
        .expect("saved");
    assert_eq!(found(&store, vec![wire]), ["B001"]);
    let search = BatchSearch { clues: Vec::new(), gone: true };
    let totals = store.read(|view| view.batch_totals(&search)).expect("totals");
    assert_eq!(totals, (1, 120));
}

#[test]
fn a_label_is_read_whatever_its_case_and_a_free_code_is_free() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    store
        .act(now, "Added a batch", |act| act.add(&batch("B002", "copper", 1.0, 4.0, "")))
        .expect("saved");
    let (found, free) = store
        .read::<_, StoreError>(|view| Ok((view.batch_of_code("b002")?, view.free_batch_code()?)))
        .expect("read");
    assert_eq!(found.map(|batch| batch.record.code).as_deref(), Some("B002"));
    assert_eq!(free, "B003");
}
