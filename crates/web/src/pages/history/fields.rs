//! A record before and after a change, field by field in words.

use linkwright_calc::fault::{symptom, symptoms};
use linkwright_store::{Moment, View};
use serde_json::{Map, Value};

use super::names::name_of;
use crate::clock::Clock;

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

/// Columns whose name alone would not tell what they hold.
const NAMES: [(&str, &str); 43] = [
    ("aspect_ratio_min", "smallest aspect ratio"),
    ("anneal_skipped", "annealing left out"),
    ("across_typed", "width of the sheet, as typed"),
    ("annealed_at", "annealed"),
    ("asked_on", "ordered on"),
    ("called_off_why", "called off because"),
    ("clamped_at", "clamped"),
    ("closed_how", "how it was closed"),
    ("closed_on", "day it was closed"),
    ("code", "name on the label"),
    ("counted_at", "counted"),
    ("counted_how", "how they were counted"),
    ("cut_before_mm2", "cut before it was entered (mm2)"),
    ("ease_typed", "longer than what it goes round by, as typed"),
    ("end_turns", "turns lost where the blade enters"),
    ("finished_at", "finished"),
    ("finished_why", "how it ended"),
    ("frozen_at", "started"),
    ("girth_typed", "what it goes round, as typed"),
    ("hour_cost_typed", "what an hour's work costs"),
    ("jpeg", "picture"),
    ("line_name", "line of the order"),
    ("off_at", "taken off the rod"),
    ("per_coil_minutes", "time for a coil (min)"),
    ("record", "kind of record"),
    ("record_id", "number of that record"),
    ("ring_worth_typed", "what a good ring is worth beyond its metal"),
    ("rings_before", "rings cut before it was entered"),
    ("scrap_paid_typed", "share of the metal's price paid for scrap"),
    ("set_aside_why", "set aside because"),
    ("sha256", "check sum"),
    ("size", "ring size of the pattern"),
    ("slit_at", "slit"),
    ("shown", "where its rings lie, pulled taut"),
    ("start", "where its rings were found to lie"),
    ("started_at", "begun"),
    ("stop_turns", "turns lost at the stop"),
    ("ticked_at", "ticked"),
    ("turns_relaxed", "turns after springing open"),
    ("turns_target", "turns to wind"),
    ("turns_wound", "turns wound"),
    ("wire_in_g", "wire handed in (g)"),
    ("wound_at", "wound"),
];

/// Columns that hold a yes or a no; the file keeps them as 1 and 0.
const YES_OR_NO: [&str; 4] = ["anneal_skipped", "annealed", "in_use", "sample"];

/// Columns that hold one of a few stored words, not what somebody typed.
const STORED_WORDS: [&str; 8] =
    ["step", "kind", "outcome", "source", "blade_event", "item", "temper", "record"];

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
    teller: &Teller<'_>,
    before: Option<&Map<String, Value>>,
    after: Option<&Map<String, Value>>,
) -> Vec<Field> {
    let Some(either) = after.or(before) else {
        return Vec::new();
    };
    let names = either.keys().filter(|name| *name != "id");
    names
        .map(|name| Field {
            name: column_in_words(name),
            before: teller.value(name, before.and_then(|row| row.get(name))),
            after: teller.value(name, after.and_then(|row| row.get(name))),
        })
        .filter(|field| field.before != field.after)
        .collect()
}

/// A table's name as words, such as "wire lot".
pub(super) fn table_words(table: &str) -> String {
    match table {
        "ring_order" => "order".to_owned(),
        "further_ring" => "further ring size".to_owned(),
        "ring_of_piece" => "further ring size of a measured piece".to_owned(),
        "metal_overlay" => "own metal".to_owned(),
        "other_workshop" => "file of another workshop".to_owned(),
        "frozen_sheet" => "run sheet as it was started".to_owned(),
        other => other.replace('_', " "),
    }
}

/// A column's name as words, its unit in brackets.
pub(crate) fn column_in_words(column: &str) -> String {
    if let Some((_, named)) = NAMES.iter().find(|(name, _)| *name == column) {
        return (*named).to_owned();
    }
    for (ending, unit) in UNITS {
        if let Some(name) = column.strip_suffix(ending) {
            return format!("{} ({unit})", name.replace('_', " "));
        }
    }
    let name = column.strip_suffix("_typed").map(|name| format!("{name}, as typed"));
    let name = name.or_else(|| column.strip_suffix("_id").map(|name| name.to_owned()));
    name.unwrap_or_else(|| column.to_owned()).replace('_', " ")
}

/// Tells values as a page does.
pub(crate) struct Teller<'a> {
    clock: &'a Clock,
    name_of: NameOf<'a>,
}

/// The name of the record that stands in a column by its number.
type NameOf<'a> = Box<dyn Fn(&str, i64) -> Option<String> + 'a>;

impl<'a> Teller<'a> {
    /// With a clock for moments and the records that others point to.
    pub(crate) fn new(clock: &'a Clock, view: &'a View<'a>) -> Teller<'a> {
        Teller { clock, name_of: Box::new(|column, number| name_of(view, column, number)) }
    }

    /// A value; "" where there is nothing.
    pub(crate) fn value(&self, column: &str, value: Option<&Value>) -> String {
        match (column, value) {
            ("symptom", Some(Value::String(code))) => {
                symptom(code).map_or_else(|| code.clone(), |symptom| symptom.words.to_owned())
            }
            ("cause", Some(Value::String(code))) => cause(code).unwrap_or_else(|| code.clone()),
            (_, Some(Value::Number(number))) => number
                .as_i64()
                .and_then(|number| (self.name_of)(column, number))
                .unwrap_or_else(|| value_in_words(self.clock, column, value)),
            _ => value_in_words(self.clock, column, value),
        }
    }
}

/// A cause of a fault by its code, such as "F01a".
fn cause(code: &str) -> Option<String> {
    let causes = symptoms().iter().flat_map(|symptom| symptom.causes);
    causes.into_iter().find(|cause| cause.code == code).map(|cause| cause.words.to_owned())
}

fn value_in_words(clock: &Clock, column: &str, value: Option<&Value>) -> String {
    let is_yes_or_no = YES_OR_NO.contains(&column);
    let text = match value {
        None | Some(Value::Null) => return String::new(),
        Some(Value::String(text)) if STORED_WORDS.contains(&column) => text.replace('_', " "),
        Some(Value::String(text)) if column.ends_with("_at") => {
            Moment::parse(text).map_or_else(|| text.clone(), |moment| clock.shown(moment))
        }
        Some(Value::String(text)) => text.clone(),
        Some(Value::Number(flag)) if is_yes_or_no => {
            if flag.as_i64() == Some(0) { "no" } else { "yes" }.to_owned()
        }
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

    use linkwright_store::Moment;

    use super::{Field, Teller, differing};
    use crate::clock::Clock;

    fn clock() -> Clock {
        Clock::standing_at(Moment::parse("2026-05-04T08:30:00Z").expect("a moment"))
    }

    fn told_by(clock: &Clock) -> Teller<'_> {
        Teller {
            clock,
            name_of: Box::new(|column, number| {
                (column == "blade_id").then(|| format!("blade {number}"))
            }),
        }
    }

    #[test]
    fn only_what_differs_is_listed_with_its_unit() {
        let clock = clock();
        let teller = told_by(&clock);
        let before = json!({ "id": 1, "name": "4.0", "measured_mm": 4.0, "note": "" });
        let after = json!({ "id": 1, "name": "4.0", "measured_mm": 4.01, "note": "" });
        let fields = differing(&teller, before.as_object(), after.as_object());
        let measured = Field {
            name: "measured (mm)".to_owned(),
            before: "4.0".to_owned(),
            after: "4.01".to_owned(),
        };
        assert_eq!(fields, [measured]);
        assert_eq!(differing(&teller, before.as_object(), None).len(), 2);
    }

    #[test]
    fn flags_moments_and_stored_words_are_told_as_people_say_them() {
        let clock = clock();
        let teller = told_by(&clock);
        let after = json!({
            "blade_id": 3, "symptom": "F01",
            "anneal_skipped": 1, "in_use": 0, "frozen_at": "2026-05-04T08:30:00.000Z",
            "temper": "half_hard", "note": "in_use_by_hand",
        });
        let fields = differing(&teller, None, after.as_object());
        let told: Vec<_> =
            fields.iter().map(|field| format!("{}: {}", field.name, field.after)).collect();
        let wanted = [
            "blade: blade 3",
            "symptom: The blade breaks",
            "annealing left out: yes",
            "in use: no",
            "started: 2026-05-04 08:30",
            "temper: half hard",
            "note: in_use_by_hand",
        ];
        assert_eq!(told, wanted);
    }
}
