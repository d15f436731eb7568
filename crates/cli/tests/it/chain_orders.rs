//! Orders of linked patterns, planned from files.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::linkwright::{linkwright, stderr, stdout};

fn example(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../examples")
        .join(name)
        .to_str()
        .expect("UTF-8")
        .to_owned()
}

fn plan(order: &str) -> Value {
    let output = linkwright(&["run-sheet", order, "--json"]);
    assert!(output.status.success(), "{}", stdout(&output));
    serde_json::from_str(&stdout(&output)).expect("JSON")
}

fn sheet<'a>(plan: &'a Value, line: &str) -> &'a Value {
    let sheets = plan["answer"]["sheets"].as_array().expect("sheets");
    sheets.iter().find(|sheet| sheet["line"] == line).unwrap_or_else(|| panic!("{line}"))
}

fn asked(sheet: &Value) -> f64 {
    sheet["to_make"]["asked_rings"].as_f64().expect("a count")
}

fn closed(sheet: &Value) -> f64 {
    sheet["ring"]["closed_inside_diameter_mm"].as_f64().expect("a size")
}

#[test]
fn each_piece_gets_the_rings_that_its_closed_ring_asks_for() {
    let plan = plan(&example("linked-pieces.toml"));
    // European sheet: row pitch d sqrt(3 AR (AR^2 - 4)/(AR + 4)), pairs of rows (AR + 2) d apart, two
    // rings a cell. Source: chain.md, section 6.5.
    let purse = sheet(&plan, "purse side");
    let d = purse["wire_diameter_mm"].as_f64().expect("a size");
    let ar = closed(purse) / d;
    let pitch = d * (3.0 * ar * (ar * ar - 4.0) / (ar + 4.0)).sqrt();
    let cells = (60.0 / pitch).ceil() * (40.0 / ((ar + 2.0) * d)).ceil();
    assert!((asked(purse) - 2.0 * cells).abs() < 1e-9, "{} {cells}", asked(purse));
    // Large and small alternating: two hops of half of both insides; chain.md, section 6.2.
    let (large, small) = (sheet(&plan, "anklet"), sheet(&plan, "anklet, ring size 2"));
    assert!((asked(large) - asked(small)).abs() < 1e-9);
    assert!(closed(large) > closed(small) + 0.5);
    let hop = closed(large) + closed(small);
    // Within a repeat: the ends reach out up to one large ring and two wires.
    let wanted = (240.0 - 12.0) / hop;
    assert!((asked(large) - wanted).abs() < 1.5, "{} {wanted}", asked(large));
    // Doubled cable, closed form: 3.8315 d a pair at AR 4 and 2.7472 at AR 3; chain.md section 6.4.
    let kits = sheet(&plan, "evening class");
    let each = kits["to_make"]["kits"]["rings_each"].as_f64().expect("a count") - 4.0;
    let d = kits["wire_diameter_mm"].as_f64().expect("a size");
    let ar = closed(kits) / d;
    let pair = d * (2.747175 + (3.831502 - 2.747175) * (ar - 3.0));
    assert!((each / 2.0 - 180.0 / pair).abs() < 2.0, "{each} {pair}");
    assert!((asked(kits) - 6.0 * each).abs() < 1e-9);
}

#[test]
fn every_size_of_a_graduated_chain_is_counted() {
    let plan = plan(&example("graduated-cable.toml"));
    let names =
        ["necklace", "necklace, ring size 2", "necklace, ring size 3", "necklace, ring size 4"];
    let sheets = names.map(|name| sheet(&plan, name));
    // Sizes fall and rise: one of the largest and of the smallest in a repeat, two of those between, and
    // two end rings of the largest. Hops of half of both insides each: chain.md, section 6.2.
    let per_cell = [1.0, 2.0, 2.0, 1.0];
    let cells = asked(sheets[3]);
    for (sheet, (per_cell, ends)) in
        sheets.iter().zip(per_cell.into_iter().zip([2.0, 0.0, 0.0, 0.0]))
    {
        assert!((asked(sheet) - per_cell * cells - ends).abs() < 1e-9, "{}", sheet["line"]);
    }
    let repeat: f64 = sheets.iter().zip(per_cell).map(|(sheet, count)| count * closed(sheet)).sum();
    // The end rings and the wires at the ends make up less than a repeat.
    let wanted = (420.0 - 14.0) / repeat;
    assert!((cells - wanted).abs() < 1.0, "{cells} {wanted}");
}

#[test]
fn the_sheet_says_what_is_made_and_what_its_count_rests_on() {
    let plan = plan(&example("linked-pieces.toml"));
    let bracelet = sheet(&plan, "bracelet");
    let linked = &bracelet["linked"];
    assert_eq!(linked["pattern"], "byzantine");
    let piece = linked["piece"].as_str().expect("words");
    for words in ["Byzantine chain round 165.000 mm", "12 mm of ease", "clasp 14 mm", "2 end rings"]
    {
        assert!(piece.contains(words), "{words}: {piece}");
    }
    assert_eq!(linked["basis"]["rests_on"], "worked out");
    // Six rings a repeat, and the two end rings.
    assert!(((asked(bracelet) - 2.0) % 6.0).abs() < 1e-9);
    let text = stdout(&linkwright(&["run-sheet", &example("linked-pieces.toml")]));
    assert!(text.contains("Byzantine chain round"), "{text}");
}

#[test]
fn a_chain_of_one_ring_in_the_next_is_counted_alike_with_and_without_its_pattern() {
    let folder = tempfile::tempdir().expect("a folder");
    let order = fs::read_to_string(example("necklace.toml")).expect("the example");
    let bench = example("bench.toml");
    let named = order.replace("bench.toml", &bench.replace('\\', "/"));
    let with = folder.path().join("with.toml");
    fs::write(&with, named.replace("chain =", "pattern = \"cable_1in1\"\nchain ="))
        .expect("written");
    let with = plan(with.to_str().expect("UTF-8"));
    let without = plan(&example("necklace.toml"));
    let rings = |plan: &Value| asked(&plan["answer"]["sheets"][0]);
    assert!((rings(&with) - rings(&without)).abs() < 1e-9);
}

#[test]
fn rings_that_do_not_link_are_refused_with_what_is_missing() {
    let folder = tempfile::tempdir().expect("a folder");
    let order = fs::read_to_string(example("necklace.toml")).expect("the example");
    let order = order.replace("bench.toml", &example("bench.toml").replace('\\', "/"));
    let write = |name: &str, text: String| {
        let path = folder.path().join(name);
        fs::write(&path, text).expect("written");
        path.to_str().expect("UTF-8").to_owned()
    };
    let refused = |order: &str| {
        let output = linkwright(&["run-sheet", order]);
        assert_eq!(output.status.code(), Some(1), "{}", stdout(&output));
        stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let tight = order.replace("chain =", "pattern = \"full_persian_6in1\"\nchain =");
    let said = refused(&write("tight.toml", tight));
    assert!(
        said.contains("full_persian_6in1 cannot be linked") && said.contains("missing"),
        "{said}"
    );
    let misspelt = order.replace("chain =", "pattern = \"bizantine\"\nchain =");
    let said = refused(&write("misspelt.toml", misspelt));
    assert!(said.contains("pattern") && said.contains("did you mean byzantine?"), "{said}");
    let sheet = order.replace("chain =", "pattern = \"european_4in1_sheet\"\nchain =");
    let said = refused(&write("sheet.toml", sheet));
    assert!(said.contains("is a sheet: sheet = { length"), "{said}");
    let two = order.replace("chain =", "pattern = \"large_and_small\"\nchain =");
    let said = refused(&write("two.toml", two));
    assert!(said.contains("takes 2 ring sizes"), "{said}");
    let stray = order.replace("length = \"450 mm\"", "round = \"380 mm\"");
    let said = refused(&write("stray.toml", stray));
    assert!(said.contains("chain.round is for a linked pattern"), "{said}");
}

/// The necklace as a chain of one ring in the next, with these measured pieces, planned.
fn measured(pieces: &str) -> Result<Value, String> {
    let folder = tempfile::tempdir().expect("a folder");
    let order = fs::read_to_string(example("necklace.toml")).expect("the example");
    let order = order.replace("bench.toml", &example("bench.toml").replace('\\', "/"));
    let line = format!("pattern = \"cable_1in1\"\nmeasured = [{pieces}]\nchain =");
    let path = folder.path().join("order.toml");
    fs::write(&path, order.replace("chain =", &line)).expect("written");
    let output = linkwright(&["run-sheet", path.to_str().expect("UTF-8"), "--json"]);
    if output.status.success() {
        Ok(serde_json::from_str(&stdout(&output)).expect("JSON"))
    } else {
        Err(stdout(&output))
    }
}

#[test]
fn measured_pieces_correct_the_count_of_an_order_and_the_sheet_says_so() {
    let plain = measured("").expect("planned");
    let plain = &plain["answer"]["sheets"][0];
    assert!(plain["linked"]["measured"].is_null());
    let inside = closed(plain);
    let wire = plain["wire_diameter_mm"].as_f64().expect("a size");
    // Forty rings are 40 ID + 2 d (chain.md, section 6.1); these stop 2 % short of 40 ID.
    let own = 40.0 * inside;
    let piece = format!("{{ rings = 40, length = \"{:.6} mm\" }}, ", 0.98 * own + 2.0 * wire);
    let corrected = measured(&piece.repeat(20)).expect("planned");
    let sheet = &corrected["answer"]["sheets"][0];
    // Normal beliefs multiplied: prior 1 within 2 %, each piece within 0.5 % and half a millimetre.
    let weight = 20.0 / (0.005_f64.powi(2) + (0.5 / own).powi(2));
    let prior = 1.0 / 0.02_f64.powi(2);
    let ratio = (prior + 0.98 * weight) / (prior + weight);
    let by = &sheet["linked"]["measured"];
    assert_eq!(by["pieces"], 20);
    assert!((by["ratio"].as_f64().expect("a ratio") - ratio).abs() < 1e-4, "{by}");
    // 450 mm with a clasp of 12 mm; the nearest whole count.
    let rings = |ratio: f64| ((450.0 - 12.0 - 2.0 * wire) / (ratio * inside)).round();
    assert!((asked(sheet) - rings(ratio)).abs() < 1e-9, "{} {}", asked(sheet), rings(ratio));
    assert!((asked(plain) - rings(1.0)).abs() < 1e-9 && asked(sheet) > asked(plain) + 1.0);
    assert_eq!(by["repeats"], sheet["to_make"]["asked_rings"]);
    assert_eq!(by["repeats_without"], plain["to_make"]["asked_rings"]);
    let said = sheet["linked"]["piece"].as_str().expect("words");
    let wanted = format!(
        "corrected by 20 measured pieces to {:.1} % of the length worked out, without them {} repeats",
        100.0 * ratio,
        asked(plain)
    );
    assert!(said.contains(&wanted), "{said}");
    let basis = sheet["linked"]["basis"].to_string();
    assert!(basis.contains("\"trials\":20"), "{basis}");
}

#[test]
fn a_piece_of_other_rings_says_which_and_teaches_alike() {
    // Twenty rings of 5 mm in wire of 1 mm are 102 mm; pulled 98 % of 100 mm and the two wires.
    let of = "of = [{ wire = \"1 mm\", ring = \"7 mm outside closed\" }]";
    let piece = format!("{{ rings = 20, length = \"100 mm\", date = \"2026-11-20\", {of} }}");
    let plan = measured(&piece).expect("planned");
    let sheet = &plan["answer"]["sheets"][0];
    let weight = 1.0 / (0.005_f64.powi(2) + (0.5_f64 / 100.0).powi(2));
    let ratio = (2500.0 + 0.98 * weight) / (2500.0 + weight);
    let by = &sheet["linked"]["measured"];
    assert!((by["ratio"].as_f64().expect("a ratio") - ratio).abs() < 1e-4, "{by} {ratio}");
    assert!(sheet["linked"]["basis"].to_string().contains("2026-11-20"));
}

#[test]
fn a_measured_piece_that_cannot_be_is_refused_by_field_value_and_limits() {
    let of = |wire: &str, ring: &str| {
        format!(
            "{{ rings = 20, length = \"100 mm\", of = [{{ wire = \"{wire}\", ring = \"{ring}\" }}] }}"
        )
    };
    for (piece, field, said) in [
        ("{ rings = 0, length = \"80 mm\" }".to_owned(), "measured 1 rings", "between 1 and"),
        ("{ rings = 20, length = \"80\" }".to_owned(), "measured 1 length", "unit"),
        ("{ rings = 20, length = \"200 mm\" }".to_owned(), "line", "more than 20 % off"),
        (of("1 mm", "9 mm inside closed"), "measured 1 length", "more than 20 % off"),
        (of("1 mm", "5 mm inside open"), "measured 1 ring", "with its rings closed"),
        (of("40 mm", "5 mm inside closed"), "measured 1 wire", "between 0.02 and 20 mm"),
        ("{ rings = 20, length = \"83 mm\" }, ".repeat(41), "measured", "at most 40 pieces"),
    ] {
        let refused = measured(&piece).expect_err(&piece);
        let refused: Value = serde_json::from_str(&refused).expect("JSON");
        let error = &refused["error"];
        assert!(error["field"].as_str().expect("a field").contains(field), "{error}");
        assert!(error["message"].as_str().expect("words").contains(said), "{error}");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let order = fs::read_to_string(example("necklace.toml")).expect("the example");
    let order = order.replace("bench.toml", &example("bench.toml").replace('\\', "/"));
    let path = folder.path().join("stray.toml");
    let stray =
        order.replace("chain =", "measured = [{ rings = 20, length = \"80 mm\" }]\nchain =");
    fs::write(&path, stray).expect("written");
    let output = linkwright(&["run-sheet", path.to_str().expect("UTF-8")]);
    let said = stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("measured is for a linked pattern"), "{said}");
}
