//! Everything a file holds as one JSON document.

use linkwright_store::export::{Beside, ExportError, json};
use linkwright_store::records::Image;
use linkwright_store::{OpenError, look, record_tables};
use serde_json::Value;

use crate::bench::{Bench, add_rod, now, rod};

fn exported(bench: &Bench, beside: Beside) -> Value {
    let mut document = Vec::new();
    look(&bench.file, |view| json(view, beside, &mut document)).expect("exported");
    serde_json::from_slice(&document).expect("JSON")
}

#[test]
fn every_kind_of_record_is_in_the_document_with_every_column() {
    let bench = Bench::with_rods(1);
    let document = exported(&bench, Beside::default());
    let steps_taken: i64 = bench
        .behind()
        .pragma_query_value(None, "user_version", |row| row.get(0))
        .expect("a data file");
    assert_eq!(document["schema_step"], steps_taken);
    let tables = document["tables"].as_object().expect("tables");
    let names: Vec<&str> = tables.keys().map(String::as_str).collect();
    assert_eq!(names, record_tables());
    assert_eq!(tables["rod"][0]["id"], 1);
    assert_eq!(tables["rod"][0]["marked_mm"], 4.0);
    assert_eq!(tables["rod"][0]["measured_mm"], Value::Null);
    assert!(tables["trial"].as_array().expect("a list").is_empty());
}

#[test]
fn more_rows_than_are_read_in_one_go_come_out_once_each() {
    let bench = Bench::new();
    let store = bench.open();
    let names: Vec<String> = (0..1203).map(|number| format!("rod {number}")).collect();
    store
        .act(now(), "Added many", |act| {
            names.iter().try_for_each(|name| act.add(&rod(name)).map(drop))
        })
        .expect("saved");
    let document = exported(&bench, Beside::default());
    let rods = document["tables"]["rod"].as_array().expect("a list").iter();
    let out: Vec<&str> = rods.map(|rod| rod["name"].as_str().expect("text")).collect();
    assert_eq!(out, names);
}

#[test]
fn pictures_and_history_come_when_asked_for() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    let picture =
        Image { sha256: "00".repeat(32), width_px: 1, height_px: 1, jpeg: vec![0xff, 0xd8, 0xff] };
    store.act(now(), "Added a picture", |act| act.add(&picture)).expect("saved");
    let plain = exported(&bench, Beside::default());
    assert_eq!(plain["tables"]["image"], Value::Null);
    assert_eq!(plain["tables"]["change"], Value::Null);
    let all = exported(&bench, Beside { history: true, images: true });
    assert_eq!(all["tables"]["image"][0]["jpeg"], "/9j/", "base64 of ff d8 ff");
    assert_eq!(all["tables"]["action"][0]["what"], "Added rod 4.0");
    assert_eq!(all["tables"]["change"][0]["record"], "rod");
}

#[test]
fn an_export_of_an_earlier_step_asks_for_the_app_first() {
    let bench = Bench::new();
    bench.behind().pragma_update(None, "application_id", 0x4c6b_5772).expect("marked");
    let error = look(&bench.file, |view| json(view, Beside::default(), Vec::new()));
    assert!(
        matches!(error, Err(ExportError::DataFile(OpenError::Older { found: 0, .. }))),
        "{error:?}"
    );
}
