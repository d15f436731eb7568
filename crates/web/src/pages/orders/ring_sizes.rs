//! The ring sizes of a line: what the fields of each are called, and how the page names it.

use linkwright_answers::chain::{KnownPatterns, PatternListed};

/// Ring sizes a form is read for; no pattern has more.
pub(super) const SIZES_MOST: usize = 12;

/// Fields that every ring size has.
pub(super) const RING_FIELDS: [&str; 7] =
    ["wire", "by", "ring", "side", "state", "tolerance", "rod"];

/// A field of a ring size, counted from 1: `wire` of the line's own, `wire-2` of the second.
pub(crate) fn sized(field: &str, size: usize) -> String {
    if size == 1 { field.to_owned() } else { format!("{field}-{size}") }
}

/// The other way round: the field and its size.
pub(super) fn apart(field: &str) -> (&str, usize) {
    let apart = field.split_once('-').and_then(|(field, size)| Some((field, size.parse().ok()?)));
    apart.unwrap_or((field, 1))
}

/// A pattern as the form offers it.
pub(super) struct PatternOffered {
    pub(super) key: String,
    pub(super) title: String,
    /// What each ring size is called on the page, the main one first.
    pub(super) sizes: Vec<String>,
}

impl PatternOffered {
    fn of(pattern: PatternListed) -> PatternOffered {
        let called = |(number, word): (usize, Option<&str>)| match word {
            Some(word) => format!("{word} ring"),
            None => format!("ring size {number}"),
        };
        let words = pattern.size_words.into_iter();
        PatternOffered {
            key: pattern.name,
            title: pattern.title,
            sizes: (1..).zip(words).map(called).collect(),
        }
    }
}

/// Every pattern that is known here.
pub(super) fn offered(patterns: &KnownPatterns) -> Vec<PatternOffered> {
    patterns.listed().into_iter().map(PatternOffered::of).collect()
}
