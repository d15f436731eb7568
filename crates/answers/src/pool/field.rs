//! A value of a file with the path that leads to it, read by kind and limits.

use linkwright_trials::Bell;
use serde_json::{Map, Value};

use super::PoolFileError;

/// Letters of a refused value that are repeated back.
const EXCERPT_CHARS: usize = 40;

/// A value and where it stands.
pub(super) struct Field<'a> {
    path: String,
    value: &'a Value,
}

/// What a number may be.
#[derive(Clone, Copy)]
pub(super) struct Between {
    pub(super) low: f64,
    pub(super) high: f64,
}

/// The document of a file, its format and version looked at first.
pub(super) fn document(
    bytes: &[u8],
    limit_bytes: usize,
    format: &'static str,
    version_known: u64,
) -> Result<Value, PoolFileError> {
    if bytes.len() > limit_bytes {
        return Err(PoolFileError::TooLarge { bytes: bytes.len(), limit_bytes });
    }
    let document: Value = serde_json::from_slice(bytes).map_err(|error| {
        PoolFileError::NotJson { line: error.line().max(1), column: error.column().max(1) }
    })?;
    let given = document.get("format").cloned().unwrap_or(Value::Null);
    if given != format {
        return Err(PoolFileError::OtherFormat {
            given: Box::new(shortened(&given)),
            wanted: format,
        });
    }
    let whole = Field { path: String::new(), value: &document };
    let version = whole.at("version")?;
    let given = version.count(1, u64::MAX)?;
    if given > version_known {
        return Err(PoolFileError::Newer { given, known: version_known });
    }
    Ok(document)
}

fn shortened(given: &Value) -> Value {
    match given {
        Value::String(text) => Value::from(text.chars().take(EXCERPT_CHARS).collect::<String>()),
        Value::Array(_) | Value::Object(_) => Value::from("a list or an object"),
        other => other.clone(),
    }
}

impl<'a> Field<'a> {
    pub(super) fn whole(document: &'a Value) -> Field<'a> {
        Field { path: String::new(), value: document }
    }

    /// What stands under a key.
    pub(super) fn at(&self, key: &str) -> Result<Field<'a>, PoolFileError> {
        let path = self.below(key);
        match self.object()?.get(key) {
            Some(value) => Ok(Field { path, value }),
            None => Err(PoolFileError::Missing { field: path }),
        }
    }

    /// Refuses keys that no such object has; `known` lists them, comma separated.
    pub(super) fn has_only(&self, known: &'static str) -> Result<(), PoolFileError> {
        let stranger = self.object()?.keys().find(|key| !known.split(", ").any(|own| own == *key));
        match stranger {
            Some(key) => {
                let key: String = key.chars().take(EXCERPT_CHARS).collect();
                Err(PoolFileError::Unknown { field: self.below(&key), known })
            }
            None => Ok(()),
        }
    }

    /// The entries of a list of at most `most`.
    pub(super) fn list(&self, most: usize) -> Result<Vec<Field<'a>>, PoolFileError> {
        let list = self.value.as_array().ok_or_else(|| self.kind("a list"))?;
        if list.len() > most {
            return Err(PoolFileError::OutOfLimits {
                field: format!("the length of {}", self.path),
                given: counted(list.len()),
                low: 0.0,
                high: counted(most),
            });
        }
        let entry = |(place, value)| Field { path: format!("{}[{place}]", self.path), value };
        Ok(list.iter().enumerate().map(entry).collect())
    }

    /// A text.
    pub(super) fn text(&self) -> Result<&'a str, PoolFileError> {
        self.value.as_str().ok_or_else(|| self.kind("a text"))
    }

    /// A whole number.
    pub(super) fn count(&self, low: u64, high: u64) -> Result<u64, PoolFileError> {
        let count = self.value.as_u64().ok_or_else(|| self.kind("a whole number"))?;
        if (low..=high).contains(&count) {
            return Ok(count);
        }
        #[expect(clippy::cast_precision_loss, reason = "shown in a complaint only")]
        let [given, low, high] = [count, low, high].map(|count| count as f64);
        Err(PoolFileError::OutOfLimits { field: self.path.clone(), given, low, high })
    }

    /// A number.
    pub(super) fn number(&self, within: Between) -> Result<f64, PoolFileError> {
        let number = self.value.as_f64().ok_or_else(|| self.kind("a number"))?;
        let Between { low, high } = within;
        if (low..=high).contains(&number) {
            return Ok(number);
        }
        Err(PoolFileError::OutOfLimits { field: self.path.clone(), given: number, low, high })
    }

    /// `{"mean": ..., "sd": ...}`.
    pub(super) fn bell(&self, mean: Between, sd: Between) -> Result<Bell, PoolFileError> {
        self.has_only("mean, sd")?;
        Ok(Bell { mean: self.at("mean")?.number(mean)?, sd: self.at("sd")?.number(sd)? })
    }

    /// The complaint that something else should stand here.
    pub(super) fn kind(&self, wanted: &'static str) -> PoolFileError {
        let given: String = self.value.to_string().chars().take(EXCERPT_CHARS).collect();
        let field = if self.path.is_empty() { "the file".to_owned() } else { self.path.clone() };
        PoolFileError::Kind { field, given, wanted }
    }

    fn below(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    fn object(&self) -> Result<&'a Map<String, Value>, PoolFileError> {
        self.value.as_object().ok_or_else(|| self.kind("an object"))
    }
}

fn counted(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}
