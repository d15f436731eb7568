//! What a metal or a temper is called, kept apart from other text.

use std::borrow::Cow;
use std::fmt;

/// The name of a metal or a temper: a key of the table, a trade name, or what somebody typed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name(Cow<'static, str>);

/// Several names, printed with commas.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Names(Vec<Name>);

impl Name {
    /// A name written in the source of this program.
    pub const fn of(name: &'static str) -> Name {
        Name(Cow::Borrowed(name))
    }

    /// A name that came from outside.
    pub fn typed(name: &str) -> Name {
        Name(Cow::Owned(name.to_owned()))
    }

    /// The name as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Lower case, with every run of blanks, dashes, underscores and the like as one blank: two
    /// names that differ only so are the same.
    pub(super) fn plain(text: &str) -> String {
        let words = text
            .split(|c: char| c.is_whitespace() || matches!(c, '-' | '_' | ',' | '(' | ')'))
            .filter(|word| !word.is_empty());
        words.collect::<Vec<_>>().join(" ").to_lowercase()
    }
}

impl Names {
    /// The names in order.
    pub fn as_slice(&self) -> &[Name] {
        &self.0
    }
}

impl FromIterator<Name> for Names {
    fn from_iter<I: IntoIterator<Item = Name>>(names: I) -> Names {
        Names(names.into_iter().collect())
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Display for Names {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, name) in self.0.iter().enumerate() {
            let comma = if place == 0 { "" } else { ", " };
            write!(f, "{comma}{name}")?;
        }
        Ok(())
    }
}

/// Fewest single letters to add, drop or change to make one word of the other.
pub(super) fn letters_apart(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, b) in other.iter().enumerate() {
            let change = diagonal + usize::from(a != *b);
            diagonal = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::{Name, letters_apart};

    #[test]
    fn one_slip_of_the_finger_is_one_letter_apart() {
        assert_eq!(letters_apart("sterling", "sterling"), 0);
        assert_eq!(letters_apart("stirling", "sterling"), 1);
        assert_eq!(letters_apart("", "brass"), 5);
        assert_eq!(letters_apart("bras", "brass"), 1);
    }

    #[test]
    fn case_and_dashes_do_not_make_another_name() {
        assert_eq!(Name::plain(" Half-Hard  wire"), "half hard wire");
        assert_eq!(Name::plain("brass_c260"), "brass c260");
    }
}
