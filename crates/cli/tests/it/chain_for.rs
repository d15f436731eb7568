//! `chain-for`: design the other way round, against `chain` itself, from the example bench and from a data
//! file.

use std::path::Path;

use linkwright_store::records::{Blade, Holder, Rod, Trial, WireLot, Workshop};
use linkwright_store::{Act, Moment, Store, StoreError};
use serde_json::{Value, from_value, json};

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
    // Of a sheet: a width is not its own, and a piece has two sides.
    let wide = linkwright(&["chain-for", "--workshop", &bench, "--sheet", "--width", "6 mm"]);
    assert!(stderr(&wide).contains("--width") && stderr(&wide).contains("as wide as it is made"));
    let words =
        ["chain-for", "--workshop", &bench, "--sheet", "--mass", "40 g", "--length", "10 cm"];
    assert!(stderr(&linkwright(&words)).contains("--across"), "{}", stderr(&linkwright(&words)));
    let words = ["chain-for", "--workshop", &bench, "--width", "0.01 mm"];
    let small = stderr(&linkwright(&words));
    assert!(small.contains("0.01 mm") && small.contains("0.1 and 200"), "{small}");
    let words =
        ["chain-for", "--workshop", &bench, "--width", "6 mm", "--pattern", "european_4in1_sheet"];
    assert!(stderr(&linkwright(&words)).contains("ask with --sheet"));
}

#[test]
fn a_sheet_is_told_by_area_as_chain_tells_it() {
    let words = ["--sheet", "--mass", "40 g", "--length", "100 mm", "--across", "60 mm"];
    let found = found(&words);
    assert!(!found.is_empty());
    let design = &found[0];
    let sheet = &design["gives"]["sheet"];
    let mm = |value: &Value| format!("{} mm", number(value));
    let (wire, inside) =
        (mm(&design["wire_diameter_mm"]), mm(&design["gives"]["closed_inside_diameter_mm"]));
    let name = design["pattern"].as_str().expect("a name");
    let words =
        ["chain", name, "--wire", &wire, "--inside", &inside, "--closed", "--metal", "sterling"];
    let output = linkwright(&[&words[..], &["--json"]].concat());
    let chain: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    for key in ["thickness_mm", "mass_g_per_cm2"] {
        let (ours, theirs) = (number(&sheet[key]), number(&chain[key]));
        assert!((ours - theirs).abs() < 1e-6 * theirs, "{name} {key}: {ours} {theirs}");
    }
    // 60 square centimetres of it weigh what was wanted, but for what it is off.
    let off = (60.0 * number(&sheet["mass_g_per_cm2"]) - 40.0) / 40.0;
    assert!((number(&design["off"]) - off.abs()).abs() < 1e-12, "{design}");
}

/// A bench of two wires in the data file, one of them tried on a rod.
fn fill(act: &Act<'_>) -> Result<(), StoreError> {
    act.add(&from_value::<Workshop>(json!({
        "name": "Ferry Lane bench", "confidence": "95 %", "end_turns": 2, "stop_turns": 3,
        "tails": "40 mm", "packing": 1.01, "set_up_minutes": 20.0, "per_coil_minutes": 8.5,
        "sample": false, "hour_cost_typed": null, "ring_worth_typed": null, "scrap_paid_typed": null
    })).expect("a record"))?;
    for tenths in [25, 30, 35, 40, 45, 50, 60, 70, 80] {
        let mm = f64::from(tenths) / 10.0;
        act.add(
            &from_value::<Rod>(json!({
                "name": mm.to_string(), "marked_typed": format!("{mm} mm"), "marked_mm": mm,
                "measured_typed": null, "measured_mm": null, "note": "", "retired_on": null,
                "retired_why": ""
            }))
            .expect("a record"),
        )?;
    }
    let blade = act.add(&from_value::<Blade>(json!({
        "name": "thin", "diameter_typed": "31.75 mm", "diameter_mm": 31.75, "kerf_typed": "0.25 mm",
        "kerf_mm": 0.25, "teeth": 250, "hub_typed": "12 mm", "hub_mm": 12.0, "fitted_on": null,
        "rings_before": 0, "cut_before_mm2": 0.0, "retired_on": null, "retired_why": "", "note": ""
    })).expect("a record"))?;
    act.add(&from_value::<Holder>(json!({
        "name": "plates", "length_typed": "60 mm", "head_start_typed": null,
        "stop_setback_typed": "3 mm", "squash_typed": "0.05 mm", "margin_typed": "0.30 mm",
        "projection_blade_id": blade.number(), "projection_typed": "1.90 mm", "in_use": true, "note": ""
    })).expect("a record"))?;
    for (name, metal, mm, price) in [
        ("silver 3", "sterling_925", 1.02, Some("1.10 EUR per g")),
        ("copper", "copper_c110", 0.81, None),
    ] {
        let lot = act.add(&from_value::<WireLot>(json!({
            "name": name, "metal": metal, "temper": "annealed", "diameter_typed": format!("{mm} mm"),
            "diameter_mm": mm, "measured_diameter_typed": null, "measured_diameter_mm": null,
            "measured_density_g_cm3": null, "length_typed": null, "mass_typed": "300 g",
            "annealed": false, "price_typed": price, "price_date": price.map(|_| "2026-11-02"),
            "supplier": "", "bought_on": null, "note": "", "finished_on": null, "finished_why": ""
        })).expect("a record"))?;
        if price.is_some() {
            act.add(&from_value::<Trial>(json!({
                "tried_on": "2026-11-01", "source": "typed", "metal": metal, "temper": "annealed",
                "annealed": false, "wire_typed": "1.02 mm", "wire_mm": mm, "rod_typed": "4 mm",
                "rod_mm": 4.0, "wire_lot_id": lot.number(), "blade_id": blade.number(),
                "blade_name": "thin", "blade_diameter_mm": null, "projection_typed": "1.5 mm",
                "projection_mm": 1.5, "inside_typed": "4.14 mm", "inside_mean_mm": 4.14,
                "inside_readings": 1, "turns_wound": 50, "turns_relaxed": 49.5, "good": 44, "uncut": 1,
                "nicked": 1, "crushed": 0, "blade_event": "none", "outcome": "good", "run_id": null,
                "coil_number": null, "worker": "", "note": ""
            })).expect("a record"))?;
        }
    }
    Ok(())
}

#[test]
fn the_wire_and_rods_of_a_data_file_are_searched() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bench.linkwright");
    let file = path.to_str().expect("UTF-8");
    let store = Store::open(&path).expect("opens");
    let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    store.act(now, "Filled for a test", fill).expect("filled");
    drop(store);
    let ask = ["chain-for", "--data", file, "--json", "--width", "9 mm", "--show", "500"];
    let output = linkwright(&ask);
    assert!(output.status.success(), "{}", stderr(&output));
    let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let found = answer["found"].as_array().expect("a list");
    assert!(found.len() > 100, "{}", found.len());
    assert_eq!(answer["looked_at"].as_u64(), Some(found.len() as u64));
    assert!(number(&answer["left_out_counts"]["too_small"]) > 0.0, "{answer}");
    // The ring tried in this lot on this rod is planned with as it was read; its price is dated.
    let tried: Vec<&Value> = found
        .iter()
        .map(|design| &design["gives"])
        .filter(|gives| gives["open_inside_rests_on"] == "tried")
        .collect();
    assert!(!tried.is_empty());
    for gives in tried {
        assert_eq!((&gives["rod"], &gives["lot"]), (&json!("4"), &json!("silver 3")));
        assert_eq!(gives["open_inside_diameter_mm"], 4.14);
        assert_eq!(gives["price_date"], "2026-11-02");
    }
    // Patterns of two sizes take both rings from one metal, each told by wire and rod.
    let both: Vec<&Value> =
        found.iter().filter(|design| !design["further_rings"][0].is_null()).collect();
    assert!(!both.is_empty());
    for design in both {
        assert_eq!(design["gives"]["lot"], design["further_rings"][0]["lot"], "{design}");
    }
    // In money: the copper has no price, and says so.
    let ask = ["chain-for", "--data", file, "--json", "--cost", "30 EUR", "--length", "45 cm"];
    let output = linkwright(&ask);
    let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    assert!(number(&answer["left_out_counts"]["unpriced"]) > 0.0, "{answer}");
}
