//! Colours: every scheme of the style sheet is legible, reckoned from its own values.

use std::collections::HashMap;

const SHEET: &str = include_str!("../../assets/app.css");

/// WCAG 2.2, success criterion 1.4.3 (text, level AA).
const TEXT_RATIO_MIN: f64 = 4.5;
/// WCAG 2.2, success criterion 1.4.11 (edges of controls).
const EDGE_RATIO_MIN: f64 = 3.0;

/// What stands on what, and the least ratio it needs.
const PAIRS: [(&str, &str, f64); 19] = [
    ("ink", "paper", TEXT_RATIO_MIN),
    ("ink", "sheet", TEXT_RATIO_MIN),
    ("ink", "tint", TEXT_RATIO_MIN),
    ("ink", "warn-tint", TEXT_RATIO_MIN),
    ("soft", "paper", TEXT_RATIO_MIN),
    ("soft", "sheet", TEXT_RATIO_MIN),
    ("soft", "tint", TEXT_RATIO_MIN),
    ("accent", "paper", TEXT_RATIO_MIN),
    ("accent", "sheet", TEXT_RATIO_MIN),
    ("accent", "tint", TEXT_RATIO_MIN),
    ("on-accent", "accent", TEXT_RATIO_MIN),
    ("warn", "sheet", TEXT_RATIO_MIN),
    ("warn", "warn-tint", TEXT_RATIO_MIN),
    ("wrong", "paper", TEXT_RATIO_MIN),
    ("wrong", "sheet", TEXT_RATIO_MIN),
    ("wrong", "wrong-tint", TEXT_RATIO_MIN),
    ("ink", "wrong-tint", TEXT_RATIO_MIN),
    ("edge", "paper", EDGE_RATIO_MIN),
    ("edge", "sheet", EDGE_RATIO_MIN),
];

type Scheme = HashMap<&'static str, &'static str>;

/// The custom properties of the `at`-th block with this selector.
fn block(selector: &str, at: usize) -> Scheme {
    let opening = format!("{selector} {{");
    let body = SHEET.split(opening.as_str()).nth(at + 1);
    let body = body.unwrap_or_else(|| panic!("block {selector} number {at}"));
    let body = body.split('}').next().expect("an end");
    let declarations = body.split(';').filter_map(|declaration| declaration.split_once(':'));
    declarations
        .filter_map(|(name, value)| {
            let value = value.trim();
            Some((name.trim().strip_prefix("--")?, value.starts_with('#').then_some(value)?))
        })
        .collect()
}

fn schemes() -> [(&'static str, Scheme); 4] {
    [
        ("light", block("\nbody", 0)),
        ("dark", block("\nbody.dark", 0)),
        ("contrast light", block("\nbody.contrast", 0)),
        ("contrast dark", block("  body.contrast", 0)),
    ]
}

/// Relative luminance of `#rrggbb`. Source: WCAG 2.2, definition of relative luminance.
fn luminance(colour: &str) -> f64 {
    let channel = |from: usize| {
        let byte = u8::from_str_radix(&colour[from..from + 2], 16).expect("#rrggbb");
        let share = f64::from(byte) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

/// Contrast ratio. Source: WCAG 2.2, definition of contrast ratio.
fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn black_on_white_has_the_ratio_the_definition_names() {
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
}

#[test]
fn every_scheme_is_legible() {
    for (name, scheme) in schemes() {
        for (on, under, least) in PAIRS {
            let ratio = contrast(scheme[on], scheme[under]);
            assert!(ratio >= least, "{name}: {on} on {under} has {ratio:.2}, needs {least}");
        }
    }
}

#[test]
fn the_figures_in_the_style_sheet_are_the_reckoned_ones() {
    for (on, under, _) in PAIRS {
        let label = format!("\n{on} on {under} ");
        let line =
            SHEET.split(label.as_str()).nth(1).unwrap_or_else(|| panic!("no line {label:?}"));
        let line = line.lines().next().expect("a line");
        let written: Vec<&str> = line.split_whitespace().collect();
        let reckoned: Vec<String> = schemes()
            .iter()
            .map(|(_, scheme)| format!("{:.1}", contrast(scheme[on], scheme[under])))
            .collect();
        assert_eq!(written, reckoned, "{on} on {under}");
    }
}

#[test]
fn dark_by_choice_is_dark_as_the_device_has_it() {
    assert_eq!(block("\nbody.dark", 0), block("  body:not(.light, .contrast)", 0));
}
