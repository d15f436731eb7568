//! The glossary that names everything in code and on sheets, as a page with anchors.

const SOURCE: &str = include_str!("../../../../../GLOSSARY.md");

/// A table of the glossary.
pub(super) struct Part {
    pub(super) title: &'static str,
    pub(super) words: Vec<Word>,
}

/// One word.
pub(super) struct Word {
    /// Name of its anchor.
    pub(super) anchor: String,
    pub(super) word: String,
    pub(super) meaning: String,
    /// Other names, and what it is not; "" if nothing.
    pub(super) also: String,
}

/// All tables of the glossary.
pub(super) fn parts() -> Vec<Part> {
    let sections = SOURCE.split("\n## ").skip(1);
    sections
        .map(|section| {
            let mut lines = section.lines();
            let title = lines.next().unwrap_or_default().trim();
            // The first two lines of a table are its headings and their rule.
            let rows = lines.filter(|line| line.starts_with('|')).skip(2);
            Part { title, words: rows.filter_map(|row| Word::of(title, row)).collect() }
        })
        .collect()
}

impl Word {
    fn of(title: &str, row: &str) -> Option<Word> {
        let row = row.trim().trim_matches('|');
        let cells: Vec<String> = row.split('|').map(|cell| cell.trim().replace('`', "")).collect();
        let word = cells.first().filter(|word| !word.is_empty())?.clone();
        // Quantities have their name in code between the word and its meaning.
        let (meaning, also) = match (title, cells.as_slice()) {
            ("Quantities", [_, _, meaning, ..]) => (meaning.clone(), String::new()),
            (_, [_, meaning, also, ..]) => (meaning.clone(), also.clone()),
            (_, [_, meaning]) => (meaning.clone(), String::new()),
            _ => return None,
        };
        let anchor = word.split(',').next().unwrap_or_default();
        let anchor = anchor.trim().to_lowercase().replace(' ', "-");
        Some(Word { anchor, word, meaning, also })
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::parts;

    #[test]
    fn every_word_has_a_meaning_and_an_anchor_of_its_own() {
        let parts = parts();
        assert_eq!(parts.len(), 3);
        let words: Vec<_> = parts.iter().flat_map(|part| &part.words).collect();
        assert!(words.len() > 50, "{}", words.len());
        let anchors: HashSet<_> = words.iter().map(|word| &word.anchor).collect();
        assert_eq!(anchors.len(), words.len());
        let kerf = words.iter().find(|word| word.anchor == "kerf").expect("kerf");
        assert_eq!(kerf.meaning, "width of metal the blade removes");
    }
}
