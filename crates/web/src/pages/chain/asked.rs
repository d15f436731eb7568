//! What the address asks: every field as typed.

use std::collections::BTreeMap;

use axum::http::Uri;

/// Longest text a field may hold.
const LETTERS_MOST: usize = 200;

/// Names of the fields of each ring size beyond the first, as many as a pattern file may have.
pub(super) const FURTHER: [(&str, &str); 11] = [
    ("wire2", "inside2"),
    ("wire3", "inside3"),
    ("wire4", "inside4"),
    ("wire5", "inside5"),
    ("wire6", "inside6"),
    ("wire7", "inside7"),
    ("wire8", "inside8"),
    ("wire9", "inside9"),
    ("wire10", "inside10"),
    ("wire11", "inside11"),
    ("wire12", "inside12"),
];

/// Fields of the page; those of further ring sizes carry the number of the size.
pub(super) const FIELDS: [&str; 33] = [
    "handling", "pattern", "metal", "temper", "wire", "inside", "state", "kerf", "length",
    "across", "clasp", "wire2", "inside2", "wire3", "inside3", "wire4", "inside4", "wire5",
    "inside5", "wire6", "inside6", "wire7", "inside7", "wire8", "inside8", "wire9", "inside9",
    "wire10", "inside10", "wire11", "inside11", "wire12", "inside12",
];

/// What was typed, by name of the field.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Asked {
    typed: BTreeMap<&'static str, String>,
}

impl Asked {
    /// Of what stands behind the question mark; what is no field of ours is left out.
    pub(super) fn of(typed: &BTreeMap<String, String>) -> Asked {
        let kept = FIELDS.into_iter().filter_map(|field| {
            let text = typed.get(field)?.trim();
            let shown: String = text.chars().take(LETTERS_MOST).collect();
            (!shown.is_empty()).then_some((field, shown))
        });
        Asked { typed: kept.collect() }
    }

    pub(super) fn at(&self, field: &str) -> &str {
        self.typed.get(field).map_or("", String::as_str)
    }

    /// The same with a field that was left blank filled in.
    pub(super) fn or(mut self, field: &'static str, text: impl Into<String>) -> Asked {
        self.typed.entry(field).or_insert_with(|| text.into());
        self
    }

    /// The same with a field changed; blank takes it out.
    pub(super) fn with(mut self, field: &'static str, text: &str) -> Asked {
        if text.is_empty() {
            self.typed.remove(field);
        } else {
            self.typed.insert(field, text.to_owned());
        }
        self
    }

    /// The address of a page that asks this.
    pub(super) fn address(&self, page: &str) -> String {
        address(page, self.typed.iter().map(|(field, text)| (*field, text.as_str())))
    }
}

/// An address with what stands behind its question mark.
pub(super) fn address<'a>(page: &str, pairs: impl Iterator<Item = (&'a str, &'a str)>) -> String {
    let mut address = page.to_owned();
    for (at, (field, text)) in pairs.enumerate() {
        address.push(if at == 0 { '?' } else { '&' });
        address.push_str(field);
        address.push('=');
        for byte in text.bytes() {
            match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => {
                    address.push(char::from(byte));
                }
                _ => address.push_str(&format!("%{byte:02X}")),
            }
        }
    }
    debug_assert!(address.parse::<Uri>().is_ok(), "{address}");
    address
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::{Asked, FIELDS, FURTHER};

    #[test]
    fn every_ring_size_has_its_fields() {
        for ((wire, inside), size) in FURTHER.into_iter().zip(2..) {
            assert_eq!((wire, inside), (&*format!("wire{size}"), &*format!("inside{size}")));
            assert!(FIELDS.contains(&wire) && FIELDS.contains(&inside), "{size}");
        }
    }

    #[test]
    fn an_address_says_again_what_was_asked_and_nothing_else() {
        let typed: BTreeMap<String, String> = [
            ("pattern", "box"),
            ("wire", "18 awg"),
            ("inside", "1/4\""),
            ("clasp", "  "),
            ("other", "x"),
        ]
        .map(|(field, text)| (field.to_owned(), text.to_owned()))
        .into();
        let asked = Asked::of(&typed);
        assert_eq!(asked.address("/chain"), "/chain?inside=1%2F4%22&pattern=box&wire=18%20awg");
        let bare = asked.with("wire", "").with("inside", "");
        assert_eq!(bare.address("/chain"), "/chain?pattern=box");
    }
}
