//! `chain-for`: design the other way round, against `chain` itself and the example bench.

use std::path::Path;

use serde_json::Value;

use crate::linkwright::{linkwright, stderr, stdout};

fn bench() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/bench.toml");
    path.to_str().expect("UTF-8").to_owned()
}

fn found(words: &[&str]) -> Vec<Value> {
    let bench = bench();
    let all = [&["chain-for", "--workshop", &bench, "--json"], words].concat();
    let output = linkwright(&all);
    assert!(output.status.success(), "{}", stdout(&output));
    let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    answer["found"].as_array().expect("a list").clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

#[test]
fn the_nearest_width_stands_first_and_the_rest_follow() {
    let found = found(&["--width", "6 mm", "--show", "50"]);
    assert!(found.len() > 10, "{}", found.len());
    let off: Vec<f64> = found.iter().map(|design| number(&design["off"])).collect();
    assert!(off.windows(2).all(|pair| pair[0] <= pair[1]), "{off:?}");
    for design in &found {
        let width = number(&design["gives"]["chain"]["width_mm"]);
        assert!((number(&design["off"]) - (width - 6.0).abs() / 6.0).abs() < 1e-12, "{design}");
    }
}

#[test]
fn each_answer_is_what_chain_says_of_that_ring() {
    for design in found(&["--mass", "30 g", "--length", "450 mm", "--show", "5"]) {
        let given = &design["gives"];
        let mm = |value: &Value| format!("{} mm", number(value));
        let (wire, inside) =
            (mm(&design["wire_diameter_mm"]), mm(&given["closed_inside_diameter_mm"]));
        let name = design["pattern"].as_str().expect("a name");
        let words = [
            "chain", name, "--wire", &wire, "--inside", &inside, "--closed", "--metal", "sterling",
        ];
        let output = linkwright(&[&words[..], &["--json"]].concat());
        let chain: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
        for key in ["width_mm", "thickness_mm", "rings_per_cm", "mass_g_per_cm"] {
            let (ours, theirs) = (number(&given["chain"][key]), number(&chain[key]));
            // Sizes went through text of full digits; the density is the same table's.
            assert!((ours - theirs).abs() < 1e-6 * theirs, "{name} {key}: {ours} {theirs}");
        }
    }
}

#[test]
fn a_cost_is_the_mass_times_the_price_and_the_rods_next_to_it_are_shown() {
    let found = found(&["--cost", "30 EUR", "--length", "450 mm", "--pattern", "byzantine"]);
    // The bench owns rods of 3.5, 4.0 and 4.5 mm and one wire at 1.10 EUR per g.
    assert!(!found.is_empty() && found.len() <= 3, "{}", found.len());
    for design in &found {
        let chain = &design["gives"]["chain"];
        let cost = number(&chain["cost_per_cm"]["amount"]);
        assert!((cost - 1.10 * number(&chain["mass_g_per_cm"])).abs() < 1e-9, "{design}");
        assert_eq!(chain["cost_per_cm"]["currency"], "EUR");
        match design["gives"]["rod"].as_str() {
            Some("4.0") => {
                assert_eq!(design["next_rod_up"]["rod"], "4.5");
                assert_eq!(design["next_rod_down"]["rod"], "3.5");
            }
            Some("4.5") => assert!(design["next_rod_up"].is_null(), "{design}"),
            _ => assert!(design["next_rod_down"].is_null(), "{design}"),
        }
    }
}

#[test]
fn nothing_wanted_and_a_cost_of_nothing_are_refused() {
    let bench = bench();
    let nothing = linkwright(&["chain-for", "--workshop", &bench]);
    assert_eq!(nothing.status.code(), Some(1));
    assert!(stderr(&nothing).contains("--width"), "{}", stderr(&nothing));
    let words = ["chain-for", "--workshop", &bench, "--cost", "0 EUR", "--length", "45 cm"];
    let free = linkwright(&words);
    assert_eq!(free.status.code(), Some(1));
    assert!(stderr(&free).contains("--cost"), "{}", stderr(&free));
}
