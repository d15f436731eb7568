//! Typed text brought to one spelling before it is read.

use super::{QuantityError, Wanted};

/// No quantity is longer than the longest number that prints back: a double needs 330 characters.
const CHARS_MAX: usize = 400;

/// The text in small letters and plain signs, single blanks between words.
pub(crate) fn plain(typed: &str, wanted: Wanted) -> Result<String, QuantityError> {
    let chars = typed.chars().count();
    if chars > CHARS_MAX {
        return Err(QuantityError::TooLong { chars, chars_max: CHARS_MAX });
    }
    let mut out = String::with_capacity(typed.len());
    for letter in typed.chars().flat_map(char::to_lowercase) {
        match letter {
            // Quotation marks that telephones put for inch and foot signs.
            '\u{2033}' | '\u{201c}' | '\u{201d}' => out.push('"'),
            '\u{2032}' | '\u{2018}' | '\u{2019}' => out.push('\''),
            '\u{2212}' | '\u{2013}' => out.push('-'),
            '\u{2044}' => out.push('/'),
            '\u{b5}' | '\u{3bc}' => out.push('u'),
            '\u{bc}' => out.push_str(" 1/4"),
            '\u{bd}' => out.push_str(" 1/2"),
            '\u{be}' => out.push_str(" 3/4"),
            '\u{215b}' => out.push_str(" 1/8"),
            '\u{215c}' => out.push_str(" 3/8"),
            '\u{215d}' => out.push_str(" 5/8"),
            '\u{215e}' => out.push_str(" 7/8"),
            other if other.is_whitespace() => out.push(' '),
            other => out.push(other),
        }
    }
    let words: Vec<&str> = out.split(' ').filter(|word| !word.is_empty()).collect();
    let joined = words.join(" ").replace("''", "\"");
    if joined.is_empty() {
        return Err(QuantityError::Empty { wanted });
    }
    Ok(joined)
}

/// The words of a unit: full stops and brackets dropped.
pub(crate) fn words(text: &str) -> Vec<String> {
    text.split([' ', '(', ')'])
        .map(|word| word.replace('.', ""))
        .filter(|word| !word.is_empty())
        .collect()
}
