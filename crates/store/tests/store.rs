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
