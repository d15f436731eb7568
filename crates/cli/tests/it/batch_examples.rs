//! Every example of docs/batch.md is asked of the built program and answered as the page says.

use serde_json::Value;

use crate::linkwright::batch;

const PAGE: &str = include_str!("../../../../docs/batch.md");

/// Closed forms: the page prints ten digits, of which the last few may differ by rounding.
const CLOSED_FORM: f64 = 1e-6;
/// Where a hardening law is integrated.
const INTEGRATED: f64 = 1e-4;

/// Questions with their answers: each a line that starts an object, the answer right below.
fn examples() -> Vec<(&'static str, &'static str)> {
    let lines: Vec<&str> = PAGE.lines().collect();
    lines
        .windows(2)
        .filter(|pair| pair[0].starts_with("{\"ask\""))
        .map(|pair| (pair[0], pair[1]))
        .collect()
}

fn tolerance(question: &Value) -> f64 {
    match question["flow"]["law"].as_str() {
        None | Some("elastic_perfectly_plastic") => CLOSED_FORM,
        Some(_) => INTEGRATED,
    }
}

#[test]
fn every_example_of_the_page_is_answered_as_printed() {
    let examples = examples();
    let questions: Vec<&str> = examples.iter().map(|(question, _)| *question).collect();
    let answers = batch(questions.join("\n"));
    assert_eq!(answers.len(), examples.len());
    for ((question, printed), answered) in examples.iter().zip(&answers) {
        let question: Value = serde_json::from_str(question).expect(question);
        let printed: Value = serde_json::from_str(printed).expect(printed);
        assert_eq!(answered["ask"], question["ask"]);
        assert!(answered["cautions"].is_array(), "{answered}");
        for (key, wanted) in printed.as_object().expect("an object") {
            let given = &answered["answer"][key];
            let exact = wanted.is_i64() || !wanted.is_number();
            if exact {
                assert_eq!(given, wanted, "{key} of {question}: {answered}");
                continue;
            }
            let (given, wanted) = (given.as_f64(), wanted.as_f64().expect("a number"));
            let given = given.unwrap_or_else(|| panic!("no {key} for {question}: {answered}"));
            let off = (given - wanted).abs();
            let allowed = tolerance(&question) * wanted.abs();
            assert!(off <= allowed, "{key} of {question} is {given}, printed {wanted}");
        }
    }
}

#[test]
fn every_question_has_a_section_with_an_example() {
    let refused = crate::linkwright::ask(r#"{"ask": "no such question"}"#);
    let message = refused["error"]["message"].as_str().expect("a sentence");
    let (_, asks) = message.split_once("the asks are ").expect("the list");
    let asks: Vec<&str> = asks.split(", ").collect();
    assert!(asks.len() >= 18, "{asks:?}");
    for ask in asks {
        assert!(PAGE.contains(&format!("\n### {ask}\n")), "no section for {ask}");
        let shown = examples().iter().any(|(q, _)| q.contains(&format!("{{\"ask\": \"{ask}\"")));
        assert!(shown, "no example for {ask}");
    }
}
