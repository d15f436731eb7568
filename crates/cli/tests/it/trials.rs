//! Trials brought in and taken out by command.

use std::fs;

use crate::linkwright::{linkwright, stderr, stdout};

const TABLE: &str = "Day,Wire,Mandrel,Metal,Temper,Blade,Good,Uncut\n\
    2026-03-04,14 awg,6.0 mm,bronze,half hard,fine,40,1\n\
    2026-03-05,thick,6.0 mm,bronze,half hard,fine,40,1\n";

#[test]
fn a_table_is_brought_in_whole_or_with_the_bad_rows_left_in_a_file_and_comes_out_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).display().to_string();
    let (data, table, rest, out) = (at("b.linkwright"), at("old.csv"), at("rest.csv"), at("t.csv"));
    fs::write(&table, TABLE).expect("written");
    let import = ["import", "trials", &table, "--outcome", "counts", "--data", &data];
    let refused = linkwright(&import);
    assert_eq!(refused.status.code(), Some(1));
    let said = stderr(&refused).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("nothing was brought in") && said.contains("row 3: Wire:"), "{said}");

    let mut leaving = import.to_vec();
    leaving.extend(["--leave-bad", &rest]);
    let kept = linkwright(&leaving);
    assert_eq!(kept.status.code(), Some(0), "{}", stderr(&kept));
    assert!(fs::read_to_string(&rest).expect("the rest").contains("thick"));

    let written = linkwright(&["export", "trials", &out, "--public", "--data", &data]);
    assert_eq!(written.status.code(), Some(0), "{}", stderr(&written));
    let text = fs::read_to_string(&out).expect("a table");
    assert_eq!(text.lines().count(), 2);
    assert!(text.contains("14 awg") && !text.contains("Worker"), "{text}");

    // The same again is noticed.
    fs::write(&table, TABLE.lines().take(2).collect::<Vec<_>>().join("\n")).expect("written");
    let again =
        linkwright(&["import", "trials", &table, "--outcome", "counts", "--json", "--data", &data]);
    let answer: serde_json::Value = serde_json::from_str(&stdout(&again)).expect("JSON");
    let answer = &answer["answer"];
    assert_eq!((&answer["kept"], &answer["kept_already"]), (&0.into(), &1.into()), "{answer}");
}

#[test]
fn bare_numbers_are_asked_about_and_a_match_answers() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).display().to_string();
    let (data, table) = (at("b.linkwright"), at("old.csv"));
    fs::write(&table, "Day,Wire,Rod,Metal,Temper,Good\n2026-03-04,1.02,4,copper,soft,9\n")
        .expect("written");
    let import = ["import", "trials", &table, "--outcome", "good", "--data", &data];
    let asked = linkwright(&import);
    assert_eq!(asked.status.code(), Some(1));
    assert!(stderr(&asked).contains("bare"), "{}", stderr(&asked));
    let mut said = import.to_vec();
    said.extend(["--match", "Wire=wire mm", "--match", "rod=rod mm"]);
    assert_eq!(linkwright(&said).status.code(), Some(0));
}
