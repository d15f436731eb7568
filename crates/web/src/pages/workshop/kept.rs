//! What every kind of thing on the shelf can do, so that its pages are written once.

use std::collections::BTreeMap;
use std::fmt::Display;

use linkwright_answers::printout::both_lengths;
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::{Length, parse_length};
use linkwright_store::records::Blade;
use linkwright_store::{Act, Id, Record, Saved, View};

use crate::error::PageError;
use crate::form::{Complaints, given};

/// What was typed into a form, by field; a tick that is not set is not there.
pub(super) type Typed = BTreeMap<String, String>;

/// How a field is filled in.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Way {
    /// One line of text.
    Line,
    /// One line, with words to choose from.
    Offered(Vec<String>),
    /// One of these values, each with its words.
    OneOf(Vec<(String, String)>),
    /// Several lines.
    Lines,
    /// Yes or no.
    Tick,
    /// A day.
    Day,
}

/// A field of a form.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Field {
    pub(super) name: &'static str,
    pub(super) label: &'static str,
    pub(super) hint: &'static str,
    pub(super) way: Way,
}

/// A field of one line.
pub(super) const fn line(name: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field { name, label, hint, way: Way::Line }
}

/// What forms and pages look up: metals and blades there are, and the day.
pub(super) struct Around {
    pub(super) metals: Catalogue,
    pub(super) blades: Vec<Saved<Blade>>,
    pub(super) today: String,
}

/// Everything a thing's page tells.
#[derive(Default)]
pub(super) struct About {
    /// Facts: what, and in words.
    pub(super) rows: Vec<(String, String)>,
    /// Sums and records under a heading.
    pub(super) tables: Vec<Table>,
    /// What to watch.
    pub(super) cautions: Vec<String>,
}

/// A table of a thing's page.
pub(super) struct Table {
    pub(super) title: String,
    pub(super) basis: String,
    pub(super) headings: Vec<&'static str>,
    pub(super) rows: Vec<Vec<String>>,
}

impl About {
    /// Adds a fact.
    pub(super) fn row(&mut self, what: &str, words: impl Display) {
        self.rows.push((what.to_owned(), words.to_string()));
    }

    /// Adds a fact if there is one.
    pub(super) fn if_any(&mut self, what: &str, words: Option<impl Display>) {
        if let Some(words) = words {
            self.row(what, words);
        }
    }
}

/// A kind of thing the workshop keeps.
pub(super) trait Kept: Record + Clone + Send + 'static {
    /// Its part of the address, in the plural.
    const PATH: &'static str;
    /// The heading of its list.
    const MANY: &'static str;
    /// What one is, in a sentence for an empty list.
    const EMPTY: &'static str;
    /// Headings of its list, the name first.
    const HEADINGS: &'static [&'static str];

    /// What it is called.
    fn name(&self) -> &str;

    /// One cell a heading.
    fn cells(&self, id: Id<Self>, view: &View<'_>) -> Result<Vec<String>, PageError>;

    /// Everything its page tells.
    fn about(&self, id: Id<Self>, view: &View<'_>, around: &Around) -> Result<About, PageError>;

    /// The fields of its form.
    fn fields(around: &Around) -> Vec<Field>;

    /// What stands in the form of a new one.
    fn fresh(around: &Around) -> Typed;

    /// What stands in the form of this one.
    fn typed(&self) -> Typed;

    /// Makes sense of what was typed; complaints stand beside their fields.
    fn read(
        typed: &Typed,
        around: &Around,
        former: Option<&Self>,
        complaints: &mut Complaints,
    ) -> Option<Self>;

    /// Its size, by which its list is sorted; those without keep the order they came in.
    fn size_mm(&self) -> f64 {
        0.0
    }

    /// What else follows from saving it, in the same action.
    fn saved(&self, _: &Act<'_>, _: Id<Self>) -> Result<(), PageError> {
        Ok(())
    }

    /// Since when it is put away, and why; `None` while it is in use.
    fn put_away(&self) -> Option<(&str, &str)>;

    /// Puts it away, or takes it back into use.
    fn set_put_away(&mut self, since_and_why: Option<(String, String)>);
}

/// What was typed into a field; "" if it was not there.
pub(super) fn text<'a>(typed: &'a Typed, field: &str) -> &'a str {
    typed.get(field).map_or("", String::as_str)
}

/// What was typed into a field that must be filled.
pub(super) fn needed(
    typed: &Typed,
    field: &str,
    question: &str,
    complaints: &mut Complaints,
) -> Option<String> {
    let found = given(text(typed, field));
    if found.is_none() {
        complaints.add(field, question);
    }
    found
}

/// A size as typed, with what it is; `role` sets its limits.
pub(super) fn size<T, E: Display>(
    typed: &Typed,
    field: &str,
    role: impl Fn(Length) -> Result<T, E>,
    complaints: &mut Complaints,
) -> Option<(String, f64)> {
    let words =
        needed(typed, field, "how large? Write it with its unit, such as 4.00 mm", complaints)?;
    let length = complaints.take(field, parse_length(&words))?.value();
    complaints.take(field, role(length))?;
    Some((words, length.mm()))
}

/// The same for a field that may stay empty; `None` only where something is wrong.
#[expect(clippy::option_option, reason = "wrong, left empty, and given are three things")]
pub(super) fn optional_size<T, E: Display>(
    typed: &Typed,
    field: &str,
    role: impl Fn(Length) -> Result<T, E>,
    complaints: &mut Complaints,
) -> Option<Option<(String, f64)>> {
    match given(text(typed, field)) {
        None => Some(None),
        Some(_) => size(typed, field, role, complaints).map(Some),
    }
}

/// A whole number, or what is kept if the field stays empty.
pub(super) fn whole(
    typed: &Typed,
    field: &str,
    most: u32,
    complaints: &mut Complaints,
) -> Option<Option<u32>> {
    let Some(words) = given(text(typed, field)) else { return Some(None) };
    match words.parse::<u32>() {
        Ok(number) if number <= most => Some(Some(number)),
        _ => {
            complaints.add(field, format!("{words} is no whole number from 0 to {most}"));
            None
        }
    }
}

/// A day, or nothing if the field stays empty.
pub(super) fn day(
    typed: &Typed,
    field: &str,
    complaints: &mut Complaints,
) -> Option<Option<String>> {
    let Some(words) = given(text(typed, field)) else { return Some(None) };
    let form = time::macros::format_description!("[year]-[month]-[day]");
    if time::Date::parse(&words, form).is_err() {
        complaints.add(field, format!("{words} is no day; write it as 2026-11-25"));
        return None;
    }
    Some(Some(words))
}

/// A size as typed, and in both systems.
pub(super) fn shown(typed: &str, mm: f64) -> String {
    format!("{typed} = {}", both_lengths(mm))
}

/// A wire size as typed, in both systems and in the gauges.
pub(super) fn shown_wire(typed: &str, mm: f64) -> String {
    format!("{typed} = {}", in_both_systems(Length::from_mm(mm)))
}

/// The form of a record from pairs of field and text.
pub(super) fn typed_from<const N: usize>(pairs: [(&str, String); N]) -> Typed {
    pairs.into_iter().map(|(field, text)| (field.to_owned(), text)).collect()
}

/// A tick as a form sends it.
pub(super) fn tick(set: bool) -> String {
    if set { "yes".to_owned() } else { String::new() }
}
