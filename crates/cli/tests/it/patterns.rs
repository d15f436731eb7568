//! `patterns check` on the example files, and on one that is wrong.

use serde_json::Value;

use crate::linkwright::{linkwright, stderr, stdout};

fn example(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn a_pattern_by_rough_places_is_checked_and_told_in_the_order_of_linking() {
    let output = linkwright(&["patterns", "check", &example("large-and-steps.toml")]);
    let text = stdout(&output);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.contains("Smallest aspect ratio"), "{text}");
    assert!(text.contains("Ring 5 (small) follows the same path as ring 4."), "{text}");
    assert!(!text.contains("Looked for"), "rough places need no search: {text}");
}

#[test]
fn a_pattern_by_its_order_of_linking_says_in_json_what_was_found() {
    let output = linkwright(&["patterns", "check", &example("skipping-rope.toml"), "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let json: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let answer = &json["answer"];
    assert_eq!(answer["possible"], true);
    let least = answer["aspect_ratio_min"].as_f64().expect("a number");
    // Two wires pass through each ring twice over: the hole bound for four is 2.4142.
    assert!(least > 2.4142 && least < 5.5, "{least}");
    let advance = answer["advance_in_wires"].as_f64().expect("a number");
    // Three hops of at most one inside diameter lead three rings on, one hop leads one on.
    assert!(advance > 0.0 && advance <= 5.5 / 3.0 + 1e-9, "{advance}");
    assert_eq!(answer["search"]["taken"], 1);
    assert_eq!(answer["order"][0]["through"][1]["back"][0], 3);
}

#[test]
fn a_wrong_pattern_file_is_refused_with_line_field_and_value() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.toml");
    let good = std::fs::read_to_string(example("large-and-steps.toml")).expect("an example");
    std::fs::write(&path, good.replace("along_mm = 15.4", "along_mm = -1")).expect("written");
    let path = path.to_str().expect("a plain path");
    let output = linkwright(&["patterns", "check", path, "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let json: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    assert_eq!(json["error"]["field"], "repeat along_mm");
    assert_eq!(json["error"]["given"], "-1");
    assert!(json["error"]["message"].as_str().expect("a sentence").contains("line 19"));
}

#[test]
fn a_pattern_of_ones_own_is_answered_and_drawn_as_any_other() {
    let folder = tempfile::tempdir().expect("a folder");
    let svg = folder.path().join("rope.svg");
    let file = example("skipping-rope.toml");
    let output = linkwright(&[
        "chain",
        &file,
        "--wire",
        "0.8 mm",
        "--inside",
        "4.4 mm",
        "--closed",
        "--json",
        "--svg",
        svg.to_str().expect("a plain path"),
    ]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let json: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let text = json.to_string();
    assert!(text.contains("skipping_rope"), "{text}");
    let drawn = std::fs::read_to_string(svg).expect("a picture");
    assert!(drawn.starts_with("<svg") || drawn.starts_with("<?xml"), "{drawn:.80}");
}
