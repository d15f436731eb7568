//! Golden run sheets: the structure is asserted, then the whole text is compared with our own past
//! output under `tests/pins`, which proves sameness and nothing else.

use crate::program::{examples, run_sheet};

/// Headings every sheet has, in the order of the bench.
const HEADINGS: [&str; 9] = [
    "RING WANTED",
    "WIRE",
    "WIND",
    "SLIT",
    "RING",
    "METAL AND TIME",
    "BLADES, best first",
    "BEFORE POWER",
    "CAUTIONS (S: on every student's sheet too; local rules come first)",
];

fn golden(order: &str, sheets: usize) {
    let sheet = run_sheet(&examples().join(order), &[]);
    assert_eq!(sheet.code, 0, "{}", sheet.stderr);
    let lines: Vec<&str> = sheet.stdout.lines().collect();
    for heading in HEADINGS {
        let found = lines.iter().filter(|line| **line == heading).count();
        assert_eq!(found, sheets, "{heading} in {order}");
    }
    assert_eq!(lines.iter().filter(|line| line.starts_with("  [ ] ")).count(), 8 * sheets);
    assert!(lines.iter().any(|line| line.contains("tried once, last 2026")), "a dated basis");
    insta::with_settings!({ snapshot_path => "../pins", prepend_module_to_snapshot => false }, {
        insta::assert_snapshot!(order, sheet.stdout);
    });
}

#[test]
fn the_necklace_reads_as_before() {
    golden("necklace.toml", 1);
}

#[test]
fn the_class_kits_read_as_before() {
    golden("class-kits.toml", 1);
}

#[test]
fn the_three_lines_read_as_before() {
    golden("three-lines.toml", 3);
}
