//! Files that cannot be used: each is refused with its file, field and value, and none panics.

use crate::program::{Changed, run_sheet, same};

/// (what is written, what is written instead, what the refusal must say). In the order file.
const ORDER: &[(&str, &str, &str)] = &[
    ("wire = \"1.02 mm\"", "wire = \"1.02\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"18\"", "AWG"),
    ("wire = \"1.02 mm\"", "wire = \"18 ga\"", "AWG"),
    ("wire = \"1.02 mm\"", "wire = \"#18\"", "AWG"),
    ("wire = \"1.02 mm\"", "wire = 1.02", "string"),
    ("wire = \"1.02 mm\"", "wire = \"\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"-1.02 mm\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"0 mm\"", "wire_diameter_mm"),
    ("wire = \"1.02 mm\"", "wire = \"102 mm\"", "wire_diameter_mm"),
    ("wire = \"1.02 mm\"", "wire = \"NaN mm\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"1e999 mm\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"1.02 furlongs\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"1,020 mm\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"1/0 in\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"99 awg\"", "wire"),
    ("wire = \"1.02 mm\"", "wire = \"1.02 mm 1.03 mm\"", "wire"),
    ("wire = \"1.02 mm\"", "", "wire"),
    ("metal = \"sterling\"", "metal = \"sterlin\"", "sterling"),
    ("metal = \"sterling\"", "metal = \"\"", "metal"),
    ("metal = \"sterling\"", "metal = \"gold\"", "metal"),
    ("metal = \"sterling\"", "", "metal"),
    ("metal = \"sterling\"", "metal = 925", "string"),
    ("temper = \"soft\"", "temper = \"chewy\"", "temper"),
    ("temper = \"soft\"", "temper = \"\"", "temper"),
    ("temper = \"soft\"", "", "temper"),
    ("rod = \"4.00 mm\"", "rod = \"4\"", "rod"),
    ("rod = \"4.00 mm\"", "rod = \"0 mm\"", "mandrel_diameter_mm"),
    ("rod = \"4.00 mm\"", "rod = \"4 km\"", "rod"),
    ("rod = \"4.00 mm\"", "rod = \"4000 mm\"", "mandrel_diameter_mm"),
    ("rod = \"4.00 mm\"", "", "ring"),
    ("rod = \"4.00 mm\"", "rod = \"4.00 mm\"\nring = \"4.1 mm inside open\"", "exactly one way"),
    ("rod = \"4.00 mm\"", "ring = \"4.1 mm\"\ntolerance = \"0.1 mm\"", "inside"),
    ("rod = \"4.00 mm\"", "ring = \"4.1 mm inside\"\ntolerance = \"0.1 mm\"", "open"),
    ("rod = \"4.00 mm\"", "ring = \"4.1 mm inside open\"", "tolerance"),
    ("rod = \"4.00 mm\"", "ring = \"4.1 inside open\"\ntolerance = \"0.1 mm\"", "ring"),
    ("rod = \"4.00 mm\"", "ring = \"4.1 mm inside open\"\ntolerance = \"0.1\"", "tolerance"),
    ("rod = \"4.00 mm\"", "ring = \"4.1 mm inside open\"\ntolerance = \"-0.1 mm\"", "tolerance"),
    ("rod = \"4.00 mm\"", "ring = \"1 mm outside open\"\ntolerance = \"0.1 mm\"", "ring"),
    ("chain = { length = \"450 mm\"", "chain = { length = \"450\"", "chain.length"),
    ("chain = { length = \"450 mm\"", "chain = { length = \"0 mm\"", "chain_length_mm"),
    ("chain = { length = \"450 mm\"", "chain = { length = \"-450 mm\"", "chain.length"),
    ("chain = { length = \"450 mm\"", "chain = { long = \"450 mm\"", "long"),
    ("clasp = \"12 mm\"", "clasp = \"500 mm\"", "clasp_mm"),
    ("clasp = \"12 mm\"", "clasp = \"12\"", "clasp"),
    ("chain =", "rings = 0\n# chain =", "rings"),
    ("chain =", "rings = -5\n# chain =", "rings"),
    ("chain =", "rings = 1.5\n# chain =", "rings"),
    ("chain =", "rings = \"many\"\n# chain =", "rings"),
    ("chain =", "rings = 99999999999\n# chain =", "rings"),
    ("chain =", "rings = 4000000000\n# chain =", "rings"),
    ("chain =", "rings = 1000001\n# chain =", "1000000 rings"),
    (
        "chain =",
        "kits = { count = 2, rings_each = 900000, spare_each = 4294967295 }\n# chain =",
        "kits",
    ),
    ("chain =", "rings = 10\nchain =", "exactly one way"),
    ("chain =", "kits = { count = 0, rings_each = 5, spare_each = 0 }\n# chain =", "kits"),
    ("chain =", "kits = { count = 3, rings_each = 0, spare_each = 0 }\n# chain =", "rings_each"),
    ("chain =", "kits = { count = 3 }\n# chain =", "rings_each"),
    (
        "chain =",
        "kits = { count = 4000000000, rings_each = 4000000000, spare_each = 1 }\n# chain =",
        "kits",
    ),
    (
        "chain =",
        "kits = { count = 3, rings_each = 4294967295, spare_each = 4294967295 }\n# chain =",
        "kits",
    ),
    ("spare = \"10 %\"", "spare = \"ten\"", "spare"),
    ("spare = \"10 %\"", "spare = \"10\"", "spare"),
    ("spare = \"10 %\"", "spare = \"-10 %\"", "spare"),
    ("spare = \"10 %\"", "spare = -3", "spare"),
    ("spare = \"10 %\"", "spare = 4294967295", "spare"),
    ("spare = \"10 %\"", "spares = 3", "spares"),
    ("order = \"Ferry Lane 14\"", "order = 14", "string"),
    ("order = \"Ferry Lane 14\"", "", "order"),
    ("order = \"Ferry Lane 14\"", "order = \"Ferry Lane 14", "necklace.toml"),
    ("[[line]]", "[line]", "line"),
    ("[[line]]", "line = []\n[[lines]]", "line"),
    ("[[line]]", "[[line", "necklace.toml"),
    ("workshop = \"bench.toml\"", "", "workshop"),
    ("workshop = \"bench.toml\"", "workshop = 3", "workshop"),
    ("name = \"necklace\"", "name = \"necklace\"\nname = \"twice\"", "name"),
    ("name = \"necklace\"", "nom = \"necklace\"", "nom"),
];

/// The same, in the workshop file.
const WORKSHOP: &[(&str, &str, &str)] = &[
    ("length = \"60 mm\"", "length = \"60\"", "holder length"),
    ("length = \"60 mm\"", "length = \"0 mm\"", "holder_length_mm"),
    ("length = \"60 mm\"", "length = \"9 mm\"", "lost"),
    ("length = \"60 mm\"", "", "length"),
    ("head_start = \"8 mm\"", "head_start = \"70 mm\"", "head_start_mm"),
    ("head_start = \"8 mm\"", "head_start = \"3 mm\"", "clear before the coil"),
    ("stop_setback = \"6 mm\"", "stop_setback = \"90 mm\"", "stop_setback_mm"),
    ("measured = \"1.50 mm\"", "measured = \"1.50\"", "projection.measured"),
    ("measured = \"1.50 mm\"", "measured = \"-1 mm\"", "projection"),
    ("measured = \"1.50 mm\"", "measured = \"30 mm\"", "projection"),
    ("blade = \"small, thin\"", "blade = \"small\"", "no such blade"),
    ("projection =", "# projection =", "no projection is measured"),
    ("squash = \"0.05 mm\"", "squash = \"-1 mm\"", "squash"),
    ("margin = \"0.30 mm\"", "margin = \"none\"", "margin"),
    ("end_turns = 2", "end_turns = -2", "end_turns"),
    ("end_turns = 2", "end_turns = 4294967295", "lost"),
    ("end_turns = 2", "", "end_turns"),
    ("stop_turns = 3", "stop_turns = 4294967295", "lost"),
    ("tails = \"40 mm\"", "tails = \"40\"", "tails"),
    ("packing = 1.01", "packing = 0.9", "packing"),
    ("packing = 1.01", "packing = nan", "packing"),
    ("packing = 1.01", "packing = inf", "packing"),
    ("packing = 1.01", "packing = \"close\"", "packing"),
    ("set_up = 20", "set_up = -20", "minutes"),
    ("per_coil = 8.5", "per_coil = inf", "minutes"),
    ("confidence = \"95 %\"", "confidence = \"100 %\"", "confidence"),
    ("confidence = \"95 %\"", "confidence = \"95\"", "confidence"),
    ("kerf = \"0.25 mm\"", "kerf = \"0 mm\"", "kerf"),
    ("kerf = \"0.25 mm\"", "kerf = \"quarter\"", "kerf"),
    ("teeth = 250", "teeth = 0", "teeth"),
    ("teeth = 250", "teeth = 2.5", "teeth"),
    ("hub = \"12 mm\"", "hub = \"40 mm\"", "hub"),
    ("diameter = \"1 1/4 in\"", "diameter = \"1 1/4\"", "diameter"),
    ("[[blade]]", "[[blades]]", "blades"),
    ("diameter = \"3.50 mm\"", "diameter = \"3.50\"", "rod diameter"),
    ("diameter = \"1.02 mm\"\nlength = \"6 m\"", "diameter = \"18\"\nlength = \"6 m\"", "diameter"),
    ("length = \"6 m\"", "length = \"6 m\"\nmass = \"50 g\"", "exactly one way"),
    ("length = \"6 m\"", "", "exactly one way"),
    ("length = \"6 m\"", "mass = \"2 oz\"", "avoirdupois"),
    ("price = \"1.10 EUR per g\"", "price = \"1.10\"", "price"),
    ("price = \"1.10 EUR per g\"", "price = \"28 EUR per oz\"", "price"),
    ("metal = \"sterling\"", "metal = \"stirling\"", "metal"),
    ("inside = \"4.12 4.15 4.14 4.16 4.13 mm\"", "inside = \"\"", "inside"),
    ("inside = \"4.12 4.15 4.14 4.16 4.13 mm\"", "inside = \"4.12 4.15\"", "inside"),
    (
        "inside = \"4.12 4.15 4.14 4.16 4.13 mm\"",
        "inside = \"2.12 mm\"",
        "cannot come off a mandrel",
    ),
    ("inside = \"4.12 4.15 4.14 4.16 4.13 mm\"", "inside = \"4.12 x mm\"", "inside"),
    ("rod = \"4.00 mm\"", "rod = \"4.00\"", "tried.rod"),
];

#[test]
fn more_than_a_hundred_malformed_files_are_each_refused_by_name() {
    assert!(ORDER.len() + WORKSHOP.len() >= 100);
    let mut wrong = Vec::new();
    let mut try_one = |in_order: bool, from: &str, to: &str, says: &str| {
        let change = |text: String| {
            assert!(text.contains(from), "the example no longer holds {from:?}");
            text.replacen(from, to, 1)
        };
        let files = if in_order {
            Changed::new("necklace.toml", change, "bench.toml", same)
        } else {
            Changed::new("necklace.toml", same, "bench.toml", change)
        };
        let outcome = run_sheet(&files.order(), &[]);
        if outcome.code != 1 || !outcome.stderr.contains(says) {
            wrong.push(format!(
                "{to:?}: exit code {}, wanted {says:?} in: {}",
                outcome.code,
                outcome.stderr.trim()
            ));
        }
    };
    for (from, to, says) in ORDER {
        try_one(true, from, to, says);
    }
    for (from, to, says) in WORKSHOP {
        try_one(false, from, to, says);
    }
    assert!(wrong.is_empty(), "{} of them:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn a_file_that_is_not_there_is_trouble_with_a_file() {
    let outcome = run_sheet(std::path::Path::new("no-such-order.toml"), &[]);
    assert_eq!(outcome.code, 3);
    assert!(outcome.stderr.contains("no-such-order.toml"), "{}", outcome.stderr);
}

#[test]
fn a_refusal_names_the_line_of_the_file() {
    let bare = |text: String| text.replace("wire = \"1.02 mm\"", "wire = \"18\"");
    let files = Changed::new("necklace.toml", bare, "bench.toml", same);
    let outcome = run_sheet(&files.order(), &[]);
    assert!(
        outcome.stderr.contains("necklace.toml line 10: line \"necklace\" wire is \"18\""),
        "{}",
        outcome.stderr
    );
}
