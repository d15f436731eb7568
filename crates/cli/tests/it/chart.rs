//! `chart`: trials and cells as tables, what is believed of each cell as text and JSON.

use std::fs;

use serde_json::Value;

use crate::linkwright::{linkwright, stderr, stdout};

/// Sixty coils of an invented workshop.
const TRIALS: &str =
    concat!(env!("CARGO_MANIFEST_DIR"), "/../trials/tests/references/data/trials_example.csv");

const CELLS: &str = "\
wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,temper,taped,lube,operator,axis_height_mm
0.8118,5,B1,31.75,0.2,160,copper,half_hard,1,1,op0,14.388
0.8118,4,B2,31.75,0.4,90,steel304,half_hard,1,1,op0,14.388
2.0525,3,B2,31.75,0.4,90,copper,half_hard,1,1,op0,14.388
";

fn asked(cells: &str, with: &[&str]) -> std::process::Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("cells.csv");
    fs::write(&path, cells).expect("written");
    let path = path.display().to_string();
    let mut words = vec!["chart", "--cells", &path];
    words.extend(with);
    linkwright(&words)
}

fn beliefs(with: &[&str]) -> Vec<Value> {
    let output = asked(CELLS, with);
    assert!(output.status.success(), "{}", stderr(&output));
    let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    answer["cells"].as_array().expect("cells").clone()
}

#[test]
fn each_cell_is_answered_in_order_with_its_bands() {
    let cells = beliefs(&["--trials", TRIALS, "--json"]);
    assert_eq!(cells.len(), 3);
    for cell in &cells {
        let number = |key: &str, place: usize| cell[key][place].as_f64().expect("a number");
        let mean = cell["q_mean"].as_f64().expect("a number");
        assert!((0.0..=1.0).contains(&mean) && cell["q_sd"].as_f64() > Some(0.0), "{cell}");
        assert!(number("q_95", 0) < number("q_80", 0) && number("q_80", 1) < number("q_95", 1));
        assert!(number("q_80", 0) < mean && mean < number("q_80", 1), "{cell}");
        assert!((0.0..=1.0).contains(&cell["p_q_90"].as_f64().expect("a number")));
    }
    let tried = |cell: &Value| cell["trials_here"].as_u64().expect("a count");
    assert!(tried(&cells[1]) >= 1 && tried(&cells[2]) == 0, "{cells:?}");
    assert_eq!(cells, beliefs(&["--trials", TRIALS, "--json"]), "the same every time");
}

#[test]
fn without_trials_it_is_geometry_with_wider_bands() {
    let width = |cell: &Value| {
        cell["q_80"][1].as_f64().expect("a number") - cell["q_80"][0].as_f64().expect("a number")
    };
    let (bare, taught) = (beliefs(&["--json"]), beliefs(&["--trials", TRIALS, "--json"]));
    assert!(width(&bare[1]) > 1.5 * width(&taught[1]), "{} {}", bare[1], taught[1]);
    let text = stdout(&asked(CELLS, &[]));
    assert!(text.contains("geometry alone") && text.contains("not tried"), "{text}");
}

#[test]
fn a_table_that_cannot_be_used_is_refused_by_line_and_column() {
    let output = asked(&CELLS.replace("0.8118,5", "9.5,5"), &[]);
    assert_eq!(output.status.code(), Some(1));
    let said = stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("line 2: wire_diameter_mm is 9.5 mm; it must be between"), "{said}");
}

fn promised(rings: &str, with: &[&str]) -> std::process::Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("cells.csv");
    fs::write(&path, CELLS).expect("written");
    let path = path.display().to_string();
    let mut words = vec!["promise", "--cells", &path, "--rings", rings];
    words.extend(with);
    linkwright(&words)
}

#[test]
fn a_promise_takes_more_coils_where_less_is_known() {
    let coils = |with: &[&str]| -> Vec<u64> {
        let output = promised("200", with);
        assert!(output.status.success(), "{}", stderr(&output));
        let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
        let cells = answer["cells"].as_array().expect("cells").clone();
        assert!(cells[0]["chance"].as_f64() >= Some(0.95), "{cells:?}");
        cells.iter().filter_map(|cell| cell["coils"].as_u64()).collect()
    };
    let taught = coils(&["--turns", "40", "--trials", TRIALS, "--json"]);
    let bare = coils(&["--turns", "40", "--json"]);
    assert!(taught[1] >= 6 && taught[1] < bare[1], "{taught:?} {bare:?}");
}

#[test]
fn a_promise_that_cannot_be_is_refused_by_field() {
    let output = promised("200", &["--turns", "40", "--confidence", "100 %"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(stderr(&output).contains("confidence"), "{}", stderr(&output));
}

/// Three blades for one size, and two for another.
const CHOICES: &str = "\
wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,temper,taped,lube,operator,axis_height_mm
0.8118,5,B1,31.75,0.2,160,copper,half_hard,1,1,op0,14.388
0.8118,5,B2,31.75,0.4,90,copper,half_hard,1,1,op0,14.388
0.8118,5,B3,38.1,0.25,190,copper,half_hard,1,1,op0,14.388
1.0236,6,B1,31.75,0.2,160,copper,half_hard,1,1,op0,14.388
1.0236,6,B3,38.1,0.25,190,copper,half_hard,1,1,op0,14.388
";

fn proposed(with: &[&str]) -> std::process::Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("cells.csv");
    fs::write(&path, CHOICES).expect("written");
    let path = path.display().to_string();
    let mut words = vec!["try-next", "--cells", &path];
    words.extend(with);
    linkwright(&words)
}

#[test]
fn what_to_try_next_is_ranked_and_says_what_it_is_worth() {
    let output = proposed(&["--trials", TRIALS, "--coils", "4", "--json"]);
    assert!(output.status.success(), "{}", stderr(&output));
    let answer: Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let coils = answer["coils"].as_array().expect("coils");
    assert_eq!(coils.len(), 4, "{answer}");
    for coil in coils {
        assert!(coil["gain_good_rings"].as_f64() > Some(0.0), "{coil}");
        // The bother alone is one ring; the rings of the coil are needed.
        assert!(coil["cost_good_rings"].as_f64() >= Some(1.0), "{coil}");
        let worth_it = coil["gain_good_rings"].as_f64() > coil["cost_good_rings"].as_f64();
        assert_eq!(coil["worth_it"], worth_it);
    }
    let first = |coils: &Vec<Value>| coils[0]["gain_good_rings"].as_f64().expect("a number");
    let untaught = proposed(&["--coils", "1", "--json"]);
    let untaught: Value = serde_json::from_str(&stdout(&untaught)).expect("JSON");
    let before = first(untaught["coils"].as_array().expect("coils"));
    assert!(before > first(coils), "with no trial there is more to learn: {before}");
}

#[test]
fn a_test_coil_of_no_turns_is_refused_by_field() {
    let output = proposed(&["--turns", "0"]);
    assert!(!output.status.success());
    assert!(stderr(&output).contains("turns"), "{}", stderr(&output));
}

#[test]
fn an_empty_workshop_has_no_chart_but_an_answer() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("w.linkwright").display().to_string();
    let missing = linkwright(&["chart", "--data", &data]);
    assert!(!missing.status.success(), "no file, no chart");
    let chart_and_cells = linkwright(&["chart", "--data", &data, "--cells", "x.csv"]);
    assert!(!chart_and_cells.status.success(), "one or the other");
}
