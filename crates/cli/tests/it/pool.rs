//! `pool`: a workshop condensed, many merged, and the prior taken by `chart` and `promise`.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use linkwright_store::records::{Blade, Trial};
use linkwright_store::{Moment, Store, StoreError};
use serde_json::{Value, json};

use crate::linkwright::{stderr, stdout};

/// Sixty coils of an invented workshop.
const TRIALS: &str = include_str!("../../../trials/tests/references/data/trials_example.csv");

const CELLS: &str = "\
wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,temper,taped,lube,operator,axis_height_mm
0.8118,5,new one,31.75,0.2,160,copper,half_hard,1,1,,14.388
1.0237,4,new one,31.75,0.2,160,steel304,half_hard,1,1,,14.388
";

/// Runs `linkwright` in a folder that has the trials in two halves, and the cells.
fn run(folder: &Path, words: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_linkwright"));
    program.current_dir(folder).args(words).output().expect("it starts")
}

fn done(folder: &Path, words: &[&str]) -> String {
    let output = run(folder, words);
    assert!(output.status.success(), "{words:?}: {}", stderr(&output));
    stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn refused(folder: &Path, words: &[&str]) -> String {
    let output = run(folder, words);
    assert_eq!(output.status.code(), Some(1), "{words:?}: {}", stdout(&output));
    stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A folder with two workshops' trials, their condensed files and the prior of both.
fn class() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let mut lines = TRIALS.lines();
    let heading = lines.next().expect("a heading");
    let rows: Vec<&str> = lines.collect();
    let (ann, bo) = rows.split_at(rows.len() / 2);
    for (name, rows) in [("ann.csv", ann), ("bo.csv", bo)] {
        let table = format!("{heading}\n{}\n", rows.join("\n"));
        fs::write(folder.path().join(name), table).expect("written");
    }
    fs::write(folder.path().join("cells.csv"), CELLS).expect("written");
    done(folder.path(), &["pool", "condense", "--trials", "ann.csv", "--out", "ann.json"]);
    done(folder.path(), &["pool", "condense", "--trials", "bo.csv", "--out", "bo.json"]);
    done(folder.path(), &["pool", "merge", "ann.json", "bo.json", "--out", "prior.json"]);
    folder
}

fn widths(folder: &Path, with: &[&str]) -> Vec<f64> {
    let mut words = vec!["chart", "--cells", "cells.csv", "--json"];
    words.extend(with);
    let answer: Value = serde_json::from_str(&done(folder, &words)).expect("JSON");
    let width = |cell: &Value| {
        cell["q_80"][1].as_f64().expect("a number") - cell["q_80"][0].as_f64().expect("a number")
    };
    answer["cells"].as_array().expect("cells").iter().map(width).collect()
}

#[test]
fn other_workshops_narrow_the_bands_of_one_without_trials() {
    let folder = class();
    let (bare, pooled) =
        (widths(folder.path(), &[]), widths(folder.path(), &["--prior", "prior.json"]));
    assert!(
        pooled.iter().zip(&bare).all(|(pooled, bare)| *pooled < 0.9 * bare),
        "{pooled:?} {bare:?}"
    );
    let text = done(folder.path(), &["chart", "--cells", "cells.csv", "--prior", "prior.json"]);
    assert!(text.contains("geometry with the trials of 2 other workshops (60 coils)"), "{text}");
    let promise = ["promise", "--cells", "cells.csv", "--rings", "100", "--turns", "40"];
    let with = [promise.as_slice(), &["--prior", "prior.json"]].concat();
    assert!(done(folder.path(), &with).contains("2 other workshops"));
}

#[test]
fn a_prior_and_a_condensed_file_are_shown_in_words_and_json() {
    let folder = class();
    let text = done(folder.path(), &["pool", "show", "prior.json"]);
    assert!(text.contains("the trials of 2 other workshops (60 coils)"), "{text}");
    assert!(text.contains("margin past the near wall, step 1") && text.contains('±'), "{text}");
    let shown = done(folder.path(), &["pool", "show", "prior.json", "--json"]);
    let shown: Value = serde_json::from_str(&shown).expect("JSON");
    let first = &shown["answer"]["gates"]["severed"][0];
    assert_eq!(first["term"], json!("intercept"));
    assert!(first["pooled"]["sd"].as_f64() < first["geometry"]["sd"].as_f64(), "{first}");
    let text = done(folder.path(), &["pool", "show", "ann.json"]);
    assert!(text.contains("30 coils") && text.contains("copper_c110"), "{text}");
}

#[test]
fn a_file_that_stands_twice_or_is_of_another_kind_is_refused() {
    let folder = class();
    let twice = ["pool", "merge", "ann.json", "bo.json", "ann.json", "--out", "new.json"];
    let said = refused(folder.path(), &twice);
    assert!(said.contains("ann.json says the same as ann.json"), "{said}");
    let said = refused(folder.path(), &["pool", "merge", "prior.json", "--out", "new.json"]);
    assert!(said.contains("must be a file of format \"linkwright-condensed-workshop\""), "{said}");
    let said = refused(folder.path(), &["chart", "--cells", "cells.csv", "--prior", "ann.json"]);
    assert!(said.contains("must be a file of format \"linkwright-portable-prior\""), "{said}");
    assert!(!folder.path().join("new.json").exists());
    // What is there is never written over.
    let over = run(folder.path(), &["pool", "merge", "ann.json", "--out", "bo.json"]);
    assert_eq!(over.status.code(), Some(3));
}

#[test]
fn the_trials_of_a_data_file_are_condensed_without_names() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bench.linkwright");
    let store = Store::open(&path).expect("opens");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    let condense = ["pool", "condense", "--data", "bench.linkwright", "--out", "shop.json"];
    let said = refused(folder.path(), &condense);
    assert!(said.contains("there is no trial in it"), "{said}");
    let blade: Blade = serde_json::from_value(json!({
        "name": "Rosalinds thin one", "diameter_typed": "31.75 mm", "diameter_mm": 31.75,
        "kerf_typed": "0.2 mm", "kerf_mm": 0.2, "teeth": 160, "hub_typed": null, "hub_mm": null,
        "fitted_on": null, "rings_before": 0, "cut_before_mm2": 0.0, "retired_on": null,
        "retired_why": "", "note": ""
    }))
    .expect("a blade");
    let add = |act: &linkwright_store::Act<'_>| {
        let blade = act.add(&blade)?;
        for good in [50, 55, 58] {
            let trial: Trial = serde_json::from_value(json!({
                "tried_on": "2026-11-01", "source": "typed", "metal": "copper_c110",
                "temper": "annealed", "annealed": false, "wire_typed": "1.02 mm", "wire_mm": 1.02,
                "rod_typed": "4 mm", "rod_mm": 4.0, "wire_lot_id": null,
                "blade_id": blade.number(), "blade_name": "Rosalinds thin one",
                "blade_diameter_mm": null, "projection_typed": "1.5 mm", "projection_mm": 1.5,
                "inside_typed": null, "inside_mean_mm": null, "inside_readings": null,
                "turns_wound": 60, "turns_relaxed": 60.0, "good": good, "uncut": 1, "nicked": 1,
                "crushed": 0, "blade_event": "none", "outcome": "good", "run_id": null,
                "coil_number": null, "worker": "Rosalind", "note": "by Rosalind"
            }))
            .expect("a trial");
            act.add(&trial)?;
        }
        Ok::<_, StoreError>(())
    };
    store.act(now, "Added trials", add).expect("saved");
    let text = done(folder.path(), &condense);
    assert!(text.contains("3 coils") && text.contains("roughly which sizes"), "{text}");
    let file = fs::read_to_string(folder.path().join("shop.json")).expect("written");
    assert!(file.contains("metal:copper_c110"), "{file}");
    for hidden in ["Rosalind", "2026-11", "thin", "31.75"] {
        assert!(!file.contains(hidden), "{hidden}");
    }
}
