//! `linkwright paper`: sheets written as PDF.

use std::path::Path;
use std::process::{Command, Output};

use linkwright_store::Store;

use crate::linkwright::{stderr, stdout};

fn examples(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    path.to_str().expect("UTF-8").to_owned()
}

/// Runs `linkwright paper` in a folder.
fn paper(folder: &Path, words: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_linkwright"));
    program.current_dir(folder).arg("paper").args(words).output().expect("it starts")
}

/// What is said about a PDF by the readers of poppler: its words, and `pdfinfo`'s lines.
fn read(path: &Path) -> (String, String) {
    let words = Command::new("pdftotext").arg("-raw").arg(path).arg("-").output();
    let told = Command::new("pdfinfo").arg(path).output();
    let words = stdout(&words.expect("pdftotext (of poppler)"));
    (words.split_whitespace().collect::<Vec<_>>().join(" "), stdout(&told.expect("pdfinfo")))
}

#[test]
fn a_run_sheet_is_written_beside_the_command_and_named_after_its_order() {
    let folder = tempfile::tempdir().expect("a folder");
    let order = examples("necklace.toml");
    let outcome = paper(folder.path(), &["run-sheet", &order, "--paper", "letter"]);
    assert_eq!(stdout(&outcome), "necklace.pdf is ready to print on Letter.\n", "{outcome:?}");
    let (words, told) = read(&folder.path().join("necklace.pdf"));
    assert!(words.contains("3 \u{d7} 47 turns") && words.contains("EUR"), "{words}");
    assert!(told.contains("(letter)"), "{told}");
}

#[test]
fn a_file_that_was_not_named_is_never_written_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("cautions.pdf");
    std::fs::write(&path, "mine").expect("written");
    let outcome = paper(folder.path(), &["cautions"]);
    assert_eq!(outcome.status.code(), Some(3));
    assert!(stderr(&outcome).contains("cautions.pdf"), "{outcome:?}");
    assert_eq!(std::fs::read(&path).expect("read"), b"mine");
    let outcome = paper(folder.path(), &["cautions", "--out", "cautions.pdf", "--json"]);
    assert_eq!(stdout(&outcome), "{\"written\":\"cautions.pdf\",\"paper\":\"A4\"}\n");
    assert!(read(&path).0.contains("Version"));
}

#[test]
fn costs_are_left_out_of_a_run_sheet_on_request() {
    let folder = tempfile::tempdir().expect("a folder");
    let order = examples("necklace.toml");
    let outcome = paper(folder.path(), &["run-sheet", &order, "--without-costs"]);
    assert!(outcome.status.success(), "{outcome:?}");
    assert!(!read(&folder.path().join("necklace.pdf")).0.contains("EUR"));
}

#[test]
fn a_kit_sheet_needs_a_line_of_kits() {
    let folder = tempfile::tempdir().expect("a folder");
    let outcome = paper(folder.path(), &["kit", &examples("class-kits.toml")]);
    assert!(outcome.status.success(), "{outcome:?}");
    assert!(read(&folder.path().join("class-kits-kit.pdf")).0.contains("Kit 13 of 13"));
    let outcome = paper(folder.path(), &["kit", &examples("necklace.toml")]);
    assert_eq!(outcome.status.code(), Some(1));
    assert!(stderr(&outcome).contains("asks for kits"), "{outcome:?}");
}

#[test]
fn a_trial_card_and_an_untried_chart_are_printed_too() {
    let folder = tempfile::tempdir().expect("a folder");
    assert!(paper(folder.path(), &["trial-card"]).status.success());
    assert!(read(&folder.path().join("trial-card.pdf")).0.contains("turns wound"));
    let missing = paper(folder.path(), &["wall-chart", "--data", "bench.linkwright"]);
    assert_eq!(missing.status.code(), Some(3), "a data file is not made by looking at it");
    drop(Store::open(&folder.path().join("bench.linkwright")).expect("opens"));
    let chart = paper(folder.path(), &["wall-chart", "--data", "bench.linkwright"]);
    assert!(chart.status.success(), "{chart:?}");
    let words = read(&folder.path().join("wall-chart.pdf")).0;
    assert!(words.contains("No trial has been recorded yet"), "{words}");
}

#[test]
fn a_label_for_a_code_that_no_batch_has_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    drop(Store::open(&folder.path().join("bench.linkwright")).expect("opens"));
    let outcome = paper(folder.path(), &["labels", "X9", "--data", "bench.linkwright"]);
    assert_eq!(outcome.status.code(), Some(1));
    assert!(stderr(&outcome).contains("no batch has the code \"X9\""), "{outcome:?}");
    assert!(!folder.path().join("labels.pdf").exists());
}
