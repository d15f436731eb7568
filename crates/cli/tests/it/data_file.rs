//! Backing up, restoring, checking and exporting a data file.

use std::fs;
use std::path::{Path, PathBuf};

use linkwright_store::records::Rod;
use linkwright_store::{Moment, Store};
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::linkwright::{linkwright, stderr, stdout};

struct Workshop {
    folder: TempDir,
    file: PathBuf,
}

impl Workshop {
    /// A data file with one rod, named 4.0.
    fn new() -> Workshop {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("bench.linkwright");
        let workshop = Workshop { folder, file };
        workshop.add("4.0");
        workshop
    }

    fn add(&self, name: &str) {
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let rod = Rod {
            name: name.to_owned(),
            marked_typed: "4 mm".to_owned(),
            marked_mm: 4.0,
            measured_typed: None,
            measured_mm: None,
            note: String::new(),
            retired_on: None,
            retired_why: String::new(),
        };
        let store = Store::open(&self.file).expect("opens");
        store.act(now, "Added a rod", |act| act.add(&rod)).expect("saved");
    }

    fn beside(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Runs a command on this data file.
    fn run(&self, words: &[&str]) -> (Option<i32>, String, String) {
        let data = text(&self.file);
        let mut all = words.to_vec();
        all.extend(["--data", &data]);
        let output = linkwright(&all);
        // Long sentences are broken into lines; what they say is tested here, not where they break.
        let said = stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ");
        (output.status.code(), stdout(&output), said)
    }

    fn answer(&self, words: &[&str]) -> Value {
        let mut all = words.to_vec();
        all.push("--json");
        let (code, text, said) = self.run(&all);
        assert_eq!(code, Some(0), "{words:?}: {said}");
        serde_json::from_str(&text).expect("JSON")
    }

    fn rods(&self) -> Vec<Value> {
        let document = self.answer(&["export"]);
        let rods = document["tables"]["rod"].as_array().expect("a list");
        rods.iter().map(|rod| rod["name"].clone()).collect()
    }
}

fn text(path: &Path) -> String {
    path.to_str().expect("Unicode").to_owned()
}

#[test]
fn a_backup_goes_where_it_is_told_or_beside_the_data_file() {
    let workshop = Workshop::new();
    let told = workshop.beside("copy.linkwright");
    let (code, said, _) = workshop.run(&["backup", &text(&told)]);
    assert_eq!(code, Some(0));
    assert!(said.contains("Backup made"), "{said}");
    assert!(told.is_file());
    let answer = workshop.answer(&["backup"]);
    let beside = PathBuf::from(answer["answer"]["backup"].as_str().expect("a path"));
    assert!(beside.starts_with(workshop.beside("backups")) && beside.is_file(), "{beside:?}");
    let into_a_folder = workshop.answer(&["backup", &text(workshop.folder.path())]);
    let copy = PathBuf::from(into_a_folder["answer"]["backup"].as_str().expect("a path"));
    assert_eq!(copy.parent(), Some(workshop.folder.path()));
}

#[test]
fn a_backup_never_writes_over_a_file() {
    let workshop = Workshop::new();
    let there = workshop.beside("letters.txt");
    fs::write(&there, b"Dear").expect("written");
    let (code, _, said) = workshop.run(&["backup", &text(&there)]);
    assert_eq!(code, Some(3), "{said}");
    assert_eq!(fs::read(&there).expect("there"), b"Dear");
}

#[test]
fn a_restored_backup_is_in_place_and_the_file_before_is_kept() {
    let workshop = Workshop::new();
    let backup = workshop.answer(&["backup"])["answer"]["backup"].clone();
    workshop.add("5.0");
    let listed = workshop.answer(&["restore"]);
    assert_eq!(listed["answer"]["backups"], json!([backup]));
    let name = PathBuf::from(backup.as_str().expect("a path"));
    let name = name.file_name().and_then(|name| name.to_str()).expect("a name");
    let done = workshop.answer(&["restore", name]);
    assert_eq!(workshop.rods(), ["4.0"]);
    let kept = PathBuf::from(done["answer"]["replaced"].as_str().expect("a path"));
    let before = Workshop { file: kept, folder: tempfile::tempdir().expect("a folder") };
    assert_eq!(before.rods(), ["4.0", "5.0"]);
}

#[test]
fn nothing_is_restored_while_the_app_is_open_but_the_rest_works_beside_it() {
    let workshop = Workshop::new();
    let copy = text(&workshop.beside("copy.linkwright"));
    let _app = Store::open(&workshop.file).expect("opens");
    assert_eq!(workshop.run(&["backup", &copy]).0, Some(0));
    assert_eq!(workshop.run(&["check"]).0, Some(0));
    assert_eq!(workshop.rods(), ["4.0"]);
    let chart = text(&workshop.beside("chart.pdf"));
    let (code, _, said) = workshop.run(&["paper", "wall-chart", "--out", &chart]);
    assert_eq!(code, Some(0), "{said}");
    let (code, _, said) = workshop.run(&["restore", &copy]);
    assert_eq!(code, Some(3));
    assert!(said.contains("another linkwright"), "{said}");
}

#[test]
fn a_sound_file_is_said_to_be_sound() {
    let workshop = Workshop::new();
    let (code, said, _) = workshop.run(&["check"]);
    assert_eq!(code, Some(0));
    assert!(
        said.lines().any(|line| line.starts_with("  rod ") && line.ends_with("1 read")),
        "{said}"
    );
    assert!(!said.contains("not sound") && said.contains("sound"), "{said}");
    let answer = workshop.answer(&["check"]);
    assert_eq!(answer["answer"]["records"]["rod"], 1);
    assert_eq!(answer["answer"]["troubles"], json!([]));
}

#[test]
fn a_damaged_file_is_reported_and_left_as_it_is() {
    let workshop = Workshop::new();
    let mut bytes = fs::read(&workshop.file).expect("readable");
    let middle = bytes.len() / 8192 * 4096;
    bytes[middle..middle + 4096].fill(0xa5);
    fs::write(&workshop.file, &bytes).expect("written");
    let (code, printed, said) = workshop.run(&["check"]);
    assert_eq!(code, Some(3), "{printed}");
    assert!(printed.contains("the file is damaged"), "{printed}");
    assert!(said.contains("linkwright restore"), "{said}");
    assert!(fs::read(&workshop.file).expect("readable") == bytes);
}

#[test]
fn what_is_not_there_or_not_ours_is_told_apart_and_left_alone() {
    let workshop = Workshop::new();
    fs::write(&workshop.file, b"The notebook of the workshop.").expect("written");
    for command in ["backup", "check", "export"] {
        let (code, printed, said) = workshop.run(&[command]);
        assert_eq!((code, printed.as_str()), (Some(3), ""), "{command}: {said}");
        assert!(said.contains("does not begin as a data file does"), "{command}: {said}");
    }
    fs::remove_file(&workshop.file).expect("removed");
    for command in ["backup", "check", "export"] {
        let (code, _, said) = workshop.run(&[command]);
        assert_eq!(code, Some(3), "{command}");
        assert!(said.contains("there is no such data file"), "{command}: {said}");
        assert!(!workshop.file.exists(), "{command} made a data file");
    }
}

#[test]
fn an_export_is_one_document_and_writes_over_nothing() {
    let workshop = Workshop::new();
    let to = workshop.beside("all.json");
    let (code, _, said) = workshop.run(&["export", &text(&to), "--with-history"]);
    assert_eq!(code, Some(0), "{said}");
    let written = fs::read(&to).expect("there");
    let document: Value = serde_json::from_slice(&written).expect("JSON");
    assert_eq!(document["tables"]["rod"][0]["marked_mm"], 4.0);
    assert_eq!(document["tables"]["action"][0]["what"], "Added a rod");
    let (code, _, _) = workshop.run(&["export", &text(&to)]);
    assert_eq!(code, Some(3));
    assert!(fs::read(&to).expect("there") == written);
}
