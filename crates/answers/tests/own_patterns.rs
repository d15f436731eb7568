//! Patterns of one's own where any pattern is taken: in order files, tried before, named by which.

use std::fs;
use std::path::{Path, PathBuf};

use linkwright_answers::chain::KnownPatterns;
use linkwright_answers::files::document::Document;
use linkwright_answers::files::from_json;
use linkwright_answers::files::load::load;
use linkwright_answers::pattern::{Described, OwnPattern};
use linkwright_linkage::pattern::find::Effort;
use linkwright_linkage::solve::Patient;
use serde_json::json;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

fn described(text: &str) -> Described {
    Described::read(&Document::new(Path::new("mine.toml"), text.to_owned()))
        .expect("a pattern file")
}

/// The order of the example with a line in a pattern of this name, in a folder with these files.
fn order_in(pattern: &str, files: &[(&str, &str)]) -> Result<Vec<String>, String> {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in files {
        fs::write(folder.path().join(name), text).expect("written");
    }
    fs::copy(example("bench.toml"), folder.path().join("bench.toml")).expect("copied");
    let order = format!(
        "order = \"Boathouse 4\"\nworkshop = \"bench.toml\"\n[[line]]\nname = \"rope\"\nmetal = \"sterling\"\n\
         temper = \"soft\"\nwire = \"1.02 mm\"\nrod = \"5.50 mm\"\npattern = \"{pattern}\"\n\
         chain = {{ length = \"200 mm\" }}\n"
    );
    let path = folder.path().join("order.toml");
    fs::write(&path, order).expect("written");
    let loaded = load(&path, None).map_err(|error| error.to_string())?;
    let plan = loaded.plan(None).map_err(|error| error.to_string())?;
    let linked = plan.sheets.iter().filter_map(|sheet| sheet.line.linked.as_ref());
    Ok(linked.map(|linked| linked.pattern.clone()).collect())
}

#[test]
fn an_order_takes_a_pattern_file_beside_it_and_says_what_is_wrong_with_it() {
    let rope = fs::read_to_string(example("skipping-rope.toml")).expect("an example");
    let files = [("rope.toml", rope.as_str())];
    assert_eq!(order_in("rope.toml", &files).expect("planned"), ["skipping_rope"]);
    // Its key alone is not known: the file is named, not what stands in it.
    assert!(
        order_in("skipping_rope", &files).expect_err("unknown").contains("there is no pattern")
    );
    let spoiled = rope.replace("4.4 mm inside closed", "4.4 mm");
    let error = order_in("rope.toml", &[("rope.toml", &spoiled)]).expect_err("refused");
    assert!(error.contains("line \"rope\" pattern is \"rope.toml\""), "{error}");
    assert!(error.contains("ring size \"main\" ring is \"4.4 mm\""), "{error}");
    assert!(order_in("other.toml", &files).expect_err("not there").contains("cannot be read"));
}

#[test]
fn an_order_as_json_never_has_a_file_read() {
    let path = example("skipping-rope.toml");
    let line = json!({
        "name": "rope", "metal": "sterling", "temper": "soft", "wire": "1.02 mm", "rod": "5.50 mm",
        "pattern": path, "chain": { "length": "200 mm" }
    });
    let order = json!({ "order": "4", "line": [line] });
    let refused =
        from_json::order(&order, &KnownPatterns::built_in()).map(|_| ()).expect_err("no file");
    assert!(refused.to_string().contains("there is no pattern"), "{refused}");
}

#[test]
fn a_pattern_tried_before_is_the_same_to_the_last_digit_and_is_checked() {
    let text = fs::read_to_string(example("skipping-rope.toml")).expect("an example");
    let described = described(&text);
    let found = OwnPattern::of(&described, Effort::default(), &mut Patient).expect("found");
    let start = found.start_found().expect("looked for");
    let again = OwnPattern::tried_before(&described, Some(&start)).expect("tried before");
    assert_eq!(again.pattern, found.pattern);
    let numbers: Vec<&str> = start.split(' ').collect();
    for (kept, says) in [
        (None, "check it again"),
        (Some(numbers[1..].join(" ")), "check it again"),
        (Some(format!("{start} 1")), "check it again"),
        (Some(start.replacen(numbers[6], "NaN", 1)), "check it again"),
        // Repeats ten times as far apart are not linked.
        (Some(start.replacen(numbers[6], "9.9", 1)), "does not pass through"),
    ] {
        let refused = OwnPattern::tried_before(&described, kept.as_deref()).expect_err("refused");
        assert!(refused.to_string().contains(says), "{kept:?}: {refused}");
    }
    let rough = fs::read_to_string(example("large-and-steps.toml")).expect("an example");
    let rough = self::described(&rough);
    let placed = OwnPattern::of(&rough, Effort::default(), &mut Patient).expect("stands");
    assert_eq!(placed.start_found(), None);
    assert_eq!(OwnPattern::tried_before(&rough, None).expect("stands"), placed);
}

#[test]
fn saying_which_changes_that_line_alone() {
    let text = fs::read_to_string(example("skipping-rope.toml")).expect("an example");
    let second = described(&text).text_saying_which(2);
    assert_eq!(second, text.replacen("rope\"\n", "rope\"\nwhich = 2\n", 1));
    assert_eq!(described(&second).which, Some(2));
    assert_eq!(described(&second).text_saying_which(13), second.replace("which = 2", "which = 13"));
}

#[test]
fn a_key_that_differs_from_one_of_the_program_in_its_spaces_only_is_refused() {
    let text = fs::read_to_string(example("skipping-rope.toml")).expect("an example");
    for key in ["cable_1in1", "cable1in1", "cable_1_in_1"] {
        let spoiled = text.replacen("skipping_rope", key, 1);
        let document = Document::new(Path::new("mine.toml"), spoiled);
        let refused = Described::read(&document).map(|_| ()).expect_err("taken").to_string();
        assert!(refused.contains("has that key, cable_1in1; choose another"), "{refused}");
    }
}
