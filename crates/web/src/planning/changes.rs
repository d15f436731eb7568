//! What has changed in the order and the workshop since a sheet was frozen.

use std::collections::BTreeMap;

use linkwright_store::records::{FrozenSheet, Run};
use linkwright_store::{Id, StoreError, View};
use serde_json::Value;

use super::inputs::line_of_sheet;
use super::{Inputs, inputs_of};

/// One value that went into a plan and is different now.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Change {
    /// Where it stands, such as `rod "4.0" diameter`.
    pub(crate) place: String,
    /// As it was.
    pub(crate) was: String,
    /// As it is.
    pub(crate) now: String,
}

/// Changes told at most; who changed more looks at the new sheet anyway.
const TOLD_MOST: usize = 12;

/// What would go into the plan now and did not then; the sheet's own run is left out of it.
pub(crate) fn changes_since(
    view: &View<'_>,
    sheet: &FrozenSheet,
    run: Option<Id<Run>>,
) -> Result<Vec<Change>, StoreError> {
    let corrupt = |error: serde_json::Error| StoreError::Corrupt {
        record: "frozen_sheet".to_owned(),
        what: error.to_string(),
    };
    let was: Inputs = serde_json::from_str(&sheet.inputs).map_err(corrupt)?;
    let now = match inputs_of(view, sheet.order_id, run)? {
        Ok(now) => now,
        Err(obstacle) => {
            return Ok(vec![Change {
                place: "workshop".to_owned(),
                was: "as on this sheet".to_owned(),
                now: obstacle.sentence(),
            }]);
        }
    };
    let mut found = Vec::new();
    let line = |inputs: &Inputs| line_of_sheet(&inputs.order, &sheet.line_name).cloned();
    compare("line", line(&was).as_ref(), line(&now).as_ref(), &mut found);
    found.extend(own_pattern_changed(
        (line(&was).as_ref(), &was.patterns),
        (line(&now).as_ref(), &now.patterns),
    ));
    compare("workshop", Some(&was.workshop), Some(&now.workshop), &mut found);
    let metals = |inputs: &Inputs| Value::from(inputs.metals.as_str());
    compare("own metals", Some(&metals(&was)), Some(&metals(&now)), &mut found);
    found.truncate(TOLD_MOST);
    Ok(found)
}

/// What became of the pattern of one's own in which the line is linked; nothing if it is the same, or if the
/// line names another now, which is told as such.
fn own_pattern_changed(
    (was, texts_then): (Option<&Value>, &BTreeMap<String, String>),
    (now, texts_now): (Option<&Value>, &BTreeMap<String, String>),
) -> Option<Change> {
    let name = was?["pattern"].as_str()?;
    let then = texts_then.get(name)?;
    let now = match texts_now.get(name) {
        Some(text) if text == then => return None,
        _ if now?["pattern"].as_str() != Some(name) => return None,
        Some(_) => "replaced",
        None => "removed",
    };
    Some(Change {
        place: format!("own pattern \"{name}\""),
        was: "as on this sheet".to_owned(),
        now: now.to_owned(),
    })
}

/// The entry of a list that has this name.
fn named<'a>(list: &'a Value, name: &str) -> Option<&'a Value> {
    list.as_array()?.iter().find(|entry| entry["name"] == name)
}

fn compare(place: &str, was: Option<&Value>, now: Option<&Value>, found: &mut Vec<Change>) {
    match (was, now) {
        (Some(was), Some(now)) if was == now => {}
        (Some(Value::Object(was)), Some(Value::Object(now))) => {
            let fresh = now.keys().filter(|key| !was.contains_key(*key));
            for key in was.keys().chain(fresh) {
                if key == "other_rings" {
                    compare_sizes(place, was.get(key), now.get(key), found);
                    continue;
                }
                let place =
                    if place == "workshop" { key.clone() } else { format!("{place} {key}") };
                compare(&place, was.get(key), now.get(key), found);
            }
        }
        (Some(Value::Array(were)), Some(Value::Array(are)))
            if were.iter().chain(are).all(|entry| entry["name"].is_string()) =>
        {
            let names = were.iter().chain(are).filter_map(|entry| entry["name"].as_str());
            let mut seen: Vec<&str> = Vec::new();
            for name in names {
                if !seen.contains(&name) {
                    seen.push(name);
                    let place = format!("{place} \"{name}\"");
                    let (was, now) = (Value::Array(were.clone()), Value::Array(are.clone()));
                    compare(&place, named(&was, name), named(&now, name), found);
                }
            }
        }
        (was, now) => {
            found.push(Change { place: place.replace('_', " "), was: told(was), now: told(now) })
        }
    }
}

/// The ring sizes of a line beyond its own, told by their number.
fn compare_sizes(place: &str, was: Option<&Value>, now: Option<&Value>, found: &mut Vec<Change>) {
    let sizes =
        |value: Option<&Value>| value.and_then(Value::as_array).cloned().unwrap_or_default();
    let (were, are) = (sizes(was), sizes(now));
    for at in 0..were.len().max(are.len()) {
        let place = format!("{place} ring size {}", at + 2);
        compare(&place, were.get(at), are.get(at), found);
    }
}

fn told(value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null) => "nothing".to_owned(),
        Some(Value::String(text)) => text.clone(),
        Some(Value::Object(_)) => "there".to_owned(),
        Some(Value::Array(list)) if list.iter().all(Value::is_object) => entries(list),
        Some(other) => other.to_string(),
    }
}

/// Entries of a list told at most.
const ENTRIES_MOST: usize = 2;

/// Entries without names, by what was typed in each.
fn entries(list: &[Value]) -> String {
    let typed = |entry: &Value| {
        let keys = entry.as_object().into_iter().flatten();
        let words = keys.filter(|(_, value)| !value.is_array() && !value.is_object());
        let words =
            words.map(|(key, value)| format!("{} {}", key.replace('_', " "), told(Some(value))));
        words.collect::<Vec<_>>().join(", ")
    };
    let mut said: Vec<String> = list.iter().take(ENTRIES_MOST).map(typed).collect();
    if list.len() > ENTRIES_MOST {
        said.push(format!("and {} more", list.len() - ENTRIES_MOST));
    }
    said.join("; ")
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::{Change, compare};

    #[test]
    fn entries_without_a_name_are_told_by_what_was_typed() {
        let piece =
            |rings: u32| json!({ "rings": rings, "length": "81 mm", "of": [{ "wire": "1 mm" }] });
        let was = json!({ "measured": [piece(20)] });
        let now = json!({ "measured": [piece(40), piece(20), piece(20)] });
        let mut found = Vec::new();
        compare("line", Some(&was), Some(&now), &mut found);
        let change = Change {
            place: "line measured".to_owned(),
            was: "rings 20, length 81 mm".to_owned(),
            now: "rings 40, length 81 mm; rings 20, length 81 mm; and 1 more".to_owned(),
        };
        assert_eq!(found, [change]);
    }

    #[test]
    fn a_change_is_told_by_name_with_what_it_was_and_what_it_is() {
        let was = json!({ "rod": [{ "name": "4.0", "diameter": "4.00 mm" }, { "name": "4.5" }] });
        let now = json!({ "rod": [{ "name": "4.5" }, { "name": "4.0", "diameter": "4.02 mm" }] });
        let mut found = Vec::new();
        compare("workshop", Some(&was), Some(&now), &mut found);
        let change = Change {
            place: "rod \"4.0\" diameter".to_owned(),
            was: "4.00 mm".to_owned(),
            now: "4.02 mm".to_owned(),
        };
        assert_eq!(found, [change]);
    }

    #[test]
    fn a_change_of_a_further_ring_size_is_told_by_its_number() {
        let was = json!({ "other_rings": [{ "rod": "3.50 mm" }] });
        let now = json!({ "other_rings": [{ "rod": "3.00 mm" }, { "rod": "2.50 mm" }] });
        let mut found = Vec::new();
        compare("line", Some(&was), Some(&now), &mut found);
        let told: Vec<String> =
            found.iter().map(|one| format!("{}: {} > {}", one.place, one.was, one.now)).collect();
        assert_eq!(
            told,
            ["line ring size 2 rod: 3.50 mm > 3.00 mm", "line ring size 3: nothing > there"]
        );
    }
}
