//! `chart --publish`: the data file's chart as a file, by the ending of its name.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use linkwright_answers::chart::{read_cells, trial_columns};
use linkwright_calc::metal::Catalogue;
use linkwright_store::records::{Blade, Holder, Rod, WireLot};
use linkwright_store::{Act, Id, Moment, Store, StoreError};
use serde_json::{Value, json};

use crate::linkwright::{stderr, stdout};

fn run(folder: &Path, words: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_linkwright"));
    let words = [&["chart", "--data", "bench.linkwright"], words].concat();
    program.current_dir(folder).args(words).output().expect("it starts")
}

fn fill(act: &Act<'_>) -> Result<(), StoreError> {
    let blade: Blade = serde_json::from_value(json!({
        "name": "thin one", "diameter_typed": "31.75 mm", "diameter_mm": 31.75,
        "kerf_typed": "0.2 mm", "kerf_mm": 0.2, "teeth": 160, "hub_typed": null, "hub_mm": null,
        "fitted_on": null, "rings_before": 0, "cut_before_mm2": 0.0, "retired_on": null,
        "retired_why": "", "note": ""
    }))
    .expect("a blade");
    let blade: Id<Blade> = act.add(&blade)?;
    act.add(
        &serde_json::from_value::<Holder>(json!({
            "name": "brass", "length_typed": "60 mm", "head_start_typed": null,
            "stop_setback_typed": null, "squash_typed": "0.1 mm", "margin_typed": "0.3 mm",
            "projection_blade_id": blade.number(), "projection_typed": "1.5 mm", "in_use": true,
            "note": ""
        }))
        .expect("a record"),
    )?;
    for mm in [4.0, 5.0] {
        act.add(
            &serde_json::from_value::<Rod>(json!({
                "name": format!("{mm}"), "marked_typed": format!("{mm} mm"), "marked_mm": mm,
                "measured_typed": null, "measured_mm": null, "note": "", "retired_on": null,
                "retired_why": ""
            }))
            .expect("a record"),
        )?;
    }
    act.add(
        &serde_json::from_value::<WireLot>(json!({
            "name": "copper A", "metal": "copper_c110", "temper": "annealed",
            "diameter_typed": "1.02 mm", "diameter_mm": 1.02, "measured_diameter_typed": null,
            "measured_diameter_mm": null, "measured_density_g_cm3": null, "length_typed": null,
            "mass_typed": "500 g", "annealed": false, "price_typed": "0.03 EUR per g",
            "price_date": "2026-10-01", "supplier": "Rosalind", "bought_on": "2026-10-01",
            "note": "", "finished_on": null, "finished_why": ""
        }))
        .expect("a record"),
    )?;
    Ok(())
}

/// A folder with a data file of one wire, two rods and one blade.
fn bench() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    store.act(now, "A bench for a test", fill).expect("saved");
    folder
}

#[test]
fn the_chart_is_published_in_every_form_without_names_or_prices() {
    let folder = bench();
    for name in ["wall.pdf", "chart.html", "chart.xlsx", "chart.csv", "chart.json"] {
        let output = run(folder.path(), &["--publish", name]);
        assert!(output.status.success(), "{name}: {}", stderr(&output));
        assert!(stdout(&output).contains("Draft"), "{name}: {}", stdout(&output));
        let bytes = fs::read(folder.path().join(name)).expect("written");
        let text = String::from_utf8_lossy(&bytes);
        assert!(!text.contains("Rosalind") && !text.contains("EUR"), "{name}");
    }
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("text");
    let cells = read_cells("chart.csv", &read("chart.csv"), &Catalogue::built_in());
    assert_eq!(cells.expect("cells").len(), 2);
    let json: Value = serde_json::from_str(&read("chart.json")).expect("JSON");
    assert_eq!(json["places"].as_array().map(Vec::len), Some(2));
    assert_eq!(json["places"][0]["rests_on"], "worked out");
}

#[test]
fn a_student_copy_is_a_sheet_with_boxes_or_an_empty_table() {
    let folder = bench();
    for name in ["class.pdf", "class.xlsx", "class.csv"] {
        let output = run(folder.path(), &["--publish", name, "--student", "--paper", "letter"]);
        assert!(output.status.success(), "{name}: {}", stderr(&output));
    }
    let table = fs::read_to_string(folder.path().join("class.csv")).expect("text");
    assert_eq!(table.trim(), trial_columns().collect::<Vec<_>>().join(","));
    let words = Command::new("pdftotext").arg(folder.path().join("class.pdf")).arg("-").output();
    let words = stdout(&words.expect("pdftotext (of poppler)"));
    assert!(words.contains("student copy") && words.contains("good of"), "{words}");
}

#[test]
fn another_ending_an_unknown_paper_or_a_file_that_is_there_is_refused() {
    let folder = bench();
    let refused = |words: &[&str], code: i32| {
        let output = run(folder.path(), words);
        assert_eq!(output.status.code(), Some(code), "{words:?}: {}", stdout(&output));
        stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = refused(&["--publish", "chart.doc"], 1);
    assert!(said.contains("ends in .pdf, .html, .xlsx, .csv or .json"), "{said}");
    let said = refused(&["--publish", "chart.html", "--student"], 1);
    assert!(said.contains("a student copy ends in .pdf, .xlsx or .csv"), "{said}");
    let said = refused(&["--publish", "chart.pdf", "--paper", "a5"], 1);
    assert!(said.contains("a4 or letter"), "{said}");
    fs::write(folder.path().join("mine.csv"), "mine").expect("written");
    refused(&["--publish", "mine.csv"], 3);
    assert_eq!(fs::read(folder.path().join("mine.csv")).expect("read"), b"mine");
    refused(&["--publish", "chart.csv", "--cells", "cells.csv"], 2);
}
