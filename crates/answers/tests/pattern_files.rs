//! Pattern files: what stands is tried, what is wrong is named by line, field and value.

use std::path::{Path, PathBuf};

use linkwright_answers::files::document::Document;
use linkwright_answers::pattern::{Described, Lay, OwnPattern};
use linkwright_linkage::pattern::find::Effort;
use linkwright_linkage::solve::Patient;
use proptest::prelude::*;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

fn text(name: &str) -> String {
    std::fs::read_to_string(example(name)).expect("an example")
}

fn refused(text: &str) -> String {
    let document = Document::new(Path::new("mine.toml"), text.to_owned());
    let own = Described::read(&document)
        .and_then(|described| OwnPattern::of(&described, Effort::default(), &mut Patient));
    own.expect_err("wrong").to_string()
}

#[test]
fn rough_places_stand_as_they_are_and_signs_are_read_off_them() {
    let own = OwnPattern::load(&example("large-and-steps.toml")).expect("stands");
    assert_eq!(own.ring_names, ["A", "B", "C", "D", "E"]);
    let sizes = &own.pattern.spec().sizes;
    // (4 + 1)/(8 + 1)
    assert!((sizes[1].radius - 5.0 / 9.0).abs() < 1e-12 && (sizes[1].wire - 1.0).abs() < 1e-12);
    assert!((own.rings[1].aspect_ratio() - 4.0).abs() < 1e-12);
    assert_eq!(own.pattern.spec().links.len(), 8);
    assert!(own.search.is_none());
}

#[test]
fn by_the_order_of_linking_a_pose_is_found_and_the_search_is_told() {
    let own = OwnPattern::load(&example("skipping-rope.toml")).expect("found");
    let search = own.search.expect("looked for");
    assert_eq!(search.taken, 0);
    let told: u32 = search.chains.iter().map(|chain| chain.times).sum();
    assert!(told <= search.met && search.met <= search.tries && !search.chains.is_empty());
    let words =
        format!("{} random beginnings, {} came to have these links", search.tries, search.met);
    assert!(search.told().starts_with(&words));
    let left_out = format!("{} of them less regular and left out", search.met - told);
    assert_eq!(search.told().contains(&left_out), told < search.met);
    let links = &own.pattern.spec().links;
    assert!(links.iter().all(|link| link.sign == -1), "from the front is against the normal");
    assert!(own.pattern.start_wire() > 0.1);
}

#[test]
fn another_chain_of_the_same_links_is_taken_when_asked_for() {
    let asked =
        text("skipping-rope.toml").replacen("[[ring_size]]", "which = 99\n[[ring_size]]", 1);
    assert!(refused(&asked).contains("which is \"99\": only"), "{}", refused(&asked));
}

#[test]
fn a_wrong_file_is_refused_with_line_field_and_value() {
    let rough = text("large-and-steps.toml");
    let order = text("skipping-rope.toml");
    let cases: &[(&str, &str, &str, &str)] = &[
        (
            &rough,
            "\"large_and_steps\"",
            "\"Large\"",
            "line 3: pattern is \"Large\": a pattern's key has small letters",
        ),
        (
            &rough,
            "\"large_and_steps\"",
            "\"box\"",
            "that comes with the program has that key, box; choose another",
        ),
        (
            &rough,
            "wire = \"1.0 mm\"",
            "wire = \"1.0\"",
            "line 9: ring size \"large\" wire is \"1.0\"",
        ),
        (
            &rough,
            "\"8.0 mm inside closed\"",
            "\"8.0 mm inside\"",
            "line 10: ring size \"large\" ring is \"8.0 mm inside\": a pattern is linked of closed rings",
        ),
        (&rough, "\"8.0 mm inside closed\"", "\"8.0 mm\"", "does not say inside or outside"),
        (&rough, "as = \"chain\"", "as = \"rope\"", "repeat as is \"rope\": say as = \"chain\""),
        (&rough, "along_mm = 15.4", "along_mm = 0", "line 19: repeat along_mm is \"0\""),
        (&rough, "along_mm = 15.4\n", "", "repeat along_mm is missing"),
        (&rough, "along_mm = 15.4", "along_mm = 15.4\nacross_mm = 3", "only a sheet has rows"),
        (&rough, "twist_deg = 90", "twist_deg = 900", "line 20: repeat twist_deg is \"900\""),
        (
            &rough,
            "size = \"large\"\ncentre",
            "size = \"big\"\ncentre",
            "no [[ring_size]] has that name; there are large, small",
        ),
        (&rough, "size = \"large\"\ncentre", "centre", "ring \"A\" size is missing"),
        (&rough, "[0.3, 0, 5.8]", "[0.3, 0, nan]", "ring \"B\" centre_mm is \"[0.3, 0, nan]\""),
        (&rough, "centre_mm = [0.3, 0, 5.8]\n", "", "ring \"B\" centre_mm is missing"),
        (
            &rough,
            "[0.3, 0, 5.8]\nnormal = [1, 0, 0]",
            "[0.3, 0, 5.8]\nnormal = [0, 0, 0]",
            "ring \"B\" normal is \"[0, 0, 0]\": it must not be zero",
        ),
        (
            &rough,
            "[0.3, 0, 5.8]",
            "[-0.3, 0, 5.8]",
            "ring \"C\" centre_mm is \"[-0.3, 0, 5.8]\": in the rough places it (nearly) touches \"B\"",
        ),
        (
            &rough,
            "[0.3, 0, 5.8]",
            "[30, 0, 5.8]",
            "ring \"B\" through is \"{ ring = \"A\" }\": in the rough places \"B\" does not pass through \"A\"",
        ),
        (
            &rough,
            "{ ring = \"E\", back = 1 }]",
            "]",
            "line 24: ring \"A\" name is \"A\": in the rough places it also passes through \"E\" of the repeat before",
        ),
        (
            &rough,
            "{ ring = \"E\", back = 1 }",
            "{ ring = \"D\", back = 1 }",
            "it says the same as link 1",
        ),
        (&rough, "[{ ring = \"A\" }]", "[{ ring = \"A\", from = \"front\" }]", "from = \"back\""),
        (&rough, "[{ ring = \"A\" }]", "[{ ring = \"Z\" }]", "no [[ring]] has that name"),
        (
            &rough,
            "[{ ring = \"A\" }]",
            "[{ ring = \"A\", from = \"left\" }]",
            "ring \"B\" through from is \"left\": say from",
        ),
        (&rough, "[{ ring = \"A\" }]", "[{ ring = \"E\" }]", "those further up in the file"),
        (&rough, "[{ ring = \"A\" }]", "[{ ring = \"A\", back = [1, 1] }]", "a chain has no rows"),
        (
            &rough,
            "[{ ring = \"A\" }]",
            "[{ ring = \"A\", back = -1 }]",
            "count rows and repeats back",
        ),
        (&rough, "name = \"C\"", "name = \"B\"", "two rings have that name"),
        (&rough, "title =", "weight = 3\ntitle =", "unknown field `weight`"),
        (&order, "back = 3", "back = 99", "at most 20 repeats back"),
        (&order, ", back = 1", "", "or add back = 1 for the repeat before"),
        (&order, "twist_free = true", "along_mm = 3", "by the order of linking it is looked for"),
        (
            &order,
            "as = \"chain\"\ntwist_free = true",
            "as = \"none\"",
            "a piece that does not repeat has no repeats back",
        ),
        (&order, "through = [", "centre_mm = [0, 0, 0]\nthrough = [", "along_mm is missing"),
        (
            &order,
            "  { ring = \"A\", back = 1, from = \"front\" },\n  { ring = \"A\", back = 3, from = \"front\" },\n",
            "",
            "repeat as is \"chain\": nothing links one repeat with the next",
        ),
    ];
    for (file, good, bad, says) in cases {
        let spoiled = file.replacen(good, bad, 1);
        assert_ne!(&spoiled, file, "{good} is not in the example");
        let message = refused(&spoiled);
        assert!(message.contains(says), "{bad}: {message}");
    }
}

#[test]
fn an_order_of_linking_that_cannot_be_is_refused_where_it_is_wrong() {
    let rope = text("skipping-rope.toml");
    // No ring reaches that far.
    let far = refused(&rope.replacen("back = 3", "back = 20", 1));
    assert!(far.contains("line 20: ring \"A\" through is"), "{far}");
    assert!(far.contains("the nearest lacks this link: it may be one too many"), "{far}");
    let both =
        refused(&rope.replacen("back = 3, from = \"front\"", "back = 1, from = \"back\"", 1));
    assert!(
        both.contains("link 1 of the file has it pass through the same ring from the front"),
        "{both}"
    );
    let alone = refused(&format!("{rope}\n[[ring]]\nname = \"B\"\n"));
    assert!(
        alone.contains("ring \"B\" name is \"B\": it is not linked with the other rings"),
        "{alone}"
    );
    let mut many = rope;
    for number in 0..12 {
        many.push_str(&format!(
            "[[ring]]\nname = \"r{number}\"\nthrough = [{{ ring = \"A\", back = 1 }}]\n"
        ));
    }
    assert!(refused(&many).contains("at most 12 rings a repeat can be placed; this one has 13"));
}

#[test]
fn too_many_rings_or_links_are_refused_before_any_work() {
    let mut many = text("skipping-rope.toml");
    for number in 0..100 {
        many.push_str(&format!(
            "[[ring]]\nname = \"r{number}\"\nthrough = [{{ ring = \"A\", back = 1 }}]\n"
        ));
    }
    assert!(refused(&many).contains("at most 60 rings a repeat"), "{}", refused(&many));
    let through = "{ ring = \"A\", back = 1 }, ".repeat(10_000);
    let many = text("skipping-rope.toml").replace("through = [", &format!("through = [{through}"));
    assert!(refused(&many).contains("40 others at most"));
}

/// Reads a text as far as the start pose; nothing is looked for.
fn read(text: String) -> bool {
    let document = Document::new(Path::new("mine.toml"), text);
    match Described::read(&document) {
        Ok(described) => match described.lay {
            Lay::Places(_) => {
                OwnPattern::of(&described, Effort { tries: 0, ..Effort::default() }, &mut Patient)
                    .is_ok()
            }
            Lay::Order(_) => true,
        },
        Err(error) => {
            assert!(!error.to_string().is_empty());
            false
        }
    }
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in ".{0,400}") {
        read(text);
    }

    #[test]
    fn an_example_with_pieces_cut_out_and_put_elsewhere_is_read_or_refused(
        rough in any::<bool>(), from in 0_usize..5000, long in 0_usize..40, to in 0_usize..5000,
        put in "[-0-9e.\\[\\]{}\"a-z= ,\n]{0,12}",
    ) {
        let file = text(if rough { "large-and-steps.toml" } else { "skipping-rope.toml" });
        let letters: Vec<char> = file.chars().collect();
        let at = |place: usize| place % letters.len();
        let mut spoiled = letters.clone();
        let end = (at(from) + long).min(spoiled.len());
        let cut: Vec<char> = spoiled.drain(at(from).min(end)..end).collect();
        let place = at(to).min(spoiled.len());
        spoiled.splice(place..place, cut.into_iter().chain(put.chars()));
        read(spoiled.into_iter().collect());
    }

    #[test]
    fn any_numbers_are_taken_or_refused(
        along in any::<f64>(), twist in any::<f64>(), centre in any::<[f64; 3]>(),
        normal in any::<[f64; 3]>(), inside in 0.0..2000.0_f64,
    ) {
        let toml = |x: f64| if x.is_nan() { "nan".to_owned() } else if x.is_infinite() { "inf".to_owned() } else { format!("{x:?}") };
        let three = |v: [f64; 3]| format!("[{}, {}, {}]", toml(v[0]), toml(v[1]), toml(v[2]));
        let file = text("large-and-steps.toml")
            .replace("15.4", &toml(along))
            .replace("twist_deg = 90", &format!("twist_deg = {}", toml(twist)))
            .replace("[0.3, 0, 5.8]", &three(centre))
            .replacen("normal = [1, 0, 0]", &format!("normal = {}", three(normal)), 1)
            .replace("8.0 mm inside", &format!("{inside} mm inside"));
        read(file);
    }
}
