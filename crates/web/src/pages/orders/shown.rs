//! The order's form as its page shows it, field by field.

use super::form::{LineForm, key};
use super::ring_sizes::{PatternOffered, RING_FIELDS, SIZES_MOST, sized};
use crate::form::Complaints;

/// One field as the page shows it.
pub(super) struct Field {
    pub(super) name: String,
    pub(super) value: String,
    pub(super) complaint: String,
    /// The size in both systems, where it is one and can be read.
    pub(super) echo: String,
}

/// One line as the page shows it.
pub(super) struct LineView<'a> {
    pub(super) number: usize,
    pub(super) form: &'a LineForm,
    pub(super) complaints: &'a Complaints,
    /// What the ring sizes of its pattern are called, the main one first; one blank name without.
    pub(super) sizes: Vec<&'a str>,
}

/// A ring size of a line as the page shows it.
pub(super) struct SizeView<'a> {
    line: &'a LineView<'a>,
    /// Its place in the pattern, from 1.
    pub(super) size: usize,
    /// What it is called, such as "small ring"; blank where there is only one.
    pub(super) called: &'a str,
}

impl<'a> LineView<'a> {
    pub(super) fn field(&self, name: &str) -> Field {
        self.form.field(self.number, name, self.complaints)
    }

    pub(super) fn key(&self, name: &str) -> String {
        key(self.number, name)
    }

    pub(super) fn is(&self, name: &str, value: &str) -> bool {
        self.form.at(name) == value
    }

    /// The line's own ring size.
    pub(super) fn own(&'a self) -> SizeView<'a> {
        let called = self.sizes.first().copied().unwrap_or_default();
        SizeView { line: self, size: 1, called }
    }

    /// The sizes beyond it.
    pub(super) fn further(&'a self) -> Vec<SizeView<'a>> {
        let named = (1..).zip(&self.sizes).skip(1);
        named.map(|(size, called)| SizeView { line: self, size, called }).collect()
    }

    /// Whether the page shows the several ring sizes of a pattern.
    pub(super) fn shows(&self, pattern: &PatternOffered) -> bool {
        pattern.sizes.len() > 1 && self.sizes == pattern.sizes
    }

    /// Whether a pattern has several ring sizes and the page shows others.
    pub(super) fn asks(&self, pattern: &PatternOffered) -> bool {
        pattern.sizes.len() > 1 && !self.shows(pattern)
    }

    /// What was typed for ring sizes that the pattern does not have, so that it comes back when a
    /// pattern does.
    pub(super) fn aside(&self) -> Vec<(String, &'a str)> {
        let hidden = (self.sizes.len() + 1..=SIZES_MOST)
            .filter(|size| self.form.has_size(*size))
            .flat_map(|size| RING_FIELDS.map(|name| sized(name, size)));
        hidden.map(|name| (self.key(&name), self.form.at(&name))).collect()
    }
}

impl SizeView<'_> {
    pub(super) fn title(&self) -> String {
        let number = format!("Ring size {}", self.size);
        if self.called.to_lowercase() == number.to_lowercase() {
            number
        } else {
            format!("{number}: {}", self.called)
        }
    }

    pub(super) fn field(&self, name: &str) -> Field {
        self.line.field(&sized(name, self.size))
    }

    pub(super) fn key(&self, name: &str) -> String {
        self.line.key(&sized(name, self.size))
    }

    pub(super) fn is(&self, name: &str, value: &str) -> bool {
        self.line.is(&sized(name, self.size), value)
    }
}
