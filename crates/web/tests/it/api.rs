//! The interface for other programs.

use axum::http::StatusCode;
use linkwright_store::records::Rod;
use linkwright_store::{Moment, StoreError};
use serde_json::{Value, json};

use crate::bench::Bench;

const JSON: &str = "application/json";

#[tokio::test]
async fn a_question_is_answered_with_its_basis() {
    // Source: docs/batch.md, which repeats the worked example of the interface's design.
    let bench = Bench::new();
    let answer = bench.post_as("/api/ask/gauge", JSON, r#"{"system": "awg", "number": 12}"#).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    let wire_mm = answer.json()["answer"]["wire_diameter_mm"].as_f64().expect("a number");
    assert!((wire_mm - 2.052_525_388).abs() < 1e-6, "{wire_mm}");
    assert!(answer.json()["basis"].is_object() || answer.json()["basis"].is_string());
}

#[tokio::test]
async fn a_question_that_cannot_be_answered_names_the_input() {
    let bench = Bench::new();
    for (body, status, field) in [
        (r#"{"system": "awg"}"#, StatusCode::UNPROCESSABLE_ENTITY, "number"),
        (
            r#"{"system": "awg", "number": 12, "number": 13}"#,
            StatusCode::UNPROCESSABLE_ENTITY,
            "number",
        ),
        ("{}", StatusCode::UNPROCESSABLE_ENTITY, "system"),
        ("[1]", StatusCode::BAD_REQUEST, "line"),
        ("", StatusCode::BAD_REQUEST, "line"),
        (r#"{"system": "#, StatusCode::UNPROCESSABLE_ENTITY, "line"),
    ] {
        let answer = bench.post_as("/api/ask/gauge", JSON, body).await;
        assert_eq!(
            (answer.status, &answer.json()["error"]["field"]),
            (status, &json!(field)),
            "{body}"
        );
    }
    let nowhere = bench.post_as("/api/ask/fortune", JSON, "{}").await;
    assert_eq!(nowhere.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn lines_are_answered_one_for_one() {
    let bench = Bench::new();
    let lines = "{\"ask\":\"gauge\",\"system\":\"awg\",\"number\":12}\nnonsense\n";
    let answer = bench.post_as("/api/batch", "application/x-ndjson", lines).await;
    let answers: Vec<Value> =
        answer.text.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    assert_eq!(answers.len(), 2);
    assert!(answers[0]["answer"].is_object());
    assert!(answers[1]["error"].is_object());
}

#[tokio::test]
async fn records_are_read_page_by_page_and_never_written() {
    let bench = Bench::new();
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    for size_mm in [3.0, 4.0, 5.0] {
        let rod = Rod {
            name: format!("{size_mm}"),
            marked_typed: format!("{size_mm} mm"),
            marked_mm: size_mm,
            measured_typed: None,
            measured_mm: None,
            note: String::new(),
            retired_on: None,
            retired_why: String::new(),
        };
        let added: Result<_, StoreError> =
            bench.app.store().act(now, "Added a rod", |act| act.add(&rod));
        added.expect("saved");
    }
    let first = bench.get("/api/records/rod?count=2").await.json();
    assert_eq!(first["records"].as_array().expect("rows").len(), 2);
    assert_eq!(first["records"][0]["marked_mm"], 3.0);
    let rest = bench.get(&format!("/api/records/rod?after={}&count=2", first["next"])).await.json();
    assert_eq!(rest["records"].as_array().expect("rows").len(), 1);
    assert!(rest["next"].is_null());
    for path in
        ["/api/records/rod?count=0", "/api/records/rod?count=1001", "/api/records/rod?after=x"]
    {
        assert_eq!(bench.get(path).await.status, StatusCode::BAD_REQUEST, "{path}");
    }
    // Neither a table that holds no records nor a piece of SQL is a kind.
    for path in ["/api/records/setting", "/api/records/rod%20where%201=1;--"] {
        assert_eq!(bench.get(path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
    let written = bench.post_as("/api/records/rod", JSON, "{}").await;
    assert_eq!(written.status, StatusCode::METHOD_NOT_ALLOWED);
}

#[tokio::test]
async fn every_question_is_described_with_an_example_that_is_answered() {
    let bench = Bench::new();
    let description = bench.get("/api/openapi.json").await.json();
    let paths = description["paths"].as_object().expect("paths");
    let mut asked = 0;
    for (path, about) in paths.iter().filter(|(path, _)| path.starts_with("/api/ask/")) {
        let body = &about["post"]["requestBody"]["content"]["application/json"];
        let example =
            body["example"].as_object().unwrap_or_else(|| panic!("{path} has no example"));
        for (key, value) in example {
            let schema = &body["schema"]["properties"][key];
            assert!(schema.is_object(), "{path}: {key} is not described");
            let fits = match schema["type"].as_str() {
                Some("integer") => value.is_i64(),
                Some("number") => value.is_number(),
                Some("string") => schema["enum"].as_array().expect("words").contains(value),
                Some("object") => value.is_object(),
                _ => true,
            };
            assert!(fits, "{path}: {key} is {value}, described as {schema}");
        }
        let example = serde_json::to_string(example).expect("JSON");
        let answer = bench.post_as(path, JSON, example).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.text);
        asked += 1;
    }
    assert!(asked >= 19, "only {asked} questions are described");
}
