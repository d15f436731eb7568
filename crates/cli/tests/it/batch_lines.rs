//! Lines in and lines out: one for one, in order, at once, whatever the lines hold.

use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};

use proptest::prelude::*;
use serde_json::{Value, json};

use crate::linkwright::{batch, linkwright, stderr, stdout};

const GOOD: &str =
    r#"{"ask":"turns_in_length","length_mm":80,"pitch_mm":1.35,"wire_diameter_mm":1.291"#;

#[test]
fn the_id_comes_back_to_the_letter() {
    for id in [
        "\"q1\"",
        "7",
        "-0.0",
        "1e5",
        "123456789012345678901234567890",
        "1.10",
        "null",
        "true",
        "[1, {\"a\":  2.50}]",
        "\"\\u00e9 \\\" }\"",
    ] {
        let output = linkwright_batch_line(&format!("{{\"id\": {id}, {}}}", &GOOD[1..]));
        assert!(output.starts_with(&format!("{{\"id\":{id},\"ask\":")), "{output}");
        let refused = linkwright_batch_line(&format!("{{\"id\": {id}, \"ask\": \"coil\"}}"));
        assert!(
            refused.starts_with(&format!("{{\"id\":{id},\"ask\":\"coil\",\"error\":")),
            "{refused}"
        );
    }
    assert!(linkwright_batch_line(&format!("{GOOD}}}")).starts_with("{\"ask\":"));
}

/// The line as written, so that an id can be compared letter by letter.
fn linkwright_batch_line(line: &str) -> String {
    let file = tempfile::NamedTempFile::new().expect("a file");
    std::fs::write(file.path(), line).expect("written");
    let path = file.path().to_str().expect("a plain path");
    stdout(&linkwright(&["batch", path]))
}

#[test]
fn a_file_that_is_not_there_is_exit_code_3() {
    let output = linkwright(&["batch", "no-such-file.jsonl"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(stderr(&output).contains("no-such-file.jsonl could not be read"), "{output:?}");
}

#[test]
fn each_line_is_answered_before_the_next_is_asked() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_linkwright"))
        .arg("batch")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut stdin = child.stdin.take().expect("piped");
    let mut answers = BufReader::new(child.stdout.take().expect("piped")).lines();
    for number in 0..3 {
        writeln!(stdin, "{{\"id\": {number}, {}}}", &GOOD[1..]).expect("asked");
        // Would wait for ever if the answer were held back.
        let line = answers.next().expect("a line").expect("text");
        let answer: Value = serde_json::from_str(&line).expect("JSON");
        assert_eq!(answer["id"], json!(number));
        assert_eq!(answer["answer"]["turns"], json!(58));
    }
    drop(stdin);
    assert!(child.wait().expect("it ends").success());
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_linkwright"))
        .arg("batch")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    drop(child.stdout.take());
    let mut stdin = child.stdin.take().expect("piped");
    // The program may be gone before all is written.
    drop(stdin.write_all(format!("{GOOD}}}\n").repeat(10).as_bytes()));
    drop(stdin);
    let output = child.wait_with_output().expect("it ends");
    assert!(output.status.success(), "{output:?}");
    assert_eq!(stderr(&output), "");
}

#[test]
fn a_bad_line_stops_no_other() {
    let good = format!("{GOOD}}}");
    let bad =
        ["", "{", "7", "{}", "{\"ask\": \"x\"}", "\u{1}", "{\"ask\":\"coil\",\"ask\":\"coil\"}"];
    let mut input = Vec::new();
    for line in bad {
        input.extend_from_slice(format!("{line}\n{good}\n").as_bytes());
    }
    input.extend_from_slice(b"\xff\xfe\n");
    input.extend_from_slice(good.as_bytes());
    let answers = batch(input);
    assert_eq!(answers.len(), 2 * (bad.len() + 1));
    for pair in answers.chunks(2) {
        assert!(pair[0]["error"]["message"].is_string(), "{}", pair[0]);
        assert_eq!(pair[1]["answer"]["turns"], json!(58), "after {}", pair[0]);
    }
}

#[test]
fn carriage_returns_do_no_harm() {
    let answers = batch(format!("{GOOD}}}\r\n{{\"id\": [1,\r2], {}}}\r\n", &GOOD[1..]));
    assert_eq!(answers.len(), 2);
    assert_eq!(answers[1]["id"], json!([1, 2]));
}

/// Values that a careless script may write.
fn any_value() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<f64>().prop_map(|number| format!("{number:?}")),
        (-1e3..1e3).prop_map(|number: f64| number.to_string()),
        any::<i64>().prop_map(|number| number.to_string()),
        Just("1e999".to_owned()),
        Just("null".to_owned()),
        Just("true".to_owned()),
        Just("\"hinge\"".to_owned()),
        Just("\"shared\"".to_owned()),
        Just("{\"law\": \"elastic_perfectly_plastic\", \"yield_strength_mpa\": 450}".to_owned()),
        Just(
            "{\"law\": \"swift\", \"initial_yield_mpa\": 1e-1, \"strength_coefficient_mpa\": 1e5, \
              \"hardening_exponent\": 1}"
                .to_owned()
        ),
        "\\PC{0,12}".prop_map(|text| Value::from(text).to_string()),
        "[\\[\\]{}\",:0-9a-z\\\\ -]{0,20}",
    ]
}

/// A line that is nearly a question: an ask of the page with its keys, some values exchanged.
fn near_question() -> impl Strategy<Value = String> {
    let questions: Vec<&str> = include_str!("../../../../docs/batch.md")
        .lines()
        .filter(|line| line.starts_with("{\"ask\""))
        .collect();
    let question = proptest::sample::select(questions);
    (question, any::<proptest::sample::Index>(), any_value(), any::<bool>()).prop_map(
        |(question, which, value, extra)| {
            let mut parts: Vec<String> = Vec::new();
            let question: Value = serde_json::from_str(question).expect("an example");
            let object = question.as_object().expect("an object");
            let changed = which.index(object.len());
            for (index, (key, kept)) in object.iter().enumerate() {
                let shown = if index == changed { value.clone() } else { kept.to_string() };
                parts.push(format!("\"{key}\": {shown}"));
            }
            if extra {
                parts.push(format!("\"x\": {value}"));
            }
            format!("{{{}}}", parts.join(", "))
        },
    )
}

proptest! {
    // Each case starts the program; the lines of a case share it.
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_lines_at_all_get_one_line_of_json_each(
        lines in prop::collection::vec(
            prop_oneof![
                4 => near_question().prop_map(String::into_bytes),
                1 => "\\PC{0,60}".prop_map(String::into_bytes),
                1 => prop::collection::vec(any::<u8>(), 0..60),
            ],
            1..60,
        )
    ) {
        let lines: Vec<Vec<u8>> = lines
            .into_iter()
            .map(|line| line.into_iter().filter(|byte| *byte != b'\n').collect())
            .collect();
        let mut input = lines.join(&b'\n');
        input.push(b'\n');
        let answers = batch(input);
        prop_assert_eq!(answers.len(), lines.len());
        for answer in answers {
            let answered = answer["answer"].is_object() && answer["cautions"].is_array();
            let refused = answer["error"]["field"].is_string()
                && answer["error"]["message"].is_string()
                && answer["error"].get("given").is_some();
            prop_assert!(answered != refused, "{answer}");
        }
    }
}
