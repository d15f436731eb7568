//! `run-sheet --trials`: the sheet of an order with what a table of trials teaches.

use std::fs;

use serde_json::Value;

use crate::linkwright::{linkwright, stderr, stdout};

const ORDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/necklace.toml");

/// Coils of the necklace's wire and rod under the blade of its workshop: 45 turns, two lost at the
/// ends, three at the stop.
fn trials(good: [u32; 4]) -> String {
    let mut text = "wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,temper,\
                    taped,lube,operator,axis_height_mm,turns,entry_lost,stop_lost,crushed,uncut,\
                    deformed,good\n"
        .to_owned();
    for good in good {
        text.push_str(&format!(
            "1.02,4,\"small, thin\",31.75,0.25,250,sterling,soft,1,1,,14.375,45,2,3,0,0,{},{good}\n",
            40 - good
        ));
    }
    text
}

fn coils(with: Option<&str>) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("trials.csv");
    let mut words = vec!["run-sheet", ORDER, "--json"];
    let name = path.display().to_string();
    if let Some(trials) = with {
        fs::write(&path, trials).expect("written");
        words.extend(["--trials", name.as_str()]);
    }
    let output = linkwright(&words);
    assert!(output.status.success(), "{}", stderr(&output));
    let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    answer["answer"]["sheets"][0]["coils"].clone()
}

#[test]
fn coils_losses_and_odds_follow_the_table() {
    let plain = coils(None);
    assert_eq!((&plain["coils"], &plain["odds"]["known"]), (&3.into(), &false.into()));
    let good = coils(Some(&trials([40, 39, 40, 40])));
    let odds = &good["odds"];
    assert_eq!((&odds["coils_tried_here"], &odds["coils_tried_elsewhere"]), (&4.into(), &0.into()));
    assert!(odds["chance_of_enough"].as_f64() >= Some(0.95), "{odds}");
    assert!(odds["promised_good_rings"].as_u64() >= Some(118), "{odds}");
    let bad = coils(Some(&trials([22, 30, 18, 25])));
    assert!(bad["coils"].as_u64() > good["coils"].as_u64(), "{} {}", bad["coils"], good["coils"]);
    assert!(bad["odds"]["good_share"].as_f64() < odds["good_share"].as_f64());
}

#[test]
fn a_table_without_its_columns_is_refused_by_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("trials.csv");
    fs::write(&path, "wire_mm\n1.02\n").expect("written");
    let output = linkwright(&["run-sheet", ORDER, "--trials", &path.display().to_string()]);
    assert!(!output.status.success());
    assert!(stderr(&output).contains("mandrel_mm"), "{}", stderr(&output));
}
