//! The questions as another program needs them described: names, inputs, kinds of value.

use linkwright_calc::limits::LENGTH;
use serde_json::{Map, Value, json};

use crate::batch::asks::ASKS;
use crate::chain::PIECES_MOST;

/// Every question by name, with the names of its inputs.
pub fn questions() -> impl Iterator<Item = (&'static str, &'static [&'static str])> {
    ASKS.iter().map(|ask| (ask.name, ask.keys))
}

/// The kind of value an input takes, as JSON Schema writes it.
#[must_use]
pub fn input_schema(key: &str) -> Value {
    match key {
        "system" => json!({ "type": "string", "enum": ["awg", "british_standard"] }),
        "rate" => json!({ "type": "string", "enum": ["shared", "per_coil"] }),
        "flow" => json!({
            "type": "object",
            "description": "the metal's flow law: `law` and its numbers",
            "required": ["law"],
            "properties": { "law": { "type": "string", "enum": LAWS } },
        }),
        "order" | "workshop" => json!({
            "type": "object",
            "description": "with the keys of the file of the same name",
        }),
        "bending_localisation" => json!({
            "description": "the word hinge, or a number",
            "oneOf": [{ "type": "string", "enum": ["hinge"] }, { "type": "number" }],
        }),
        "pattern" => json!({
            "type": "string",
            "description": "name of a pattern of linked rings",
            "enum": crate::chain::listed().iter().map(|it| &*it.name).collect::<Vec<_>>(),
        }),
        "other_rings" => json!({
            "type": "array",
            "description": "the ring sizes of a pattern beyond the first",
            "items": ring_schema(),
        }),
        "measured" => json!({
            "type": "array",
            "description": "pieces of the pattern that were linked, pulled straight and measured over all; \
                            `of` their rings, the main size first, if not those of the question",
            "maxItems": PIECES_MOST,
            "items": {
                "type": "object",
                "required": ["rings", "length_mm"],
                "properties": {
                    "rings": { "type": "integer", "minimum": 1 },
                    "length_mm": input_schema("length_mm"),
                    "of": { "type": "array", "items": ring_schema() },
                },
            },
        }),
        "in_full" => json!({ "type": "boolean", "description": IN_FULL }),
        "soldered" => json!({ "type": "boolean", "description": "the rings are soldered shut" }),
        "temper" => json!({ "type": "string", "description": "state of hardness, such as soft" }),
        "metal" => json!({ "type": "string", "description": "key or trade name of a metal" }),
        "number" => json!({ "type": "integer", "description": "of the gauge; 4/0 is -3" }),
        "sample_rings" | "good_rings" | "teeth" | "turns_per_coil" | "lost_per_coil"
        | "turns_wound" | "end_rings" => json!({ "type": "integer", "minimum": 0 }),
        _ => match unit_of(key) {
            Some("mm") => json!({
                "type": "number", "description": "mm",
                "minimum": -LENGTH.high, "maximum": LENGTH.high,
            }),
            Some(unit) => json!({ "type": "number", "description": unit }),
            None => json!({ "type": "number" }),
        },
    }
}

/// What `in_full` asks for, and how long it takes.
const IN_FULL: &str = "whether the last ring goes in, how tightly a chain bends both ways and, with pull_n, \
                       what a pull does; solved on the spot, which takes from a tenth of a second to some \
                       seconds, and is given up after 20,000 steps of the solver, a minute or so";

/// A ring as closed.
fn ring_schema() -> Value {
    let keys = ["wire_diameter_mm", "closed_inside_diameter_mm"];
    let properties: Map<String, Value> =
        keys.iter().map(|key| ((*key).to_owned(), input_schema(key))).collect();
    json!({ "type": "object", "required": keys, "properties": properties })
}

/// The flow laws by name.
const LAWS: [&str; 7] = [
    "elastic_perfectly_plastic",
    "bilinear",
    "hollomon",
    "ludwik",
    "swift",
    "voce",
    "ramberg_osgood",
];

/// Endings of names, and the units they stand for; the longer ones first.
const UNITS: [(&str, &str); 9] = [
    ("_mm_per_min", "mm/min"),
    ("_per_mm", "1/mm"),
    ("_g_cm3", "g/cm3"),
    ("_n_mm", "N mm"),
    ("_mpa", "MPa"),
    ("_mm", "mm"),
    ("_n", "N"),
    ("_g", "g"),
    ("rpm", "1/min"),
];

fn unit_of(key: &str) -> Option<&'static str> {
    UNITS.iter().find(|(ending, _)| key.ends_with(ending)).map(|(_, unit)| *unit)
}

#[cfg(test)]
mod tests {
    use super::{input_schema, questions, unit_of};

    #[test]
    fn the_longer_ending_names_the_unit() {
        assert_eq!(unit_of("feed_mm_per_min"), Some("mm/min"));
        assert_eq!(unit_of("natural_curvature_per_mm"), Some("1/mm"));
        assert_eq!(unit_of("density_g_cm3"), Some("g/cm3"));
        assert_eq!(unit_of("aspect_ratio"), None);
    }

    #[test]
    fn lists_of_rings_and_how_long_a_full_answer_takes_are_described() {
        let ring = &input_schema("other_rings")["items"]["properties"];
        assert_eq!(ring["closed_inside_diameter_mm"]["description"], "mm");
        assert_eq!(input_schema("measured")["items"]["properties"]["rings"]["type"], "integer");
        assert_eq!(input_schema("in_full")["type"], "boolean");
        assert!(input_schema("in_full")["description"].as_str().unwrap().contains("seconds"));
    }

    #[test]
    fn a_count_is_described_as_whole_and_a_length_with_its_unit() {
        assert_eq!(input_schema("teeth")["type"], "integer");
        assert_eq!(input_schema("wire_diameter_mm")["description"], "mm");
        assert!(questions().any(|(name, keys)| name == "ring" && !keys.is_empty()));
    }
}
