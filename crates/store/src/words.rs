//! A word somebody looks for, as the indexes of words and `like` take it.

/// A word as the index of words takes it: all that stands in it three letters in a row. `None` for
/// a shorter word, which the index does not know.
pub(crate) fn in_threes(word: &str) -> Option<String> {
    let letters: Vec<char> = word.chars().collect();
    let threes = letters.windows(3).map(|three| {
        let three: String = three.iter().collect();
        format!("\"{}\"", three.replace('"', "\"\""))
    });
    let threes: Vec<String> = threes.collect();
    (!threes.is_empty()).then(|| threes.join(" AND "))
}

/// A word as `like` takes it for itself.
pub(crate) fn escaped(word: &str) -> String {
    word.replace('\\', "\\\\").replace('%', "\\%").replace('_', "\\_")
}

/// The same standing anywhere in a text.
pub(crate) fn anywhere(word: &str) -> String {
    format!("%{}%", escaped(word))
}

#[cfg(test)]
mod tests {
    use super::{anywhere, in_threes};

    #[test]
    fn a_percent_sign_that_was_typed_is_looked_for_as_it_stands() {
        assert_eq!(anywhere("10 %"), "%10 \\%%");
    }

    #[test]
    fn a_word_is_taken_three_letters_at_a_time_and_a_short_one_not_at_all() {
        assert_eq!(in_threes("tape").as_deref(), Some("\"tap\" AND \"ape\""));
        assert_eq!(in_threes("a\"b").as_deref(), Some("\"a\"\"b\""));
        assert_eq!(in_threes("ab"), None);
    }
}
