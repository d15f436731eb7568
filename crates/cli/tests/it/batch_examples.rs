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
        let within = tolerance(&question);
        assert_holds(&answered["answer"], &printed, within, question["ask"].as_str().unwrap_or(""));
    }
}

/// What is printed stands in the answer, which may hold more; `place` says where in it.
fn assert_holds(given: &Value, printed: &Value, within: f64, place: &str) {
    match printed {
        Value::Object(keys) => {
            for (key, wanted) in keys {
                assert_holds(&given[key], wanted, within, &format!("{place}.{key}"));
            }
        }
        Value::Array(wanted) => {
            assert_eq!(given.as_array().map(Vec::len), Some(wanted.len()), "{place}: {given}");
            for (index, wanted) in wanted.iter().enumerate() {
                assert_holds(&given[index], wanted, within, &format!("{place}[{index}]"));
            }
        }
        Value::Number(wanted) if wanted.is_f64() => {
            let wanted = wanted.as_f64().unwrap_or(f64::NAN);
            let off = given.as_f64().map(|given| (given - wanted).abs());
            let close = off.is_some_and(|off| off <= within * wanted.abs());
            assert!(close, "{place} is {given}, printed {wanted}");
        }
        exact => assert_eq!(given, exact, "{place}"),
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
