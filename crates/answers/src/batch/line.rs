//! One line of `batch`: its `id`, its `ask` and its inputs, before any of them is understood.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde_json::error::Category;
use serde_json::value::RawValue;
use serde_json::{Map, Value};

use crate::refusal::{Refusal, excerpt};

/// Words that many writers put where a number is undefined; none of them is JSON.
const NOT_NUMBERS: [&str; 3] = ["-Infinity", "Infinity", "NaN"];

/// A line that is a JSON object.
#[derive(Debug)]
pub struct Line {
    fields: Fields,
    holds_not_a_number: bool,
}

/// The keys of an object in the order given, each with its value.
#[derive(Clone, Debug, Default)]
pub struct Fields {
    entries: Vec<(String, Given)>,
    given_twice: Option<String>,
}

/// A value as it stands on the line.
#[derive(Clone, Debug)]
pub enum Given {
    /// Text of the value of `id`, kept to the letter.
    Verbatim(String),
    /// Anything but an object or a list of objects.
    Plain(Value),
    /// An object.
    Object(Fields),
    /// A list of objects, at least one.
    Objects(Vec<Fields>),
    /// A number beyond double precision, or a word such as NaN.
    NotFinite(String),
}

impl Line {
    /// Reads an object; anything else is refused.
    pub fn read(text: &str) -> Result<Line, Refusal> {
        if text.trim().is_empty() {
            return Err(Refusal::Blank);
        }
        let error = match serde_json::from_str(text) {
            Ok(fields) => {
                return Ok(Line { fields, holds_not_a_number: false });
            }
            Err(error) => error,
        };
        // Only a line that is no JSON is read a second time, so that the key at fault is named.
        let quoted = quote_not_numbers(text);
        if let Some(fields) = quoted.and_then(|quoted| serde_json::from_str(&quoted).ok()) {
            return Ok(Line { fields, holds_not_a_number: true });
        }
        Err(match error.classify() {
            Category::Data => Refusal::NotAnObject { excerpt: excerpt(text) },
            Category::Io | Category::Syntax | Category::Eof => {
                Refusal::NotJson { column: error.column(), excerpt: excerpt(text) }
            }
        })
    }

    /// Refuses repeated keys and numbers that are none, wherever they stand.
    pub fn check(&self) -> Result<(), Refusal> {
        self.fields.check("", self.holds_not_a_number)?;
        if self.holds_not_a_number {
            return Err(Refusal::NotFinite {
                field: "line".to_owned(),
                given: "not a number".to_owned(),
            });
        }
        Ok(())
    }

    /// The text of `id`, to be given back unchanged.
    pub fn id(&self) -> Option<&str> {
        match self.fields.get("id") {
            Some(Given::Verbatim(text)) => Some(text),
            _ => None,
        }
    }

    /// The name asked for, if it is a string at all.
    pub fn ask_as_written(&self) -> Option<&str> {
        match self.fields.get("ask") {
            Some(Given::Plain(Value::String(name))) => Some(name),
            _ => None,
        }
    }

    /// The keys and values of the line.
    pub const fn fields(&self) -> &Fields {
        &self.fields
    }
}

impl Fields {
    /// The value of a key; null counts as not given.
    pub fn get(&self, key: &str) -> Option<&Given> {
        let (_, given) = self.entries.iter().find(|(name, _)| name == key)?;
        match given {
            Given::Plain(Value::Null) => None,
            given => Some(given),
        }
    }

    /// The keys in the order given.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Given)> {
        self.entries.iter().map(|(key, given)| (key.as_str(), given))
    }

    /// The object as JSON.
    fn to_json(&self) -> Value {
        let entries = self.entries.iter().map(|(key, given)| (key.clone(), given.to_json()));
        Value::Object(entries.collect::<Map<String, Value>>())
    }

    fn check(&self, path: &str, quoted: bool) -> Result<(), Refusal> {
        if let Some(key) = &self.given_twice {
            return Err(Refusal::GivenTwice { field: format!("{path}{key}") });
        }
        for (key, given) in &self.entries {
            let field = format!("{path}{key}");
            match given {
                Given::NotFinite(written) => {
                    let given = written.clone();
                    return Err(Refusal::NotFinite { field, given });
                }
                Given::Plain(Value::String(word)) if quoted && is_not_a_number(word) => {
                    let given = word.clone();
                    return Err(Refusal::NotFinite { field, given });
                }
                Given::Object(fields) => fields.check(&format!("{field}."), quoted)?,
                Given::Objects(list) => {
                    for (at, fields) in list.iter().enumerate() {
                        fields.check(&format!("{field}[{at}]."), quoted)?;
                    }
                }
                Given::Plain(_) | Given::Verbatim(_) => {}
            }
        }
        Ok(())
    }
}

impl Given {
    /// The value as JSON, to be repeated in an error.
    pub fn to_json(&self) -> Value {
        match self {
            Given::Plain(value) => value.clone(),
            Given::Object(fields) => fields.to_json(),
            Given::Objects(list) => list.iter().map(Fields::to_json).collect(),
            Given::Verbatim(text) | Given::NotFinite(text) => Value::from(excerpt(text)),
        }
    }

    fn from_raw(key: &str, raw: &str) -> Given {
        if raw.starts_with('{')
            && key != "id"
            && let Ok(fields) = serde_json::from_str(raw)
        {
            return Given::Object(fields);
        }
        if raw.starts_with('[')
            && key != "id"
            && let Ok(list) = serde_json::from_str::<Vec<Fields>>(raw)
            && !list.is_empty()
        {
            return Given::Objects(list);
        }
        match serde_json::from_str::<Value>(raw) {
            // A bare carriage return may stand between the parts of a value and would break a line.
            Ok(_) if key == "id" => Given::Verbatim(raw.replace('\r', " ")),
            Ok(value) => Given::Plain(value),
            Err(_) => Given::NotFinite(excerpt(raw)),
        }
    }
}

impl<'de> Deserialize<'de> for Fields {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Fields, D::Error> {
        deserializer.deserialize_map(FieldsVisitor)
    }
}

struct FieldsVisitor;

impl<'de> Visitor<'de> for FieldsVisitor {
    type Value = Fields;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Fields, A::Error> {
        let mut fields = Fields::default();
        while let Some(key) = map.next_key::<String>()? {
            let raw: &RawValue = map.next_value()?;
            if fields.entries.iter().any(|(known, _)| *known == key) {
                fields.given_twice.get_or_insert(key);
                continue;
            }
            let given = Given::from_raw(&key, raw.get());
            fields.entries.push((key, given));
        }
        Ok(fields)
    }
}

fn is_not_a_number(word: &str) -> bool {
    NOT_NUMBERS.contains(&word)
}

/// Puts quotes round bare NaN and Infinity; `None` if there are none outside strings.
fn quote_not_numbers(text: &str) -> Option<String> {
    let mut quoted = String::with_capacity(text.len() + 16);
    let mut rest = text;
    let mut in_string = false;
    let mut found = false;
    while let Some(next) = rest.chars().next() {
        let word = NOT_NUMBERS.iter().find(|word| rest.starts_with(**word));
        if let (Some(word), false) = (word, in_string) {
            quoted.extend(["\"", *word, "\""]);
            rest = &rest[word.len()..];
            found = true;
            continue;
        }
        let mut taken = next.len_utf8();
        match next {
            '"' => in_string = !in_string,
            '\\' if in_string => taken += rest[1..].chars().next().map_or(0, char::len_utf8),
            _ => {}
        }
        quoted.push_str(&rest[..taken]);
        rest = &rest[taken..];
    }
    found.then_some(quoted)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn not_a_number_inside_a_string_is_left_alone() {
        assert_eq!(quote_not_numbers(r#"{"a": "NaN \" Infinity"}"#), None);
        assert_eq!(
            quote_not_numbers(r#"{"NaN": -Infinity}"#).as_deref(),
            Some(r#"{"NaN": "-Infinity"}"#)
        );
    }

    #[test]
    fn an_id_keeps_its_digits() {
        let line = Line::read(r#"{"id": 123456789012345678901234567890.10}"#).unwrap();
        assert_eq!(line.id(), Some("123456789012345678901234567890.10"));
    }

    #[test]
    fn null_counts_as_not_given_except_as_an_id() {
        let line = Line::read(r#"{"id": null, "tails_mm": null}"#).unwrap();
        assert_eq!(line.id(), Some("null"));
        assert!(line.fields().get("tails_mm").is_none());
    }

    #[test]
    fn the_object_within_is_checked_too() {
        let line = Line::read(r#"{"flow": {"rate": NaN}}"#).unwrap();
        let refusal = line.check().unwrap_err();
        assert_eq!(refusal.to_string(), "flow.rate is NaN; it must be a finite number");
        let line = Line::read(r#"{"flow": {"rate": 1, "rate": 2}}"#).unwrap();
        let refusal = line.check().unwrap_err();
        assert_eq!(refusal.to_string(), "flow.rate is given more than once; keep one of them");
        let line = Line::read(r#"{"measured": [{"rings": 1}, {"rings": 1, "rings": 2}]}"#).unwrap();
        let refusal = line.check().unwrap_err();
        assert_eq!(
            refusal.to_string(),
            "measured[1].rings is given more than once; keep one of them"
        );
    }

    #[test]
    fn a_list_of_objects_is_given_back_as_it_came() {
        let text = r#"{"measured":[{"rings":20,"of":[{"wire":null}]}],"numbers":[1,2],"none":[]}"#;
        let line = Line::read(text).unwrap();
        assert_eq!(line.fields().to_json().to_string(), text);
    }
}
