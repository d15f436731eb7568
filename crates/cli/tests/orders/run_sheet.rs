//! What a run sheet says, and what it says instead when a plan cannot be.

use serde_json::{Value, json};

use crate::program::{Changed, batch, examples, planned, run_sheet, same};

fn necklace(
    order: impl Fn(String) -> String,
    workshop: impl Fn(String) -> String,
) -> Result<Value, String> {
    Changed::new("necklace.toml", order, "bench.toml", workshop).plan()
}

#[test]
fn every_example_order_is_answered_within_eighty_columns() {
    for order in ["necklace.toml", "class-kits.toml", "three-lines.toml"] {
        let sheet = run_sheet(&examples().join(order), &[]);
        assert_eq!(sheet.code, 0, "{order}: {}", sheet.stderr);
        for line in sheet.stdout.lines() {
            assert!(line.chars().count() <= 80, "{order}: {line}");
        }
        assert!(!sheet.stdout.to_lowercase().contains("safe"), "no verdict of that kind");
    }
}

#[test]
fn costs_can_be_left_out_of_text_and_json() {
    let order = examples().join("necklace.toml");
    let shown = run_sheet(&order, &[]).stdout;
    assert!(shown.contains("21.87 EUR"), "{shown}");
    for options in [&["--without-costs"][..], &["--without-costs", "--json"]] {
        let hidden = run_sheet(&order, options).stdout;
        assert!(!hidden.contains("EUR"), "{hidden}");
    }
}

#[test]
fn counted_rings_give_odds_and_more_turns_to_slit() {
    let counted = |text: String| {
        text.replace("packing = 1.01", "counted = { good = 95, rejected = 5 }\npacking = 1.01")
    };
    let plan = necklace(same, counted).expect("it can be planned");
    let coils = &plan["sheets"][0]["coils"];
    assert!(coils["turns_to_slit"].as_u64().expect("a count") > 118);
    let odds = &coils["odds"];
    assert_eq!(odds["known"], true);
    assert!(odds["chance_of_enough"].as_f64().expect("a share") >= 0.95, "{odds}");
    assert_eq!(odds["rings_counted"], 100);
}

#[test]
fn without_counts_the_odds_are_not_known_and_the_sheet_says_what_it_bears() {
    let plan = necklace(same, same).expect("it can be planned");
    let odds = &plan["sheets"][0]["coils"]["odds"];
    assert_eq!(odds["known"], false);
    assert_eq!(odds["spoiled_rings_it_bears"], 2);
    assert_eq!(odds["spoiled_rings_it_bears_without_spares"], 13);
}

#[test]
fn a_stop_that_is_not_on_record_is_worked_out() {
    let forgotten = |text: String| text.replace("stop_turns = 3 ", "# stop_turns = 3 ");
    let plan = necklace(same, forgotten).expect("it can be planned");
    let coils = &plan["sheets"][0]["coils"];
    assert_eq!(coils["lost_at_stop"], coils["lost_at_stop_predicted"]);
    assert_eq!(coils["lost_at_stop_basis"]["rests_on"], "worked out");
}

#[test]
fn the_head_start_is_worked_out_when_the_holder_does_not_say() {
    let forgotten = |text: String| text.replace("head_start = ", "# head_start = ");
    let plan = necklace(same, forgotten).expect("it can be planned");
    let coils = &plan["sheets"][0]["coils"];
    // Touched reach 6.8487 mm, less half a wire, and 1 mm to start steadily.
    let head_start_mm = coils["head_start_mm"].as_f64().expect("a length");
    assert!((head_start_mm - (6.848_722_5 - 0.51 + 1.0)).abs() < 1e-6, "{head_start_mm}");
    assert_eq!(coils["head_start_basis"]["rests_on"], "worked out");
}

#[test]
fn lines_that_share_rod_and_wire_are_worked_together_and_metals_are_not_mixed() {
    let plan = planned("three-lines.toml").expect("it can be planned");
    let sheets = plan["sheets"].as_array().expect("sheets");
    let place = |name: &str| {
        sheets.iter().position(|sheet| sheet["line"] == name).expect("every line is worked")
    };
    assert_eq!(place("bracelet").abs_diff(place("necklace")), 1);
    // Rod, blade and wire for the first kind; rod and wire, and perhaps the blade, for the other.
    let changes = plan["changes"].as_u64().expect("a count");
    assert!((5..=6).contains(&changes), "{changes}");
    let wires = plan["wires"].as_array().expect("wires");
    assert_eq!(wires.len(), 2, "silver and copper are never mixed");
    // Two lines with the same set-up need it once.
    let alone: f64 = sheets.iter().map(|sheet| sheet["minutes"].as_f64().expect("minutes")).sum();
    assert!((plan["minutes"].as_f64().expect("minutes") - (alone - 20.0)).abs() < 1e-9);
}

#[test]
fn wire_that_is_not_in_stock_is_to_buy() {
    let short = |text: String| text.replace("length = \"6 m\"", "length = \"1.7 m\"");
    let plan = necklace(same, short).expect("it can be planned");
    let wire = &plan["wires"][0];
    assert_eq!(wire["pieces"][0]["to_buy"], 1, "two of three pieces fit on the reel: {wire}");
    let to_buy_mm = wire["to_buy_mm"].as_f64().expect("a length");
    assert!((to_buy_mm - 782.807).abs() < 0.001, "{to_buy_mm}");
}

#[test]
fn a_shallow_blade_is_told_to_go_deeper_and_a_deep_one_to_go_up() {
    let set = |mm: &'static str| {
        move |text: String| {
            text.replace("measured = \"1.50 mm\"", &format!("measured = \"{mm} mm\""))
                .replace("head_start = ", "# head_start = ")
        }
    };
    let shallow = necklace(same, set("0.90")).expect("the larger blade still reaches");
    let blades = &shallow["sheets"][0]["blades"];
    assert_eq!(blades[0]["name"], "large");
    let why = blades[1]["why_out"][0].as_str().expect("a reason");
    assert!(why.contains("does not part the wire, 0.12 mm short"), "{why}");
    let deep = necklace(same, set("5.20")).expect_err("both nick the far side");
    assert!(deep.contains("nicks the far side"), "{deep}");
}

#[test]
fn an_impossible_ring_is_answered_with_what_is_possible() {
    let tiny = |text: String| {
        text.replace(
            "rod = \"4.00 mm\" ",
            "ring = \"0.2 mm inside open\"\ntolerance = \"0.02 mm\" ",
        )
    };
    let refused = necklace(tiny, same).expect_err("no rod is that thin");
    assert!(refused.contains("no rod of the workshop gives an open ring of 0.20 +/- 0.02 mm"));
    assert!(refused.contains("rod 3.5 gives"), "{refused}");
}

#[test]
fn a_closed_size_is_wound_larger_by_what_closing_takes() {
    // 4.071 closed is 4.140 open with this kerf, which is what the rod gives.
    let closed = |text: String| {
        text.replace(
            "rod = \"4.00 mm\" ",
            "ring = \"4.07 mm inside closed\"\ntolerance = \"0.03 mm\" ",
        )
    };
    let plan = necklace(closed, same).expect("the 4.0 rod hits");
    let sheet = &plan["sheets"][0];
    assert_eq!(sheet["rod"]["name"], "4.0");
    let wanted_mm = sheet["rod"]["wanted"]["coil_inside_diameter_mm"].as_f64().expect("a length");
    assert!((wanted_mm - 4.139).abs() < 0.002, "{wanted_mm}");
}

#[test]
fn a_closed_size_is_opened_by_the_kerf_of_the_blade_that_is_used() {
    let closed = |text: String| {
        text.replace(
            "rod = \"4.00 mm\" ",
            "ring = \"4.07 mm inside closed\"\ntolerance = \"0.05 mm\" ",
        )
    };
    // The first blade, of 0.25 mm, does not reach; the large one, of 0.30 mm, does.
    let shallow = |text: String| {
        text.replace("measured = \"1.50 mm\"", "measured = \"0.90 mm\"")
            .replace("head_start = ", "# head_start = ")
    };
    let plan = necklace(closed, shallow).expect("the 4.0 rod hits");
    let sheet = &plan["sheets"][0];
    assert_eq!(sheet["blades"][0]["name"], "large");
    let wanted_mm = sheet["rod"]["wanted"]["coil_inside_diameter_mm"].as_f64().expect("a length");
    // First order: k/pi more, p^2/(4 pi^2 rho) less; good to a thousandth here.
    let first_order_mm = 4.07 + 0.30 / std::f64::consts::PI - 1.0302_f64.powi(2) / (39.478 * 2.59);
    assert!((wanted_mm - first_order_mm).abs() < 0.001, "{wanted_mm} against {first_order_mm}");
}

#[test]
fn batch_answers_the_same_order_with_the_same_numbers() {
    let line = json!({
        "id": 1, "ask": "run_sheet",
        "order": { "order": "Ferry Lane 14", "line": [{
            "name": "necklace", "metal": "sterling", "temper": "soft", "wire": "1.02 mm",
            "rod": "4.00 mm", "chain": { "length": "450 mm", "clasp": "12 mm" }, "spare": "10 %",
        }] },
        "workshop": {
            "workshop": "bench",
            "holder": {
                "length": "60 mm", "head_start": "8 mm",
                "projection": { "blade": "thin", "measured": "1.50 mm" },
            },
            "losses": { "end_turns": 2, "stop_turns": 3, "tails": "40 mm", "packing": 1.01 },
            "minutes": { "set_up": 20.0, "per_coil": 8.5 },
            "blade": [{ "name": "thin", "diameter": "31.75 mm", "kerf": "0.25 mm" }],
            "wire": [{
                "name": "reel", "metal": "sterling", "temper": "soft", "diameter": "1.02 mm",
                "length": "6 m",
                "tried": [{ "rod": "4.00 mm", "inside": "4.12 4.15 4.14 4.16 4.13 mm" }],
            }],
        },
    });
    let reply = batch(&line);
    assert_eq!(reply["id"], 1, "{reply}");
    let group = &reply["answer"]["sheets"][0]["coils"]["groups"][0];
    assert_eq!(group["coils"], 3);
    assert_eq!(group["wound_turns"], 47);

    let mut wrong = line;
    wrong["workshop"]["holder"]["length"] = json!("60");
    let reply = batch(&wrong);
    assert_eq!(reply["error"]["field"], "workshop.holder length", "{reply}");
    assert_eq!(reply["error"]["given"], "60");
}
