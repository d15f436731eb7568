//! What is wrong with a pattern as a whole, placed at the line of its file.

use linkwright_linkage::pattern::find::Nearest;
use linkwright_linkage::pattern::{Image, PatternError};

use super::described::Described;
use super::entry::ThroughEntry;
use crate::files::document::{Document, FileError};
use toml::Spanned;

impl Described {
    /// The error of the pattern as an error of the file, with rings by their names.
    pub(super) fn placed(&self, error: &PatternError) -> FileError {
        let repeat = self.document.within("repeat");
        match *error {
            PatternError::LinkDiffers { link, first, second, copy, measured, .. } => {
                self.link_differs(link, (first, second, copy), measured)
            }
            PatternError::LinkNotListed { first, second, copy, measured } => {
                let side = if measured > 0 { "back" } else { "front" };
                let message = format!(
                    "in the rough places it also passes through \"{}\"{}, from the {side}; list that, \
                     or move the rings apart",
                    self.ring_name(first),
                    back_words(copy)
                );
                self.at_ring(second, "name", &message)
            }
            PatternError::Touching { first, second, copy, .. } => {
                let message = format!(
                    "in the rough places it (nearly) touches \"{}\"{}; move one so that it is plain \
                     how they are linked",
                    self.ring_name(first),
                    back_words(copy)
                );
                self.at_ring(second, "centre_mm", &message)
            }
            PatternError::Loose { ring } => {
                let message = "it is not linked with the other rings, not even by way of others";
                self.at_ring(ring, "name", message)
            }
            PatternError::RingPlace { ring } => {
                self.at_ring(ring, "normal", "it must not be zero all three times")
            }
            PatternError::LinkTwice { link, earlier } => {
                let side = |number| {
                    let (_, entry) = self.link_entry(number)?;
                    Some(entry.get_ref().from.as_ref()?.get_ref().clone())
                };
                let message = match (side(link), side(earlier)) {
                    (Some(one), Some(other)) if one != other => format!(
                        "link {earlier} of the file has it pass through the same ring from the {other}; \
                         keep the one that is meant"
                    ),
                    _ => format!("it says the same as link {earlier} of the file"),
                };
                self.at_link(link, &message)
            }
            PatternError::RepeatsLoose { what } => {
                let message = format!(
                    "nothing links {what}: some ring must pass through one of an earlier repeat, with \
                     back = 1"
                );
                repeat.wrong("as", &self.file.repeat.kind, &message)
            }
            PatternError::TooClose { .. } => match &self.file.repeat.along_mm {
                Some(typed) => repeat.wrong("along_mm", typed, &error.to_string()),
                None => self.whole(&error.to_string()),
            },
            _ => self.whole(&error.to_string()),
        }
    }

    /// No way to lay the rings was found; placed where the nearest differs from the file.
    pub(super) fn not_found(&self, tries: u32, nearest: &Nearest) -> FileError {
        let none = format!("no way to lay the rings was found in {tries} tries");
        let rough = "or give every ring a rough place";
        if let Some(&link) = nearest.lacking.first() {
            let more = match nearest.lacking.len() {
                1 => String::new(),
                lacking => format!(" and {} more", lacking - 1),
            };
            let message = format!(
                "{none}; the nearest lacks this link{more}: it may be one too many, or come from the other \
                 side; correct it, {rough}"
            );
            return self.at_link(link, &message);
        }
        if let Some(beyond) = nearest.beyond.first() {
            let message = format!(
                "{none}; in the nearest it also passes through \"{}\"{}: list that, {rough}",
                self.ring_name(beyond.first + 1),
                back_words(beyond.image)
            );
            return self.at_ring(beyond.second + 1, "name", &message);
        }
        self.whole(&format!("{none}; check the sides from which rings are passed, {rough}"))
    }

    /// Something about the pattern that no single line says, placed at its key.
    pub fn wrong_as_a_whole(&self, message: &str) -> FileError {
        self.whole(message)
    }

    /// Something about the pattern that no single line says.
    pub(super) fn whole(&self, message: &str) -> FileError {
        self.document.wrong("pattern", &self.file.pattern, message)
    }

    /// The file asks for a chain beyond those found.
    pub(super) fn no_such_chain(&self, found: usize) -> FileError {
        let message = format!("only {found} were found, counted from 1, the loosest first");
        match &self.file.which {
            Some(typed) => self.document.wrong("which", typed, &message),
            None => self.whole(&message),
        }
    }

    fn ring_name(&self, number: usize) -> &str {
        let ring = number.checked_sub(1).and_then(|index| self.file.ring.get(index));
        ring.map_or("", |ring| ring.name.get_ref())
    }

    fn at_ring(&self, number: usize, field: &str, message: &str) -> FileError {
        let Some(ring) = number.checked_sub(1).and_then(|index| self.file.ring.get(index)) else {
            return self.whole(message);
        };
        let within = self.document.within(&format!("ring \"{}\"", ring.name.get_ref()));
        match (field, &ring.centre_mm, &ring.normal) {
            ("centre_mm", Some(typed), _) => within.wrong(field, typed, message),
            ("normal", _, Some(typed)) => within.wrong(field, typed, message),
            _ => within.wrong("name", &ring.name, message),
        }
    }

    /// The entry of a link by its number, with the part of the file it stands in.
    fn link_entry(&self, number: usize) -> Option<(Document, &Spanned<ThroughEntry>)> {
        let mut entries = self.file.ring.iter().flat_map(|ring| {
            ring.through.iter().map(move |through| (ring.name.get_ref(), through))
        });
        let (ring, entry) = entries.nth(number.checked_sub(1)?)?;
        Some((self.document.within(&format!("ring \"{ring}\"")), entry))
    }

    fn at_link(&self, number: usize, message: &str) -> FileError {
        match self.link_entry(number) {
            Some((within, entry)) => within.wrong("through", entry, message),
            None => self.whole(message),
        }
    }

    fn link_differs(
        &self,
        link: usize,
        (first, second, copy): (usize, usize, Image),
        measured: i8,
    ) -> FileError {
        let (new, earlier) = (self.ring_name(second), self.ring_name(first));
        let back = back_words(copy);
        if measured == 0 {
            let message = format!(
                "in the rough places \"{new}\" does not pass through \"{earlier}\"{back}; move the \
                 rings, or take this out"
            );
            return self.at_link(link, &message);
        }
        let side = if measured > 0 { "back" } else { "front" };
        let message = format!(
            "in the rough places \"{new}\" passes through \"{earlier}\"{back} from the {side}; say \
             from = \"{side}\", or turn a normal round"
        );
        self.at_link(link, &message)
    }
}

fn back_words(copy: Image) -> String {
    match copy {
        [0, 0] => String::new(),
        [1, 0] => " of the repeat before".to_owned(),
        [along, 0] => format!(" of the repeat {along} back"),
        [along, across] => format!(" of the repeat {along} back, {across} rows back"),
    }
}
