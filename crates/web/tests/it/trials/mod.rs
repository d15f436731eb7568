//! Trials through the door: typed in, found, changed, charted, brought in and taken out.

mod form;

mod import;

use scraper::{Html, Selector};

use crate::bench::{Answer, Bench};

/// The text of every element a selector picks.
pub fn texts(answer: &Answer, selector: &str) -> Vec<String> {
    let selector = Selector::parse(selector).expect("a selector");
    let page = Html::parse_document(&answer.text);
    page.select(&selector)
        .map(|element| {
            element
                .text()
                .collect::<Vec<_>>()
                .join(" ")
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect()
}

/// An attribute of every element a selector picks.
pub fn attributes(answer: &Answer, selector: &str, name: &str) -> Vec<String> {
    let selector = Selector::parse(selector).expect("a selector");
    let page = Html::parse_document(&answer.text);
    page.select(&selector).filter_map(|element| element.attr(name).map(str::to_owned)).collect()
}

/// The token of the form on a page.
pub async fn token(bench: &Bench, path: &str) -> String {
    let page = bench.get(path).await;
    attributes(&page, "main input[name=token]", "value").remove(0)
}

/// Fields as a form sends them.
pub fn form(token: &str, fields: &[(&str, &str)]) -> String {
    let encode = |text: &str| text.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    let mut body = format!("token={}", encode(token));
    for (name, value) in fields {
        body += &format!("&{name}={}", encode(value));
    }
    body
}

/// Sends the form of a page.
pub async fn post(bench: &Bench, shown: &str, to: &str, fields: &[(&str, &str)]) -> Answer {
    let token = token(bench, shown).await;
    bench.post_as(to, "application/x-www-form-urlencoded", form(&token, fields)).await
}

/// One coil of task T4 (needs.md): bronze 14 AWG on 6.0, blade of 1 1/4 in at 2.2.
pub fn coil_of_t4(outcome: &'static str) -> Vec<(&'static str, &'static str)> {
    vec![
        ("tried_on", "2026-03-04"),
        ("worker", "Student Seven"),
        ("metal", "bronze_c220"),
        ("temper", "half hard"),
        ("annealed", "yes"),
        ("wire", "14 awg"),
        ("rod", "6.0 mm"),
        ("blade", "inch and a quarter"),
        ("blade_diameter", "1 1/4 in"),
        ("projection", "2.2 mm"),
        ("inside", "6.24 6.25 6.23 mm"),
        ("outcome", outcome),
    ]
}

/// Keeps the three coils of task T4: the blade broke on the first, the others were clean.
pub async fn log_t4(bench: &Bench) {
    for (outcome, more) in [
        ("failed", [("good", "31"), ("blade_event", "broke")]),
        ("good", [("good", "40"), ("blade_event", "none")]),
        ("good", [("good", "41"), ("blade_event", "none")]),
    ] {
        let mut fields = coil_of_t4(outcome);
        fields.extend(more);
        let kept = post(bench, "/trials/new", "/trials/new", &fields).await;
        assert_eq!(kept.status, 303, "{:?}", texts(&kept, ".complaint"));
    }
}
