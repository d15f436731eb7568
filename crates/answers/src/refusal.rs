//! Why an input was refused, naming field, value and what would be accepted.

use linkwright_calc::limits::Limit;
use linkwright_calc::quantity::{QuantityError, Question};
use serde_json::{Value, json};
use thiserror::Error;

/// The longest excerpt of a refused line or text that is repeated back.
const EXCERPT_CHARS: usize = 80;

/// An input that cannot be used.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum Refusal {
    /// The line is longer than `batch` reads.
    #[error("the line is longer than {limit_bytes} bytes; one question is a short object")]
    LineTooLong {
        /// The longest line read.
        limit_bytes: usize,
    },
    /// The line is not text.
    #[error("the line is not UTF-8 text (first bad byte at {at_byte})")]
    NotUtf8 {
        /// Count of good bytes before the bad one.
        at_byte: usize,
    },
    /// The line is empty.
    #[error("the line is blank; each line is one JSON object with \"ask\" and its inputs")]
    Blank,
    /// The line is not JSON.
    #[error("the line is not JSON at character {column}: {excerpt}")]
    NotJson {
        /// Where reading stopped, counted from 1.
        column: usize,
        /// The line, shortened.
        excerpt: String,
    },
    /// The line is JSON but not an object.
    #[error("the line is not a JSON object; write {{\"ask\": ..., inputs}}")]
    NotAnObject {
        /// The line, shortened.
        excerpt: String,
    },
    /// A key appears more than once.
    #[error("{field} is given more than once; keep one of them")]
    GivenTwice {
        /// The key.
        field: String,
    },
    /// The question has no such input.
    #[error("{field} is not an input of {ask}; its inputs are {known}")]
    UnknownKey {
        /// The key.
        field: String,
        /// Its value.
        given: Box<Value>,
        /// The question.
        ask: String,
        /// The keys it takes, comma separated.
        known: String,
    },
    /// There is no such question.
    #[error("there is no ask {given}; the asks are {known}")]
    UnknownAsk {
        /// What was asked.
        given: Box<Value>,
        /// The questions there are, comma separated.
        known: String,
    },
    /// A needed input is absent.
    #[error("{field} is missing; {ask} needs it")]
    Missing {
        /// The key.
        field: String,
        /// The question.
        ask: String,
    },
    /// The value has the wrong JSON type.
    #[error("{field} must be {wanted}, not {given}")]
    WrongType {
        /// The key.
        field: String,
        /// Its value.
        given: Box<Value>,
        /// What is wanted, such as "a number".
        wanted: &'static str,
    },
    /// The value is a word, and none of those accepted.
    #[error("{field} is {given}; it must be one of {known}")]
    NotOneOf {
        /// The key.
        field: String,
        /// Its value.
        given: Box<Value>,
        /// The accepted words, comma separated.
        known: String,
    },
    /// Two keys say the same thing in two ways.
    #[error("{field} and {other} are both given; give one of them")]
    OneOrTheOther {
        /// The key.
        field: String,
        /// Its value.
        given: Box<Value>,
        /// The other key.
        other: String,
    },
    /// The number is infinite, not a number or beyond double precision.
    #[error("{field} is {given}; it must be a finite number")]
    NotFinite {
        /// The key.
        field: String,
        /// What was written.
        given: String,
    },
    /// The number is outside its limits.
    #[error(
        "{field} is {given} {unit}; it must be between {} and {} {unit} ({})",
        limit.low, limit.high, limit.why, unit = limit.unit
    )]
    OutOfLimits {
        /// The key.
        field: String,
        /// Its value.
        given: f64,
        /// What would be accepted.
        limit: Limit,
    },
    /// The bench itself says no: the inputs are each fine but do not go together.
    #[error("{message}")]
    Bench {
        /// The key to change.
        field: String,
        /// Its value.
        given: Box<Value>,
        /// The core's sentence.
        message: String,
    },
    /// A size, mass or count as typed cannot be read, or could mean two things.
    #[error("{error}")]
    Typed {
        /// The option it was typed for, as typed.
        option: &'static str,
        /// The text as typed.
        given: String,
        /// What is wrong, or what to ask back.
        error: Box<QuantityError>,
    },
    /// The answer came out infinite or undefined.
    #[error("these inputs give no finite {field}")]
    NoFiniteAnswer {
        /// The key of the answer.
        field: &'static str,
    },
}

impl Refusal {
    /// The bench says no because of `field`.
    pub fn bench(field: &str, given: impl Into<Value>, error: impl std::fmt::Display) -> Refusal {
        Refusal::Bench {
            field: field.to_owned(),
            given: Box::new(given.into()),
            message: error.to_string(),
        }
    }

    /// The object that `batch` and `--json` print under `error`.
    pub fn to_json(&self) -> Value {
        let mut error =
            json!({ "field": self.field(), "given": self.given(), "message": self.to_string() });
        if let Some(readings) = self.readings() {
            error["readings"] = readings;
        }
        error
    }

    /// The question to ask back, where typed text could mean two things.
    pub fn question(&self) -> Option<&Question> {
        match self {
            Refusal::Typed { error, .. } => error.question(),
            _ => None,
        }
    }

    /// What typed text could mean, where it is asked about.
    fn readings(&self) -> Option<Value> {
        let readings = self.question()?.readings.iter().map(|reading| {
            json!({
                "type_instead": reading.type_instead,
                "value": reading.value,
                "unit": reading.unit,
            })
        });
        Some(readings.collect())
    }

    /// The key to change; "line" where the line as a whole cannot be read.
    pub fn field(&self) -> &str {
        match self {
            Refusal::LineTooLong { .. }
            | Refusal::NotUtf8 { .. }
            | Refusal::Blank
            | Refusal::NotJson { .. }
            | Refusal::NotAnObject { .. } => "line",
            Refusal::UnknownAsk { .. } => "ask",
            Refusal::GivenTwice { field }
            | Refusal::UnknownKey { field, .. }
            | Refusal::Missing { field, .. }
            | Refusal::WrongType { field, .. }
            | Refusal::NotOneOf { field, .. }
            | Refusal::OneOrTheOther { field, .. }
            | Refusal::NotFinite { field, .. }
            | Refusal::OutOfLimits { field, .. }
            | Refusal::Bench { field, .. } => field,
            Refusal::NoFiniteAnswer { field } => field,
            Refusal::Typed { option, .. } => option,
        }
    }

    /// The value that was refused; null where there is none to repeat.
    fn given(&self) -> Value {
        match self {
            Refusal::LineTooLong { .. }
            | Refusal::NotUtf8 { .. }
            | Refusal::Blank
            | Refusal::GivenTwice { .. }
            | Refusal::Missing { .. }
            | Refusal::NoFiniteAnswer { .. } => Value::Null,
            Refusal::NotJson { excerpt, .. } | Refusal::NotAnObject { excerpt } => {
                Value::from(excerpt.as_str())
            }
            Refusal::UnknownKey { given, .. }
            | Refusal::UnknownAsk { given, .. }
            | Refusal::WrongType { given, .. }
            | Refusal::NotOneOf { given, .. }
            | Refusal::OneOrTheOther { given, .. }
            | Refusal::Bench { given, .. } => (**given).clone(),
            Refusal::NotFinite { given, .. } | Refusal::Typed { given, .. } => {
                Value::from(given.as_str())
            }
            Refusal::OutOfLimits { given, .. } => Value::from(*given),
        }
    }
}

/// The beginning of a long text, so that an error stays readable.
pub fn excerpt(text: &str) -> String {
    let mut shown: String = text.chars().take(EXCERPT_CHARS).collect();
    if shown.len() < text.len() {
        shown.push_str("...");
    }
    shown
}
