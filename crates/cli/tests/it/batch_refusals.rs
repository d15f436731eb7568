//! Every way `batch` refuses a line: the field it names, the value it repeats, the sentence it says.

use serde_json::{Value, json};

use crate::linkwright::{ask, batch};

/// The example of a question on the page, with some keys set anew; null takes a key away.
fn example(name: &str, changes: &Value) -> String {
    let start = format!("{{\"ask\": \"{name}\"");
    let line = include_str!("../../../../docs/batch.md")
        .lines()
        .find(|line| line.starts_with(&start))
        .unwrap_or_else(|| panic!("no example for {name}"));
    let mut question: Value = serde_json::from_str(line).expect("JSON");
    for (key, value) in changes.as_object().expect("an object") {
        question[key] = value.clone();
    }
    question.to_string()
}

fn assert_refused(line: &str, field: &str, given: &Value, message: &str) {
    let answered = ask(line);
    let error = &answered["error"];
    assert_eq!(error["field"], json!(field), "{line}: {answered}");
    assert_eq!(error["given"], *given, "{line}: {answered}");
    assert_eq!(error["message"], json!(message), "{line}");
}

#[test]
fn a_line_that_is_no_object_is_refused_whole() {
    assert_refused(
        " \t",
        "line",
        &Value::Null,
        "the line is blank; each line is one JSON object with \"ask\" and its inputs",
    );
    assert_refused(
        "{\"ask\": gauge}",
        "line",
        &json!("{\"ask\": gauge}"),
        "the line is not JSON at character 9: {\"ask\": gauge}",
    );
    assert_refused(
        "[1, 2]",
        "line",
        &json!("[1, 2]"),
        "the line is not a JSON object; write {\"ask\": ..., inputs}",
    );
    let answers = batch(b"{\"ask\": \"\xff\"}\n".to_vec());
    assert_eq!(
        answers[0]["error"]["message"],
        json!("the line is not UTF-8 text (first bad byte at 9)")
    );
    let answers = batch(vec![b'x'; (1 << 20) + 1]);
    assert_eq!(
        answers[0]["error"]["message"],
        json!("the line is longer than 1048576 bytes; one question is a short object")
    );
}

#[test]
fn an_object_nested_without_end_is_refused() {
    let deep = format!("{{\"ask\": {}1{}}}", "[".repeat(5000), "]".repeat(5000));
    assert!(ask(&deep)["error"]["message"].is_string());
}

#[test]
fn a_long_line_is_repeated_only_in_part() {
    let answered = ask(&"x".repeat(1000));
    assert!(answered.to_string().len() < 400, "{answered}");
}

#[test]
fn the_question_must_be_one_there_is() {
    assert_refused("{}", "ask", &Value::Null, "ask is missing; every line needs it");
    assert_refused("{\"ask\": 7}", "ask", &json!(7), "ask must be a word in quotes, not 7");
    let answered = ask("{\"ask\": \"guage\"}");
    let message = answered["error"]["message"].as_str().expect("a sentence");
    assert!(
        message.starts_with("there is no ask \"guage\"; the asks are gauge, wind, "),
        "{message}"
    );
    assert_eq!(answered["ask"], json!("guage"));
}

#[test]
fn a_key_that_is_not_known_is_named_before_anything_else() {
    assert_refused(
        &example("turns_in_length", &json!({"lenght_mm": 80.0, "pitch_mm": 0.0})),
        "lenght_mm",
        &json!(80.0),
        "lenght_mm is not an input of turns_in_length; its inputs are length_mm, pitch_mm, \
         wire_diameter_mm",
    );
    assert_refused(
        &example(
            "mandrel",
            &json!({"flow": {"law": "hollomon", "strength_coefficient_mpa": 900, "n": 0.4}}),
        ),
        "flow.n",
        &json!(0.4),
        "flow.n is not an input of flow of mandrel; its inputs are law, strength_coefficient_mpa, \
         hardening_exponent",
    );
}

#[test]
fn a_key_given_twice_is_refused() {
    assert_refused(
        r#"{"ask": "gauge", "number": 18, "system": "awg", "number": 16}"#,
        "number",
        &Value::Null,
        "number is given more than once; keep one of them",
    );
    assert_refused(
        r#"{"ask": "mandrel", "flow": {"law": "voce", "law": "swift"}}"#,
        "flow.law",
        &Value::Null,
        "flow.law is given more than once; keep one of them",
    );
}

#[test]
fn a_missing_input_is_named() {
    for missing in ["length_mm", "pitch_mm", "wire_diameter_mm"] {
        let message = format!("{missing} is missing; turns_in_length needs it");
        let line = example("turns_in_length", &json!({missing: null}));
        assert_refused(&line, missing, &Value::Null, &message);
    }
    assert_refused(
        &example("wind", &json!({"flow": {"law": "voce", "initial_yield_mpa": 90, "rate": 8}})),
        "flow.saturation_increment_mpa",
        &Value::Null,
        "flow.saturation_increment_mpa is missing; flow of wind needs it",
    );
    assert_refused(
        &example("wind", &json!({"flow": null})),
        "flow",
        &Value::Null,
        "flow is missing; wind needs it",
    );
}

#[test]
fn a_value_of_the_wrong_kind_is_refused() {
    assert_refused(
        &example("turns_in_length", &json!({"pitch_mm": "1.35 mm"})),
        "pitch_mm",
        &json!("1.35 mm"),
        "pitch_mm must be a number, not \"1.35 mm\"",
    );
    assert_refused(
        &example("turns_in_length", &json!({"pitch_mm": [1.35]})),
        "pitch_mm",
        &json!([1.35]),
        "pitch_mm must be a number, not [1.35]",
    );
    assert_refused(
        &example("wind", &json!({"flow": "voce"})),
        "flow",
        &json!("voce"),
        "flow must be an object, not \"voce\"",
    );
    assert_refused(
        &example("wind", &json!({"turns_wound": 47.5})),
        "turns_wound",
        &json!(47.5),
        "turns_wound must be a whole number, none or more, not 47.5",
    );
    assert_refused(
        &example("gauge", &json!({"number": 18.5})),
        "number",
        &json!(18.5),
        "number must be a whole number, not 18.5",
    );
    assert_refused(
        &example("gauge", &json!({"system": 1})),
        "system",
        &json!(1),
        "system must be a word in quotes, not 1",
    );
}

#[test]
fn a_whole_number_may_be_written_with_a_decimal_point() {
    let line = example("odds_of_good_rings", &json!({"turns": 55.0}));
    assert!(ask(&line)["answer"]["probability"].is_number());
}

#[test]
fn a_word_that_is_no_choice_is_refused_with_the_choices() {
    assert_refused(
        &example("gauge", &json!({"system": "swg"})),
        "system",
        &json!("swg"),
        "system is \"swg\"; it must be one of awg, british_standard",
    );
    assert_refused(
        &example("coils_needed", &json!({"rate": "each"})),
        "rate",
        &json!("each"),
        "rate is \"each\"; it must be one of shared, per_coil",
    );
    assert_refused(
        &example("closing", &json!({"bending_localisation": "pinch"})),
        "bending_localisation",
        &json!("pinch"),
        "bending_localisation is \"pinch\"; it must be one of hinge",
    );
}

#[test]
fn a_diameter_and_a_gauge_number_are_not_both_taken() {
    assert_refused(
        &example("gauge", &json!({"diameter_mm": 1.0})),
        "system",
        &json!("awg"),
        "system and diameter_mm are both given; give one of them",
    );
}

#[test]
fn a_number_that_is_not_finite_is_refused_and_named() {
    for written in ["NaN", "Infinity", "-Infinity", "1e999", "-1e999"] {
        let line = format!(r#"{{"id": 3, "ask": "turns_in_length", "pitch_mm": {written}}}"#);
        let message = format!("pitch_mm is {written}; it must be a finite number");
        assert_refused(&line, "pitch_mm", &json!(written), &message);
        assert_eq!(ask(&line)["id"], json!(3));
    }
    assert_refused(
        r#"{"ask": "wind", "flow": {"law": "voce", "rate": NaN}}"#,
        "flow.rate",
        &json!("NaN"),
        "flow.rate is NaN; it must be a finite number",
    );
}

#[test]
fn a_number_outside_its_limits_is_refused_with_them() {
    assert_refused(
        &example("coil", &json!({"pitch_mm": 0.0})),
        "pitch_mm",
        &json!(0.0),
        "pitch_mm is 0 mm; it must be between 0.02 and 200 mm (at least one fine wire, at most an \
         open spring)",
    );
    assert_refused(
        &example(
            "wind",
            &json!({"flow": {"law": "elastic_perfectly_plastic", "yield_strength_mpa": -450}}),
        ),
        "flow.yield_strength_mpa",
        &json!(-450.0),
        "flow.yield_strength_mpa is -450 MPa; it must be between 0.1 and 100000 MPa (softer than \
         putty, stronger than any wire)",
    );
}

/// Every number of every example, far too large and below nothing, is refused or answered, and
/// where refused the key itself is named.
#[test]
fn every_number_of_every_example_has_limits() {
    let page = include_str!("../../../../docs/batch.md");
    let mut lines = Vec::new();
    let mut keys = Vec::new();
    for line in page.lines().filter(|line| line.starts_with("{\"ask\"")) {
        let question: Value = serde_json::from_str(line).expect("JSON");
        for (key, value) in question.as_object().expect("an object") {
            if value.is_number() {
                let mut changed = question.clone();
                changed[key] = json!(1e300);
                lines.push(changed.to_string());
                keys.push(key.clone());
            }
        }
    }
    assert!(keys.len() > 80, "{}", keys.len());
    for ((answer, key), line) in batch(lines.join("\n")).iter().zip(&keys).zip(&lines) {
        assert_eq!(answer["error"]["field"], json!(key), "{line}: {answer}");
        assert_eq!(answer["error"]["given"], json!(1e300), "{line}: {answer}");
    }
}

#[test]
fn inputs_that_do_not_go_together_name_the_one_to_change() {
    for (name, changes, field) in [
        ("gauge", json!({"number": -4}), "number"),
        ("coil", json!({"pitch_mm": 1.0}), "pitch_mm"),
        ("turns_in_length", json!({"pitch_mm": 1.0}), "pitch_mm"),
        ("clamp", json!({"squeeze_mm": 6.0}), "squeeze_mm"),
        ("clamp_as_wound", json!({"mandrel_diameter_mm": 900.0}), "mandrel_diameter_mm"),
        ("projection_window", json!({"blade_offset_mm": 9.0}), "blade_offset_mm"),
        ("stop_end", json!({"projection_mm": 12.0}), "projection_mm"),
        ("stop_end", json!({"projection_mm": 1.0}), "projection_mm"),
        ("cutting", json!({"projection_mm": 1.0}), "projection_mm"),
        ("cutting", json!({"pitch_mm": 1.0}), "pitch_mm"),
        ("ring", json!({"pitch_mm": 1.0}), "pitch_mm"),
        ("ring", json!({"kerf_mm": 5.9, "coil_inside_diameter_mm": 4.0}), "kerf_mm"),
        ("odds_of_good_rings", json!({"good_rings": 56}), "good_rings"),
        ("coils_needed", json!({"lost_per_coil": 60}), "lost_per_coil"),
        ("coils_needed", json!({"good_rings": 100_000_000}), "good_rings"),
        ("coils_needed", json!({"confidence": 1.0}), "confidence"),
        (
            "wind",
            json!({"flow": {"law": "bilinear", "yield_strength_mpa": 400,
                            "tangent_modulus_mpa": 120_000}}),
            "flow.tangent_modulus_mpa",
        ),
    ] {
        let line = example(name, &changes);
        let answered = ask(&line);
        assert_eq!(answered["error"]["field"], json!(field), "{line}: {answered}");
        let message = answered["error"]["message"].as_str().expect("a sentence");
        assert!(message.len() > 20, "{line}: {message}");
    }
}

#[test]
fn the_example_of_the_interface_names_the_pitch_and_its_limits() {
    assert_refused(
        &example("coil", &json!({"pitch_mm": 0.4})),
        "pitch_mm",
        &json!(0.4),
        "pitch_mm is 0.4 mm, less than the wire of 2.053 mm; turns that touch advance at least the \
         wire diameter",
    );
}

#[test]
fn a_wire_that_stays_elastic_is_answered_and_cautioned() {
    let answered = ask(&example("wind", &json!({"mandrel_diameter_mm": 900.0})));
    assert_eq!(answered["answer"]["takes_set"], json!(false));
    assert_eq!(answered["answer"]["coil_inside_diameter_mm"], Value::Null);
    assert_eq!(answered["answer"]["growth_mm"], Value::Null);
    assert_eq!(answered["cautions"].as_array().map(Vec::len), Some(1), "{answered}");
}

#[test]
fn a_coil_that_no_mandrel_gives_is_null_with_a_caution() {
    let answered = ask(&example(
        "mandrel",
        &json!({
            "coil_inside_diameter_mm": 0.12,
            "flow": {"law": "elastic_perfectly_plastic", "yield_strength_mpa": 2000},
        }),
    ));
    assert_eq!(answered["answer"]["mandrel_diameter_mm"], Value::Null);
    assert_eq!(answered["cautions"].as_array().map(Vec::len), Some(1), "{answered}");
}
