//! A record before and after a change, field by field in words.

use serde_json::{Map, Value};

/// Frozen inputs and entries are long; their beginning tells them apart.
const SHOWN_CHARS: usize = 160;

/// Units that end the names of columns, longest first.
const UNITS: [(&str, &str); 6] = [
    ("_g_cm3", "g/cm3"),
    ("_minutes", "min"),
    ("_mm2", "mm2"),
    ("_mm", "mm"),
    ("_px", "px"),
    ("_g", "g"),
];

/// One field that differs; "" where there was nothing.
#[derive(Debug, PartialEq)]
pub(super) struct Field {
    pub(super) name: String,
    pub(super) before: String,
    pub(super) after: String,
}

/// The fields that differ between a record before and after; all that hold something if it was
/// not there on one side.
pub(super) fn differing(
    before: Option<&Map<String, Value>>,
    after: Option<&Map<String, Value>>,
) -> Vec<Field> {
    let Some(either) = after.or(before) else {
        return Vec::new();
    };
    let names = either.keys().filter(|name| *name != "id");
    names
        .map(|name| Field {
            name: words(name),
            before: shown(before.and_then(|row| row.get(name))),
            after: shown(after.and_then(|row| row.get(name))),
        })
        .filter(|field| field.before != field.after)
        .collect()
}

/// A table's name as words, such as "wire lot".
pub(super) fn table_words(table: &str) -> String {
    match table {
        "ring_order" => "order".to_owned(),
        "metal_overlay" => "own metal".to_owned(),
        "frozen_sheet" => "run sheet as it was started".to_owned(),
        other => other.replace('_', " "),
    }
}

/// A column's name as words, its unit in brackets.
fn words(column: &str) -> String {
    for (ending, unit) in UNITS {
        if let Some(name) = column.strip_suffix(ending) {
            return format!("{} ({unit})", name.replace('_', " "));
        }
    }
    let name = column.strip_suffix("_typed").map(|name| format!("{name}, as typed"));
    let name = name.or_else(|| column.strip_suffix("_id").map(|name| format!("{name} number")));
    name.unwrap_or_else(|| column.to_owned()).replace('_', " ")
}

fn shown(value: Option<&Value>) -> String {
    let text = match value {
        None | Some(Value::Null) => return String::new(),
        Some(Value::String(text)) => text.clone(),
        Some(other) => other.to_string(),
    };
    if text.chars().count() <= SHOWN_CHARS {
        return text;
    }
    text.chars().take(SHOWN_CHARS).chain(" ...".chars()).collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::{Field, differing};

    #[test]
    fn only_what_differs_is_listed_with_its_unit() {
        let before = json!({ "id": 1, "name": "4.0", "measured_mm": 4.0, "note": "" });
        let after = json!({ "id": 1, "name": "4.0", "measured_mm": 4.01, "note": "" });
        let fields = differing(before.as_object(), after.as_object());
        let measured = Field {
            name: "measured (mm)".to_owned(),
            before: "4.0".to_owned(),
            after: "4.01".to_owned(),
        };
        assert_eq!(fields, [measured]);
        assert_eq!(differing(before.as_object(), None).len(), 2);
    }
}
