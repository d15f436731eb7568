//! The inputs of one question: each is taken by name, checked against its limits and typed.

use std::borrow::Cow;
use std::sync::atomic::{AtomicBool, Ordering};

use linkwright_calc::limits::Limit;
use linkwright_linkage::solve::{Halt, Watch};
use serde_json::Value;

use crate::batch::line::{Fields, Given};
use crate::chain::{KnownPatterns, Steps};
use crate::refusal::Refusal;

/// The inputs of a question, or of an object within it such as `flow`.
#[derive(Debug)]
pub struct Inputs<'line> {
    ask: &'static str,
    path: Cow<'static, str>,
    known: &'static [&'static str],
    fields: &'line Fields,
    patterns: &'line KnownPatterns,
    stop: &'line AtomicBool,
}

/// Nobody stops a question that is asked by itself.
static NEVER: AtomicBool = AtomicBool::new(false);

impl<'line> Inputs<'line> {
    /// The inputs of `ask`, which takes the `known` keys and no others.
    pub fn new(
        ask: &'static str,
        known: &'static [&'static str],
        fields: &'line Fields,
        patterns: &'line KnownPatterns,
    ) -> Result<Inputs<'line>, Refusal> {
        let path = Cow::Borrowed("");
        let inputs = Inputs { ask, path, known, fields, patterns, stop: &NEVER };
        inputs.refuse_unknown_keys(&["id", "ask"])?;
        Ok(inputs)
    }

    /// The same, given up when `stop` is set.
    pub fn until(self, stop: &'line AtomicBool) -> Inputs<'line> {
        Inputs { stop, ..self }
    }

    /// A watch for the solver that gives up after so many steps, and where the question is stopped.
    pub fn watch(&self, steps_most: u32) -> impl Watch + use<'line> {
        Watched { stop: self.stop, steps: Steps::of(steps_most) }
    }

    /// The object under `key`, which takes the `known` keys and no others.
    ///
    /// `path` is the key with a full stop, the way errors name what is within.
    pub fn within(
        &self,
        key: &'static str,
        path: &'static str,
        known: &'static [&'static str],
    ) -> Result<Inputs<'line>, Refusal> {
        match self.given(key) {
            None => Err(self.missing(key)),
            Some(Given::Object(fields)) => {
                Ok(Inputs { path: Cow::Borrowed(path), known, fields, ..*self })
            }
            Some(other) => Err(self.wrong_type(key, other, "an object")),
        }
    }

    /// The patterns known where the question is asked.
    pub const fn patterns(&self) -> &'line KnownPatterns {
        self.patterns
    }

    /// The objects of the list under `key`, each of which takes the `known` keys and no others; none if it
    /// is not given.
    pub fn list(
        &self,
        key: &'static str,
        known: &'static [&'static str],
    ) -> Result<Vec<Inputs<'line>>, Refusal> {
        let list = match self.given(key) {
            None => return Ok(Vec::new()),
            Some(Given::Objects(list)) => list,
            Some(Given::Plain(Value::Array(list))) if list.is_empty() => return Ok(Vec::new()),
            Some(other) => return Err(self.wrong_type(key, other, "a list of objects")),
        };
        let within = list.iter().enumerate().map(|(at, fields)| {
            let path = Cow::Owned(format!("{}[{at}].", self.named(key)));
            let inputs = Inputs { path, known, fields, ..*self };
            inputs.refuse_unknown_keys(&[])?;
            Ok(inputs)
        });
        within.collect()
    }

    /// Yes or no; no if it is not given.
    pub fn flag(&self, key: &'static str) -> Result<bool, Refusal> {
        match self.given(key) {
            None => Ok(false),
            Some(Given::Plain(Value::Bool(yes))) => Ok(*yes),
            Some(other) => Err(self.wrong_type(key, other, "true or false")),
        }
    }

    /// The object under `key` as JSON, its keys not looked at.
    pub fn object(&self, key: &'static str) -> Result<Value, Refusal> {
        match self.given(key) {
            None => Err(self.missing(key)),
            Some(given @ Given::Object(_)) => Ok(given.to_json()),
            Some(other) => Err(self.wrong_type(key, other, "an object")),
        }
    }

    /// Refuses the first key that is neither known nor in `besides`.
    pub fn refuse_unknown_keys(&self, besides: &[&str]) -> Result<(), Refusal> {
        let stranger =
            self.fields.iter().find(|(key, _)| !self.known.contains(key) && !besides.contains(key));
        match stranger {
            None => Ok(()),
            Some((key, given)) => Err(Refusal::UnknownKey {
                field: self.named(key),
                given: Box::new(given.to_json()),
                ask: self.whose(),
                known: self.known.join(", "),
            }),
        }
    }

    /// Whether the question has such an input, given or not.
    pub fn has_key(&self, key: &str) -> bool {
        self.known.contains(&key)
    }

    /// Whether the key is given at all.
    pub fn has(&self, key: &'static str) -> bool {
        self.given(key).is_some()
    }

    /// A number within its limits.
    pub fn number(&self, key: &'static str, limit: Limit) -> Result<f64, Refusal> {
        self.optional_number(key, limit)?.ok_or_else(|| self.missing(key))
    }

    /// A number within its limits, or `usual` if it is not given.
    pub fn number_or(&self, key: &'static str, limit: Limit, usual: f64) -> Result<f64, Refusal> {
        Ok(self.optional_number(key, limit)?.unwrap_or(usual))
    }

    /// A number within its limits, if it is given.
    pub fn optional_number(&self, key: &'static str, limit: Limit) -> Result<Option<f64>, Refusal> {
        let Some(given) = self.given(key) else {
            return Ok(None);
        };
        let Given::Plain(Value::Number(number)) = given else {
            return Err(self.wrong_type(key, given, "a number"));
        };
        let number = number.as_f64().unwrap_or(f64::NAN);
        match limit.check(number) {
            Ok(number) => Ok(Some(number)),
            Err(_) => Err(Refusal::OutOfLimits { field: self.named(key), given: number, limit }),
        }
    }

    /// A whole number within its limits; 40.0 is whole, 40.5 is not.
    pub fn whole(&self, key: &'static str, limit: Limit) -> Result<u32, Refusal> {
        self.optional_whole(key, limit)?.ok_or_else(|| self.missing(key))
    }

    /// A whole number within its limits, if it is given.
    pub fn optional_whole(&self, key: &'static str, limit: Limit) -> Result<Option<u32>, Refusal> {
        let Some(number) = self.optional_number(key, limit)? else {
            return Ok(None);
        };
        match format!("{number:.0}").parse() {
            Ok(whole) if number.fract().abs() < f64::MIN_POSITIVE => Ok(Some(whole)),
            _ => Err(Refusal::WrongType {
                field: self.named(key),
                given: Box::new(Value::from(number)),
                wanted: "a whole number, none or more",
            }),
        }
    }

    /// A whole number that may be negative, within its limits.
    pub fn integer(&self, key: &'static str, limit: Limit) -> Result<i64, Refusal> {
        let number = self.number(key, limit)?;
        let whole: Option<i64> = format!("{number:.0}").parse().ok();
        whole.filter(|_| number.fract().abs() < f64::MIN_POSITIVE).ok_or_else(|| {
            Refusal::WrongType {
                field: self.named(key),
                given: Box::new(Value::from(number)),
                wanted: "a whole number",
            }
        })
    }

    /// Refuses any of `others`, which say the same as `key` in another way.
    pub fn refuse_beside(&self, key: &str, others: &[&'static str]) -> Result<(), Refusal> {
        match others.iter().find(|other| self.has(other)) {
            None => Ok(()),
            Some(other) => Err(Refusal::OneOrTheOther {
                field: self.named(other),
                given: Box::new(self.as_given(other)),
                other: self.named(key),
            }),
        }
    }

    /// Whether the key holds a word, for inputs that are a number or a word.
    pub fn is_word(&self, key: &'static str) -> bool {
        matches!(self.given(key), Some(Given::Plain(Value::String(_))))
    }

    /// A word.
    pub fn word(&self, key: &'static str) -> Result<&'line str, Refusal> {
        match self.given(key) {
            None => Err(self.missing(key)),
            Some(Given::Plain(Value::String(word))) => Ok(word),
            Some(other) => Err(self.wrong_type(key, other, "a word in quotes")),
        }
    }

    /// What stands beside one of the accepted words.
    pub fn one_of<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Result<T, Refusal> {
        let word = self.word(key)?;
        match choices.iter().find(|(name, _)| *name == word) {
            Some((_, choice)) => Ok(*choice),
            None => {
                let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
                Err(Refusal::NotOneOf {
                    field: self.named(key),
                    given: Box::new(Value::from(word)),
                    known: names.join(", "),
                })
            }
        }
    }

    /// The value as JSON, to be repeated in an error; null if it is not given.
    pub fn as_given(&self, key: &str) -> Value {
        self.fields.get(key).map_or(Value::Null, Given::to_json)
    }

    /// A refusal of a key that is needed but not given.
    pub fn missing(&self, key: &str) -> Refusal {
        Refusal::Missing { field: self.named(key), ask: self.whose() }
    }

    /// A refusal of a key because the core says no to it.
    pub fn bench(&self, key: &str, error: impl std::fmt::Display) -> Refusal {
        Refusal::bench(&self.named(key), self.as_given(key), error)
    }

    fn given(&self, key: &'static str) -> Option<&'line Given> {
        debug_assert!(self.known.contains(&key), "{key} is not declared");
        self.fields.get(key)
    }

    fn wrong_type(&self, key: &str, given: &Given, wanted: &'static str) -> Refusal {
        Refusal::WrongType { field: self.named(key), given: Box::new(given.to_json()), wanted }
    }

    fn named(&self, key: &str) -> String {
        format!("{}{key}", self.path)
    }

    fn whose(&self) -> String {
        match self.path.strip_suffix('.') {
            None => self.ask.to_owned(),
            Some(object) => format!("{object} of {}", self.ask),
        }
    }
}

/// Counts the solver's steps and looks whether the question is still wanted.
struct Watched<'line> {
    stop: &'line AtomicBool,
    steps: Steps,
}

impl Watch for Watched<'_> {
    fn tick(&mut self) -> Result<(), Halt> {
        if self.stop.load(Ordering::Relaxed) {
            return Err(Halt::Cancelled);
        }
        self.steps.tick()
    }
}
