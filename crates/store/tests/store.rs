//! The store through its door.

use linkwright_store::records::Rod;
use linkwright_store::{ChangeKind, Moment, Store, StoreError};

fn now() -> Moment {
    Moment::parse("2026-11-25T08:30:00Z").expect("a moment")
}

fn rod(name: &str, marked_mm: f64) -> Rod {
    Rod {
        name: name.to_owned(),
        marked_typed: format!("{marked_mm} mm"),
        marked_mm,
        measured_typed: None,
        measured_mm: None,
        note: String::new(),
        retired_on: None,
        retired_why: String::new(),
    }
}

#[test]
fn a_changed_record_keeps_its_former_value_and_the_change_can_be_taken_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let odd_mm = 0.1 + 0.2;
    let id = store.act(now(), "Added rod 4", |act| act.add(&rod("4", odd_mm))).expect("saved");
    store.act(now(), "Changed rod 4", |act| act.change(id, &rod("4.0", 4.01))).expect("saved");
    let history = store.read(|view| view.former_values(id)).expect("read");
    assert_eq!(history[0].kind, ChangeKind::Changed);
    assert_eq!(history[0].former.as_ref().expect("kept")["name"], "4");
    assert_eq!(store.undo_last(now()).expect("undone"), "Changed rod 4");
    let back: Result<Rod, StoreError> = store.read(|view| view.get(id));
    assert_eq!(back.expect("there"), rod("4", odd_mm), "to the last bit");
    assert_eq!(store.undo_last(now()).expect("undone"), "Added rod 4");
    assert!(store.read(|view| view.all::<Rod>()).expect("read").is_empty());
    assert!(matches!(store.undo_last(now()), Err(StoreError::Conflict(_))));
}

#[test]
fn an_undo_that_is_sent_twice_takes_back_one_action() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    for name in ["3", "4"] {
        let added: Result<_, StoreError> =
            store.act(now(), "Added a rod", |act| act.add(&rod(name, 3.0)));
        added.expect("saved");
    }
    assert_eq!(store.undo_last_once(now(), "t").expect("undone").as_deref(), Some("Added a rod"));
    assert_eq!(store.undo_last_once(now(), "t").expect("known"), None);
    let rods: Result<_, StoreError> = store.read(|view| view.all::<Rod>());
    assert_eq!(rods.expect("read").len(), 1);
    assert!(store.undo_last_once(now(), "u").expect("undone").is_some(), "another press");
}
