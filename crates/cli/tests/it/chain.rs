//! `chain` and the ask of that name, against chain.md's public check values and its own files.
//!
//! Lengths are in wire diameters there; here the wire is 1 mm, so that they are in millimetres.

use serde_json::Value;

use crate::linkwright::{ask, linkwright, stderr, stdout};

/// `linkwright chain` with these words, as JSON.
fn chain(words: &[&str]) -> Value {
    let all: Vec<&str> = ["chain"].iter().chain(words).chain(&["--json"]).copied().collect();
    let output = linkwright(&all);
    assert!(output.status.success(), "{}", stdout(&output));
    serde_json::from_str(&stdout(&output)).expect("one JSON object")
}

fn number(answer: &Value, key: &str) -> f64 {
    answer[key].as_f64().unwrap_or_else(|| panic!("{key}: {answer}"))
}

#[test]
fn the_keys_stand_first_and_in_their_order() {
    let answer = chain(&["cable", "--wire", "1 mm", "--inside", "4 mm", "--closed"]);
    let keys: Vec<&str> = answer.as_object().expect("an object").keys().map(|k| &**k).collect();
    let wanted = [
        "pattern",
        "aspect_ratio",
        "possible",
        "aspect_ratio_min",
        "rings_per_cm",
        "rings",
        "mass_g",
        "width_mm",
        "thickness_mm",
        "basis",
        "tolerance",
    ];
    assert_eq!(keys[..wanted.len()], wanted);
    // Neither a length nor a metal was given.
    assert!(answer["rings"].is_null() && answer["mass_g"].is_null());
}

#[test]
fn a_cable_chain_of_4_mm_rings_has_two_and_a_half_to_the_centimetre() {
    let line = r#"{"ask": "chain", "pattern": "cable_1in1", "wire_diameter_mm": 1.0,
        "closed_inside_diameter_mm": 4.0, "length_mm": 100, "density_g_cm3": 10.4}"#;
    let answer = &ask(&line.replace('\n', " "))["answer"];
    assert!((number(answer, "rings_per_cm") - 2.5).abs() < 1e-3, "{answer}");
    // Ring 0.1283 g, chain 0.3208 g/cm: four printed digits, and the length's tolerance.
    assert!((number(answer, "mass_g_per_cm") - 0.3208).abs() < 2e-4, "{answer}");
    assert!((number(&answer["sizes"][0], "mass_g_each") - 0.1283).abs() < 5e-5, "{answer}");
}

/// Pattern, inside diameter in mm with wire of 1 mm, advance of a cell in mm, relative tolerance.
/// Source: chain.md, sections 6 and 9; its solver, apart from the closed forms.
const ADVANCES: [(&str, f64, f64, f64); 14] = [
    ("double_2in2", 3.0, 2.747175, 2e-3),
    ("double_2in2", 4.0, 3.831502, 2e-3),
    ("double_2in2", 6.0, 5.899382, 2e-3),
    ("european_4in1_strip3", 4.0, 4.24264, 2e-3),
    ("european_4in1_strip3", 5.0, 5.91608, 2e-3),
    ("byzantine", 4.0, 6.919, 1e-2),
    ("half_persian_3in1", 5.0, 4.3058, 5e-3),
    ("half_persian_4in1", 6.0, 3.8006, 1e-2),
    ("two_row_european_6in1", 5.0, 3.2020, 1e-2),
    ("box", 5.0, 4.2959, 1e-2),
    ("full_persian_6in1", 6.0, 5.1126, 1e-2),
    ("spiral_4in1", 4.5, 2.25, 2e-3),
    ("three_stack_spiral_4in1", 3.0, 1.4467, 1e-2),
    // Small rings in the pattern's own proportion, AR 3.2: 4.2 + sqrt(5^2 - 1), section 6.7.
    ("japanese_12in2", 6.0, 9.09898, 1e-2),
];

#[test]
fn advances_agree_with_the_check_values() {
    for (pattern, inside, advance, within) in ADVANCES {
        let line = serde_json::json!({
            "ask": "chain", "pattern": pattern, "wire_diameter_mm": 1.0,
            "closed_inside_diameter_mm": inside,
        });
        let answer = &ask(&line.to_string())["answer"];
        let off = number(answer, "advance_mm") / advance - 1.0;
        // Longer is no mistake: the values are lower bounds found by a solver.
        assert!(off > -within && off < 0.05, "{pattern} at {inside}: {off}");
    }
}

/// Pattern and smallest aspect ratio. Source: chain.md, section 9, printed digits.
const LIMITS: [(&str, f64); 7] = [
    ("cable_1in1", 2.0),
    ("double_2in2", 2.62128),
    ("european_4in1_strip3", 2.98093),
    ("byzantine", 3.2655),
    ("half_persian_3in1", 3.8928),
    ("two_row_european_6in1", 3.9360),
    ("rosette_3", 2.0),
];

#[test]
fn rings_below_the_limit_do_not_go_together_and_rings_above_it_do() {
    for (pattern, least) in LIMITS {
        let inside = |aspect_ratio: f64| format!("{aspect_ratio} mm");
        for (aspect_ratio, possible) in [(least - 0.01, false), (least + 0.01, true)] {
            let inside = inside(aspect_ratio);
            let answer = chain(&[pattern, "--wire", "1 mm", "--inside", &inside, "--closed"]);
            assert_eq!(answer["possible"], possible, "{pattern} at {aspect_ratio}");
            assert!((number(&answer, "aspect_ratio_min") - least).abs() < 1e-3, "{answer}");
            assert_eq!(answer["rings_per_cm"].is_null(), !possible || pattern == "rosette_3");
        }
    }
}

#[test]
fn what_is_missing_is_said_in_millimetres() {
    let output =
        linkwright(&["chain", "double_2in2", "--wire", "1 mm", "--inside", "2.5 mm", "--closed"]);
    let text = stdout(&output);
    // The limit is 2.621278 wires.
    assert!(text.contains("no, 0.121 mm (0.0048 in) of inside diameter is missing"), "{text}");
}

#[test]
fn the_open_ring_is_closed_before_it_is_asked_about() {
    let open = chain(&["cable", "--wire", "1.02mm", "--inside", "4.14mm", "--kerf", "0.25mm"]);
    // Source: calc's own check, docs/theory/ring.md section 2: it closes to 4.071 mm.
    assert!((number(&open, "closed_inside_diameter_mm") - 4.071).abs() < 1e-3);
    assert!((number(&open, "advance_mm") - 4.071).abs() < 2e-3);
    let assumed = chain(&["cable", "--wire", "1.02mm", "--inside", "4.14mm"]);
    assert!(assumed["cautions"].to_string().contains("kerf is assumed"), "{assumed}");
}

#[test]
fn a_length_and_a_metal_give_rings_and_mass() {
    let answer = chain(&[
        "byzantine",
        "--wire",
        "1mm",
        "--inside",
        "4mm",
        "--closed",
        "--length",
        "180mm",
        "--metal",
        "sterling",
    ]);
    let (rings, mass) = (number(&answer, "rings"), number(&answer, "mass_g"));
    let each = number(&answer["sizes"][0], "mass_g_each");
    assert!((mass - rings * each).abs() < 1e-9);
    // Six rings every 6.919 mm, chain.md section 9: about 156 and the ends.
    assert!((140.0..=165.0).contains(&rings), "{rings}");
}

#[test]
fn a_second_ring_size_is_taken_or_follows_the_pattern() {
    let main = ["--wire", "1mm", "--inside", "6mm", "--closed"];
    let both = [&main[..], &["--second-wire", "0.8mm", "--second-inside", "3.5mm"]].concat();
    let given = chain(&[&["large_and_small"], &both[..]].concat());
    // Two hops of half of both insides each: docs/theory/chain.md, section 6, hop bound.
    assert!((number(&given, "advance_mm") - 9.5).abs() < 2e-3);
    let followed = chain(&[&["large_and_small"], &main[..]].concat());
    assert_eq!(followed["sizes"][1]["by_proportion"], true);
    let refused = linkwright(&[&["chain", "box"], &both[..]].concat());
    assert_eq!(refused.status.code(), Some(1));
    assert!(stderr(&refused).contains("one ring size only"), "{}", stderr(&refused));
}

#[test]
fn a_sheet_is_counted_by_its_area() {
    let answer = chain(&[
        "european_4in1_sheet",
        "--wire",
        "1mm",
        "--inside",
        "4mm",
        "--closed",
        "--length",
        "42.4mm",
        "--across",
        "29.9mm",
    ]);
    // Ten row pitches of 3 sqrt 2 mm, five pairs of rows 6 mm apart, two rings each; chain.md 6.5.
    assert_eq!(answer["rings"], 100);
    assert!(answer["rings_per_cm"].is_null());
}

#[test]
fn every_pattern_is_listed_and_answers() {
    let output = linkwright(&["chain", "--list", "--json"]);
    let list: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let patterns = list["patterns"].as_array().expect("a list");
    assert!(patterns.len() >= 20, "{}", patterns.len());
    for pattern in patterns {
        let name = pattern["pattern"].as_str().expect("a name");
        // One that is not in the table is solved on the spot, which linkage's own tests do.
        let Some(least) = pattern["aspect_ratio_min"].as_f64() else { continue };
        let inside = format!("{} mm", 1.3 * least);
        let answer = chain(&[name, "--wire", "1 mm", "--inside", &inside, "--closed"]);
        assert_eq!(answer["possible"], true, "{name}");
    }
}

#[test]
fn the_table_rises_from_the_limit() {
    let output = linkwright(&["chain", "box", "--table", "--json"]);
    let table: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let rows = table["rows"].as_array().expect("rows");
    let advances: Vec<f64> = rows.iter().map(|row| number(row, "advance_over_wire")).collect();
    assert!(advances.len() > 10);
    assert!(advances.windows(2).all(|pair| pair[0] < pair[1]), "{advances:?}");
}

#[test]
fn an_unknown_pattern_is_refused_with_the_nearest() {
    let output =
        linkwright(&["chain", "bizantine", "--wire", "1mm", "--inside", "4mm", "--closed"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(stderr(&output).contains("did you mean byzantine?"), "{}", stderr(&output));
    let refused = ask(
        r#"{"ask": "chain", "pattern": "bizantine", "wire_diameter_mm": 1, "closed_inside_diameter_mm": 4}"#,
    );
    assert_eq!(refused["error"]["field"], "pattern");
}

#[test]
fn a_bad_size_is_refused_by_its_name_value_and_limits() {
    let refused = ask(
        r#"{"ask": "chain", "pattern": "box", "wire_diameter_mm": 1, "closed_inside_diameter_mm": -4}"#,
    );
    let message = refused["error"]["message"].as_str().expect("a message");
    assert!(message.starts_with("closed_inside_diameter_mm is -4 mm"), "{message}");
    let output = linkwright(&["chain", "box", "--wire", "18", "--inside", "4mm", "--closed"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(stderr(&output).contains("--wire"), "{}", stderr(&output));
}

#[test]
fn a_picture_is_drawn_to_scale_and_titled_and_there_is_none_of_the_impossible() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("cable.svg");
    let path = file.to_str().expect("UTF-8");
    let words = ["chain", "cable", "--wire", "1mm", "--closed", "--svg", path, "--inside"];
    let drawn = linkwright(&[&words[..], &["4mm"]].concat());
    assert!(drawn.status.success(), "{}", stderr(&drawn));
    let svg = std::fs::read_to_string(&file).expect("written");
    assert!(svg.starts_with("<svg") && svg.contains("simple cable chain"), "{svg}");
    // A hundred units are a millimetre of the thing; the title says how much larger they are drawn.
    let between = |from: &str, to: &str| {
        let rest = &svg[svg.find(from).expect(from) + from.len()..];
        &rest[..rest.find(to).expect(to)]
    };
    let units: f64 =
        between("viewBox=\"", "\"").split(' ').nth(2).expect("wide").parse().expect("units");
    let paper_mm: f64 = between(" width=\"", "mm").parse().expect("mm");
    let times: f64 = between("drawn ", ":1").parse().expect("a whole number");
    assert!((paper_mm - times * units / 100.0).abs() < 0.1, "{paper_mm} {units} {times}");
    std::fs::remove_file(&file).expect("there");
    let refused = linkwright(&[&words[..], &["1.9mm"]].concat());
    assert_eq!(refused.status.code(), Some(1));
    assert!(!file.exists());
}

#[test]
fn a_chain_round_a_wrist_is_longer_by_its_thickness_and_clasp_and_end_rings_count() {
    let base = ["cable", "--wire", "1mm", "--inside", "4mm", "--closed"];
    let round = chain(&[&base[..], &["--round", "160mm", "--ease", "10mm"]].concat());
    let thick = number(&round, "thickness_mm");
    // Own derivation: the middle of the chain lies half its thickness outside the wrist.
    let wanted = 170.0 + std::f64::consts::PI * thick;
    assert!((number(&round, "length_mm") - wanted).abs() < 1e-6, "{round}");
    // 107 rings of 4 mm and two wires are 430 mm, a clasp of 20 mm makes it 450; docs/theory/ring.md
    // section 6.
    let clasped = chain(&[&base[..], &["--length", "450mm", "--clasp", "20mm"]].concat());
    assert_eq!(clasped["rings"], 107, "{clasped}");
    let ends = ["--length", "450mm", "--clasp", "20mm", "--end-rings", "2"];
    let ended = chain(&[&base[..], &ends[..]].concat());
    assert_eq!(ended["rings"], 107, "two of them at the ends: {ended}");
    assert_eq!(ended["piece_above"]["rings"], 105);
}

#[test]
fn a_sheet_by_length_alone_and_a_chain_by_area_are_refused() {
    let words = ["--wire", "1mm", "--inside", "5mm", "--closed", "--length", "40mm"];
    let sheet = linkwright(&[&["chain", "european_4in1_sheet"], &words[..]].concat());
    assert!(stderr(&sheet).contains("is a sheet: it is counted by its"), "{}", stderr(&sheet));
    let wide = [&["chain", "byzantine"], &words[..], &["--across", "20mm"]].concat();
    let chain = linkwright(&wide);
    assert!(
        stderr(&chain).contains("is a chain: it is counted by its length alone"),
        "{}",
        stderr(&chain)
    );
}

#[test]
fn measured_pieces_correct_the_length_and_say_so() {
    let base = ["byzantine", "--wire", "1mm", "--inside", "4mm", "--closed"];
    let plain = chain(&base);
    // Sixty rings are ten repeats; a piece that came out 2 % short of what rigid rings give.
    let advance = number(&plain, "advance_mm");
    let above = &chain(&[&base[..], &["--length", "70mm"]].concat())["piece_above"];
    let overhang = number(above, "length_mm") - number(above, "cells") * advance;
    let piece = format!("60={:.3}mm", 10.0 * advance * 0.98 + overhang);
    let corrected = chain(&[&base[..], &["--measured", &piece, "--measured", &piece]].concat());
    let ratio = number(&corrected, "advance_mm") / advance;
    // Two readings of 0.98 against a prior of 1 with a spread of 2 %: docs/theory/chain.md, section 9.
    assert!(ratio > 0.98 && ratio < 0.985, "{ratio}");
    assert!(corrected["basis"].as_str().expect("words").contains("measured"), "{corrected}");
    assert!(number(&corrected, "tolerance") < 0.02);
    let slip = linkwright(&[&["chain"], &base[..], &["--measured", "60=170mm"]].concat());
    assert_eq!(slip.status.code(), Some(1));
    assert!(stderr(&slip).contains("--measured"), "{}", stderr(&slip));
}

#[test]
fn in_full_tells_the_last_ring_the_bends_and_what_a_pull_does() {
    let words = [
        "cable",
        "--wire",
        "1mm",
        "--inside",
        "4mm",
        "--closed",
        "--metal",
        "sterling",
        "--temper",
        "soft",
        "--in-full",
        "--pull-n",
        "10",
    ];
    let answer = chain(&words);
    assert_eq!(answer["last_ring"]["fits"], "goes in", "{answer}");
    let bends = answer["tightest_bends"].as_array().expect("a list");
    // A cable chain folds limp: chain.md, section 9.
    assert!(!bends.is_empty() && bends.iter().all(|bend| bend["limp"] == true), "{answer}");
    assert!(number(&answer["under_load"], "stretch") > 0.0);
    let plain = chain(&words[..6]);
    assert!(plain.get("last_ring").is_none());
}

#[test]
fn batch_and_command_answer_alike_in_full() {
    let words = [
        "double_2in2",
        "--wire",
        "1mm",
        "--inside",
        "4mm",
        "--closed",
        "--round",
        "160mm",
        "--ease",
        "12mm",
        "--clasp",
        "10mm",
        "--end-rings",
        "2",
        "--measured",
        "40=75mm",
        "--metal",
        "sterling",
        "--temper",
        "soft",
        "--in-full",
        "--pull-n",
        "10",
    ];
    let mut command = chain(&words);
    let question = serde_json::json!({
        "ask": "chain", "pattern": "double_2in2", "wire_diameter_mm": 1.0,
        "closed_inside_diameter_mm": 4.0, "round_mm": 160, "ease_mm": 12, "clasp_mm": 10, "end_rings": 2,
        "measured": [{ "rings": 40, "length_mm": 75 }], "metal": "sterling", "temper": "soft",
        "in_full": true, "pull_n": 10,
    });
    let batch = ask(&question.to_string());
    let cautions = command.as_object_mut().expect("an object").remove("cautions");
    assert_eq!(batch["answer"], command);
    assert_eq!(Some(batch["cautions"].clone()), cautions);
    assert!(batch["cautions"].to_string().contains("rings as wound"), "{batch}");
    assert_eq!(batch["answer"]["measured"]["pieces"], 1);
    let last = &batch["answer"]["last_ring"];
    assert!(last["fits"].is_string() && number(last, "needed_mm") > 1.99, "{batch}");
    assert_eq!(batch["answer"]["tightest_bends"].as_array().map(Vec::len), Some(2));
    // The strength as numbers is that of the metals table.
    let strengths = |yields: f64| {
        let mut question = question.clone();
        for key in ["metal", "temper"] {
            question.as_object_mut().expect("an object").remove(key);
        }
        question["yield_strength_mpa"] = yields.into();
        question["tensile_strength_mpa"] = 400.0.into();
        question["youngs_modulus_mpa"] = 80_000.0.into();
        number(&ask(&question.to_string())["answer"]["under_load"], "gives_way_n")
    };
    // A hinge forms at a force in proportion to the stress: docs/theory/ring.md, section 5.
    assert!((strengths(200.0) / strengths(100.0) - 2.0).abs() < 1e-9);
}

#[test]
fn any_number_of_ring_sizes_is_taken() {
    let ring = |wire: f64, inside: f64| serde_json::json!({ "wire_diameter_mm": wire, "closed_inside_diameter_mm": inside });
    let graduated = |others: Value| {
        let question = serde_json::json!({
            "ask": "chain", "pattern": "graduated_cable", "wire_diameter_mm": 1.0,
            "closed_inside_diameter_mm": 6.0, "other_rings": others,
        });
        ask(&question.to_string())
    };
    let given = graduated(serde_json::json!([ring(1.0, 5.0), ring(1.0, 4.0)]));
    let answer = &given["answer"];
    let sizes = answer["sizes"].as_array().expect("sizes");
    assert!(sizes.len() > 2 && sizes[2]["closed_inside_diameter_mm"] == 4.0, "{given}");
    assert_eq!(sizes[1]["by_proportion"], false);
    // Every hop is half of both insides, so a repeat is the sum of its insides: chain.md, hop bound.
    let wanted: f64 = sizes
        .iter()
        .map(|size| number(size, "closed_inside_diameter_mm") * number(size, "per_cell"))
        .sum();
    assert!((number(answer, "advance_mm") - wanted).abs() < 1e-3 * wanted, "{answer}");
    let many = graduated(vec![ring(1.0, 5.0); 12].into());
    assert_eq!(many["error"]["field"], "other_rings");
    let wrong = graduated(serde_json::json!([ring(1.0, 5.0), ring(1.0, -4.0)]));
    assert_eq!(wrong["error"]["field"], "other_rings[1].closed_inside_diameter_mm");
}

#[test]
fn what_does_not_go_together_in_a_question_is_refused_by_its_key() {
    let refused = |pattern: &str, more: Value| {
        let mut question = serde_json::json!({
            "ask": "chain", "pattern": pattern, "wire_diameter_mm": 1.0, "closed_inside_diameter_mm": 5.0,
        });
        question.as_object_mut().expect("keys").extend(more.as_object().expect("keys").clone());
        let answer = ask(&question.to_string());
        let error = answer.get("error").unwrap_or_else(|| panic!("{answer}"));
        (error["field"].clone(), error["message"].to_string())
    };
    let piece = |rings: u32, mm: f64| serde_json::json!({ "rings": rings, "length_mm": mm });
    for (pattern, more, field, said) in [
        ("byzantine", serde_json::json!({ "in_full": 1 }), "in_full", "true or false"),
        ("byzantine", serde_json::json!({ "pull_n": 5 }), "in_full", "in_full: true"),
        ("byzantine", serde_json::json!({ "temper": "soft" }), "temper", "goes with pull_n"),
        (
            "byzantine",
            serde_json::json!({ "in_full": true, "pull_n": 5, "metal": "sterling" }),
            "temper",
            "such as soft",
        ),
        (
            "byzantine",
            serde_json::json!({ "in_full": true, "pull_n": -5, "yield_strength_mpa": 1 }),
            "pull_n",
            "between 0 and",
        ),
        ("byzantine", serde_json::json!({ "ease_mm": 5 }), "ease_mm", "round_mm"),
        (
            "byzantine",
            serde_json::json!({ "round_mm": 160, "length_mm": 160 }),
            "length_mm",
            "give one of them",
        ),
        ("byzantine", serde_json::json!({ "end_rings": 101 }), "end_rings", "between 0 and 100"),
        (
            "byzantine",
            serde_json::json!({ "measured": [piece(60, 90.0), piece(5, 9.0)] }),
            "measured[1].rings",
            "between 6 and",
        ),
        (
            "byzantine",
            serde_json::json!({ "measured": [piece(60, 300.0)] }),
            "measured[0].length_mm",
            "more than 20 % off",
        ),
        ("byzantine", serde_json::json!({ "measured": 3 }), "measured", "a list of objects"),
        (
            "byzantine",
            serde_json::json!({ "measured": vec![piece(60, 90.0); 41] }),
            "measured",
            "at most 40 pieces",
        ),
        (
            "european_4in1_sheet",
            serde_json::json!({ "measured": [piece(60, 90.0)] }),
            "measured",
            "is no chain",
        ),
    ] {
        let (at, message) = refused(pattern, more);
        assert_eq!(at, field, "{message}");
        assert!(message.contains(said), "{message}");
    }
}

#[test]
fn the_fewest_rings_that_reach_a_length_stand_beside_those_an_order_takes() {
    // 108 rings of 4 mm and two wires are 434 mm, 107 are 430: docs/theory/ring.md, section 6.
    let base = ["cable", "--wire", "1mm", "--inside", "4mm", "--closed", "--length"];
    let nearer_below = chain(&[&base[..], &["431mm"]].concat());
    assert_eq!(nearer_below["rings"], 108);
    assert_eq!(nearer_below["rings_nearest"], 107);
    assert!((number(&nearer_below, "length_nearest_mm") - 430.0).abs() < 0.05);
    let nearer_above = chain(&[&base[..], &["433mm"]].concat());
    assert_eq!(
        (&nearer_above["rings"], &nearer_above["rings_nearest"]),
        (&108.into(), &108.into())
    );
    let text = stdout(&linkwright(&[&["chain"], &base[..], &["431mm"]].concat()));
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("108 at least, to reach 431"), "{text}");
    assert!(text.contains("an order takes 107, the whole repeats nearest to it: 430"), "{text}");
}
