//! The commands as a jeweller types them: what they print, what they ask back, how they exit.

use serde_json::{Value, json};

use crate::linkwright::{linkwright, stderr, stdout};

const COMMANDS: [&str; 9] =
    ["gauge", "wind", "mandrel", "slit", "ring", "count", "metals", "run-sheet", "batch"];

/// The words of a command line, with "..." keeping words together.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quote = None;
    for letter in line.chars() {
        match (quote, letter) {
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), _) if open == letter => quote = None,
            (None, ' ') => words.push(String::new()),
            _ => words.last_mut().expect("at least one").push(letter),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

fn run(line: &str) -> (Option<i32>, String, String) {
    let words = words(line);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let output = linkwright(&words);
    (output.status.code(), stdout(&output), stderr(&output))
}

fn answered(line: &str) -> String {
    let (code, text, said) = run(line);
    assert_eq!(code, Some(0), "{line}: {said}");
    assert_eq!(said, "", "{line}");
    for printed in text.lines() {
        assert!(printed.chars().count() <= 80, "{line}: {printed}");
    }
    text
}

fn answered_in_json(line: &str) -> Value {
    let (code, text, said) = run(&format!("{line} --json"));
    assert_eq!(code, Some(0), "{line}: {said}");
    serde_json::from_str(&text).expect("JSON")
}

/// Exit code 1, nothing on standard output, and a sentence.
fn refused(line: &str) -> String {
    let (code, text, said) = run(line);
    assert_eq!(code, Some(1), "{line}: {said}");
    assert_eq!(text, "", "{line}");
    for printed in said.lines() {
        assert!(printed.chars().count() <= 80, "{line}: {printed}");
    }
    said
}

fn near(value: &Value, wanted: f64, within: f64) -> bool {
    value.as_f64().is_some_and(|value| (value - wanted).abs() <= within)
}

#[test]
fn a_bare_gauge_number_is_asked_about() {
    insta::assert_snapshot!(refused("gauge 18"), @r#"
    linkwright: size: "18" does not say a gauge or which unit of length. Type:
      18 awg     18 AWG, 1.024 mm (0.0403 in)
      18 swg     18 SWG (British), 1.219 mm (0.0480 in)
      1.2065 mm  18 American steel wire gauge, 1.206 mm (0.0475 in)
      18 mm      18.000 mm (0.7087 in)
      18 in      457.200 mm (18.0000 in)
      18 thou    0.457 mm (0.0180 in)
    "#);
    let (code, text, _) = run("gauge 18 --json");
    assert_eq!(code, Some(1));
    let error: Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(error["error"]["readings"][0]["type_instead"], json!("18 awg"));
    assert!(near(&error["error"]["readings"][1]["value"], 1.2192, 1e-12), "{error}");
}

#[test]
fn a_size_is_answered_in_every_system() {
    for (typed, wanted_mm) in
        [("18 awg", 1.0236873), ("1.02 mm", 1.02), ("'3/16\"'", 4.7625), ("16 swg", 1.6256)]
    {
        let answer = answered_in_json(&format!("gauge {typed}"));
        // Seven printed digits.
        assert!(near(&answer["answer"]["wire_diameter_mm"], wanted_mm, 5e-8), "{answer}");
    }
    insta::assert_snapshot!(answered("gauge 16 swg"));
}

#[test]
fn every_size_refuses_as_the_door_does() {
    for (line, option) in [
        ("ring --wire 18 --inside 5mm --kerf .3mm", "--wire"),
        ("ring --wire 18awg --inside 5 --kerf .3mm", "--inside"),
        ("ring --wire 18awg --inside 5mm --kerf 3", "--kerf"),
        ("ring --wire 18awg --inside 5mm --kerf .3mm --pitch 1", "--pitch"),
        ("count weight --net 4oz --sample-rings 50 --sample 6g --scale-step .01g", "--net"),
        ("wind --wire 1mm --rod 4 --metal brass --temper hard", "--rod"),
    ] {
        let said = refused(line);
        assert!(said.starts_with(&format!("linkwright: {option}: ")), "{said}");
        assert!(said.contains("Type:"), "{said}");
    }
    let said = refused("ring --wire 18awg --inside 5000mm --kerf .3mm");
    assert!(said.replace("\n  ", " ").contains("between 0.1 and 1000 mm"), "{said}");
}

#[test]
fn the_ring_springs_open_as_its_metal_does() {
    // Outside: springback 0.22 to 0.33 for half-hard sterling 16 AWG on 5 mm is the design's
    // own table (mechanics, closing table); our metal's band is newer and narrower.
    let line = "wind --wire 1.291mm --rod 5mm --metal sterling --temper 'half hard'";
    let answer = answered_in_json(line);
    let growth = &answer["answer"]["growth_mm"];
    assert!(near(growth, 0.28, 0.05), "{growth}");
    let low = answer["answer"]["coil_inside_diameter_low_mm"].as_f64().expect("a number");
    let high = answer["answer"]["coil_inside_diameter_high_mm"].as_f64().expect("a number");
    assert!(low < 5.28 && 5.28 < high, "{low} {high}");
    assert_eq!(answer["answer"]["reach"], json!("not tried"));
}

#[test]
fn a_measured_ring_sharpens_the_next_one() {
    let line = "wind --wire 1.02mm --rod 4mm --metal sterling --temper 'half hard'";
    let width = |answer: &Value| {
        let end = |key: &str| answer["answer"][key].as_f64().expect("a number");
        end("coil_inside_diameter_high_mm") - end("coil_inside_diameter_low_mm")
    };
    let before = answered_in_json(line);
    let tried = format!("{line} --tried 4.00=4.12,4.15,4.14,4.16,4.13");
    let after = answered_in_json(&tried);
    assert!(width(&after) < 0.8 * width(&before), "{} {}", width(&before), width(&after));
    // T1: the mean of the five is 4.140; the table alone says 4.226, and one coil outweighs it
    // about seven to one.
    assert!(near(&after["answer"]["coil_inside_diameter_mm"], 4.14, 0.015), "{after}");
    assert_eq!(after["basis"]["inside diameter"]["rests_on"], json!("tried"));
    insta::assert_snapshot!(answered(&tried));
}

#[test]
fn trial_rings_smaller_than_their_rod_are_refused() {
    let line = "wind --wire 1.02mm --rod 4mm --metal sterling --temper hard";
    for wrong in ["4.00=3.00", "4.00", "4.00=", "=4.1", "4.00=4.12,,4.15", "x=4.1"] {
        let said = refused(&format!("{line} --tried {wrong}"));
        assert!(said.contains("--tried") || said.contains("mandrel"), "{said}");
    }
}

#[test]
fn a_flow_law_in_place_of_a_metal_answers_as_batch_does() {
    let answer = answered_in_json(
        "wind --wire 1.291mm --rod 5mm --turns 60 --youngs-mpa 110000 \
         --flow 'elastic_perfectly_plastic yield_strength_mpa=450'",
    );
    // docs/batch.md, the third example of `wind`.
    assert!(near(&answer["answer"]["turns_left"], 57.9698549, 1e-6), "{answer}");
    let said = refused("wind --wire 1mm --rod 4mm --youngs-mpa 110000 --flow 'bilinear yield=3'");
    assert!(said.contains("flow.yield is not an input"), "{said}");
}

#[test]
fn a_rod_is_chosen_among_those_at_hand_or_a_drill_shank() {
    // T3: rod wanted 3.30; no half-mm rod is within tolerance as bought.
    let line = "mandrel --wire 0.81mm --inside 3.5mm --tolerance 0.05mm --metal brass \
                --temper 'half hard' --own 3.0,3.5,4.0 --tried 3.0=3.17 --tried 3.5=3.72 \
                --tried 4.0=4.28";
    let answer = answered_in_json(line);
    assert!(near(&answer["answer"]["mandrel_diameter_mm"], 3.30, 0.005), "{answer}");
    let candidates = answer["answer"]["candidates"].as_array().expect("a list");
    let fits: Vec<&Value> =
        candidates.iter().filter(|c| c["within_tolerance"] == json!(true)).collect();
    assert!(fits.iter().all(|c| c["whose"] == json!("drill shank")), "{answer}");
    assert!(near(&fits[0]["mandrel_diameter_mm"], 3.3, 1e-9), "{answer}");
    insta::assert_snapshot!(answered(line));
    // T3: annealed on 3.5 the trial ring was 3.57 (2 %).
    let annealed = answered_in_json(&format!("{line} --may-anneal --tried-annealed 3.5=3.57"));
    let on_own = annealed["answer"]["candidates"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|c| c["wire"] == json!("annealed") && near(&c["mandrel_diameter_mm"], 3.5, 1e-9))
        .expect("the 3.5 rod");
    assert!(near(&on_own["coil_inside_diameter_mm"], 3.57, 0.01), "{on_own}");
}

#[test]
fn a_blade_that_does_not_reach_is_refused_with_the_reason() {
    // T4: projection 1.6 is less than the wire; 2.2 is allowed, the far side clear by 5.67.
    let line = "slit --wire 1.63mm --inside 6.24mm --blade '1 1/4 in' --kerf 0.25mm";
    let answer = answered_in_json(&format!("{line} --projection 1.6mm"));
    assert_eq!(answer["answer"]["clears"], json!(false));
    assert!(answered(&format!("{line} --projection 1.6mm")).starts_with("Refused"));
    let answer = answered_in_json(&format!("{line} --projection 2.2mm --stop-setback 6mm"));
    assert_eq!(answer["answer"]["clears"], json!(true));
    assert!(near(&answer["answer"]["before_far_wall_mm"], 5.67, 0.005), "{answer}");
    assert!(near(&answer["answer"]["head_start_mm"], 8.28, 0.005), "{answer}");
    assert!(near(&answer["answer"]["severed_reach_mm"], 4.10, 0.005), "{answer}");
    assert_eq!(answer["answer"]["turns_not_severed"], json!(1));
    insta::assert_snapshot!(answered(&format!(
        "{line} --projection 2.2mm --stop-setback 6mm --metal bronze --teeth 60 --rpm 1000 --feed 60"
    )));
}

#[test]
fn a_projection_measured_with_one_blade_holds_for_another() {
    // The axis stays 15.875 - 2.2 above the coil, so a 38.1 mm blade reaches 5.375 deep.
    let answer = answered_in_json(
        "slit --wire 1.63mm --inside 6.24mm --blade '1 1/2 in' --kerf 0.25mm --projection 2.2mm \
         --measured-blade '1 1/4 in'",
    );
    assert!(near(&answer["answer"]["projection_mm"], 5.375, 1e-9), "{answer}");
}

#[test]
fn a_ring_closes_weighs_and_bears() {
    // T1: closed 4.071, ring 0.1354 g of sterling 10.36 with pitch 1.01 d.
    let line = "ring --wire 1.02mm --inside 4.14mm --kerf 0.25mm --pitch 1.0302mm --metal sterling";
    let answer = answered_in_json(line);
    assert!(near(&answer["answer"]["closed_inside_diameter_mm"], 4.071, 0.0005), "{answer}");
    assert!(near(&answer["answer"]["mass_g"], 0.1354, 0.00005), "{answer}");
    insta::assert_snapshot!(answered(&format!("{line} --temper 'half hard'")));
    // And back: the coil for that closed ring is the one it came from.
    let closed = answer["answer"]["closed_inside_diameter_mm"].as_f64().expect("a number");
    let back = answered_in_json(&format!(
        "ring --wire 1.02mm --closed '{closed} mm' --kerf 0.25mm --pitch 1.0302mm"
    ));
    assert!(near(&back["answer"]["coil_inside_diameter_mm"], 4.14, 1e-6), "{back}");
}

#[test]
fn the_sheet_the_ring_and_the_chain_tell_the_same_pull() {
    let example = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/necklace.toml");
    let plan = answered_in_json(&format!("run-sheet {example}"));
    let ring = &plan["answer"]["sheets"][0]["ring"];
    let closed_mm = ring["closed_inside_diameter_mm"].as_f64().expect("a size");
    let (wire_mm, flow_mpa) = (1.02, 238.0);
    // Soft sterling flows at 238 MPa (data/metals.csv). Without its own pull the hinge forms at Mp/R, and
    // that takes 0.5 to 1 % off: docs/theory/ring.md, section 5.
    let hinge_n = flow_mpa * f64::powi(wire_mm, 3) / 6.0 / (0.5 * (closed_mm + wire_mm));
    let opens_n = ring["opens_at_n"].as_f64().expect("a pull");
    assert!(opens_n < 0.995 * hinge_n && opens_n > 0.99 * hinge_n, "{opens_n} {hinge_n}");
    let of = "--wire 1.02mm --metal sterling --temper soft";
    let alone = answered_in_json(&format!("ring {of} --closed '{closed_mm} mm' --kerf 0.25mm"));
    assert!(near(&alone["answer"]["opens_at_n"], opens_n, 1e-6), "{alone} {opens_n}");
    let inside = format!("--inside '{closed_mm} mm' --closed");
    let pulled = |more: &str| {
        let chain =
            answered_in_json(&format!("chain cable {of} {inside} --in-full --pull-n 1 {more}"));
        chain["under_load"]["gives_way_n"].as_f64().unwrap_or_else(|| panic!("{chain}"))
    };
    // Each ring of a cable chain carries all of the pull; the contact is solved to a thousandth.
    assert!((pulled("") / opens_n - 1.0).abs() < 1e-3, "{} {opens_n}", pulled(""));
    // Soldered it draws out oval at four times the hinge of soft metal, whatever the wire was before.
    let hard = of.replace("soft", "hard");
    let soldered =
        answered_in_json(&format!("ring {hard} --closed '{closed_mm} mm' --kerf 0.25mm"));
    let onset = &soldered["answer"]["soldered_stretch_onset_n"];
    assert!(near(onset, 4.0 * hinge_n, 1e-3), "{soldered}");
    assert!((pulled("--soldered") / (4.0 * hinge_n) - 1.0).abs() < 1e-3);
}

#[test]
fn a_jar_is_counted_by_weight() {
    // T5: 3,050 rings +/- 9.
    let line = "count weight --net '412.35 g' --sample-rings 50 --sample '6.76 g' \
                --scale-step '0.01 g' --spread '1 %'";
    let text = answered(line);
    assert!(text.contains("3050 +/- 9"), "{text}");
    let answer = answered_in_json(line);
    assert!(near(&answer["answer"]["rings"], 3050.0, 0.5), "{answer}");
}

#[test]
fn odds_and_coils_rest_on_the_rings_seen() {
    let odds = answered_in_json("count odds --turns 55 --good 50 --seen-good 94 --seen-bad 4");
    let probability = odds["answer"]["probability"].as_f64().expect("a number");
    assert!(0.9 < probability && probability < 0.95, "{probability}");
    assert_eq!(odds["basis"]["rate"]["trials"], json!(98));
    let coils = "count coils --good 500 --turns-per-coil 60 --lost-per-coil 5";
    let shared = answered_in_json(&format!("{coils} --seen-good 94 --seen-bad 4"));
    assert_eq!(shared["answer"]["coils"], json!(10));
    let said = refused(&format!("{coils} --seen-good 0 --seen-bad 90000"));
    assert!(said.contains("good"), "{said}");
}

#[test]
fn metals_are_listed_shown_and_overlaid() {
    let list = answered_in_json("metals");
    assert!(list["answer"]["metals"].as_array().expect("a list").len() >= 29);
    let text = answered("metals");
    assert!(text.contains("sterling_925"), "{text}");
    assert!(answered("metals nickel silver").contains("skin may be allergic"));
    let file = tempfile::NamedTempFile::new().expect("a file");
    let overlay = "[[metal]]\nkey = \"sterling_925\"\nmeasured_density_g_cm3 = 10.31\n";
    std::fs::write(file.path(), overlay).expect("written");
    let path = file.path().display();
    let shown = answered_in_json(&format!("metals sterling --overlay {path}"));
    assert!(near(&shown["answer"]["density_g_cm3"], 10.31, 1e-12), "{shown}");
    assert_eq!(shown["basis"]["density"]["rests_on"], json!("tried"));
    std::fs::write(file.path(), "[[metal]]\nkey = \"sterling_925\"\ndensity = 10\n")
        .expect("written");
    let said = refused(&format!("metals sterling --overlay {path}"));
    assert!(said.contains("line 3"), "{said}");
    let said = refused("metals unobtainium");
    assert!(said.contains("nearest"), "{said}");
}

#[test]
fn every_example_of_every_help_works() {
    let mut ran = 0;
    for command in COMMANDS.iter().chain(&["count weight", "count odds", "count coils"]) {
        let help = answered_help(command).replace("\\\n", " ");
        assert!(help.contains("linkwright "), "no example for {command}: {help}");
        for line in help.lines().map(str::trim) {
            let Some(example) = line.strip_prefix("linkwright ") else {
                continue;
            };
            // Remarks in brackets, files and pipes are not part of the command.
            let example = example.split("   (").next().expect("a part");
            if example.contains('|') || example.contains(".toml") {
                continue;
            }
            answered(example);
            ran += 1;
        }
    }
    assert!(ran >= 18, "{ran}");
}

fn answered_help(command: &str) -> String {
    let (code, text, _) = run(&format!("{command} --help"));
    assert_eq!(code, Some(0), "{command}");
    text
}

#[test]
fn the_exit_codes_are_as_the_help_says() {
    let (code, help, _) = run("--help");
    assert_eq!(code, Some(0));
    for promised in ["0  answered", "1  what was typed", "2  the command line", "3  a file"] {
        assert!(help.contains(promised), "{help}");
    }
    assert_eq!(run("gauge 18 awg").0, Some(0));
    assert_eq!(run("gauge 18").0, Some(1));
    assert_eq!(run("gouge 18").0, Some(2));
    assert_eq!(run("gauge").0, Some(2));
    assert_eq!(run("batch nowhere.jsonl").0, Some(3));
}

#[test]
fn asked_for_help_the_program_says_what_it_can_do() {
    let text = answered("help");
    for command in COMMANDS {
        assert!(text.contains(&format!("\n  {command} ")), "{command}: {text}");
    }
}

#[test]
fn completions_and_manual_pages_are_written() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let (code, script, _) = run(&format!("completions {shell}"));
        assert_eq!(code, Some(0), "{shell}");
        assert!(script.contains("mandrel"), "{shell}");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let man = folder.path().join("man1");
    answered(&format!("man {}", man.display()));
    for page in ["linkwright.1", "linkwright-gauge.1", "linkwright-batch.1"] {
        let text = std::fs::read_to_string(man.join(page)).expect(page);
        assert!(text.contains(".SH"), "{page}");
    }
    let (_, page, _) = run("man");
    assert!(page.contains("Exit codes"), "{page}");
}

#[test]
fn no_answer_calls_anything_safe() {
    for command in COMMANDS {
        let help = answered_help(command);
        assert!(!help.to_lowercase().contains("safe"), "{command}");
    }
    let text = answered("slit --wire 1mm --inside 5mm --blade 22mm --kerf .3mm --projection 3mm");
    assert!(!text.to_lowercase().contains(" safe"), "{text}");
}
