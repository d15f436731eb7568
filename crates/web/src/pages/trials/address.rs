//! What a list of trials shows, as it stands in the address, so that it can be bookmarked.

use std::fmt::Write as _;

use linkwright_calc::metal::{Catalogue, Hardness};
use linkwright_store::Id;
use linkwright_store::records::Outcome;
use linkwright_store::trials::{DateOrder, TrialFilter, TrialKey, read_date};
use serde::Deserialize;

use super::metal_name;
use super::query::{Understood, in_words, size_of, understand};
use crate::form::{Complaints, given};

/// The fields of the search form; "" where nothing is asked.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(default)]
pub(super) struct Address {
    pub(super) q: String,
    pub(super) metal: String,
    pub(super) temper: String,
    pub(super) blade: String,
    pub(super) wire: String,
    pub(super) rod: String,
    pub(super) outcome: String,
    pub(super) from: String,
    pub(super) to: String,
    /// Where the page starts: "2026-03-04.17".
    pub(super) before: String,
    /// "1" for the public version of an export or a chart.
    pub(super) public: String,
}

/// A filter that is on, and the address without it.
pub(super) struct Chip {
    pub(super) words: String,
    pub(super) without: String,
}

impl Address {
    fn pairs(&self) -> [(&'static str, &str); 10] {
        [
            ("q", &self.q),
            ("metal", &self.metal),
            ("temper", &self.temper),
            ("blade", &self.blade),
            ("wire", &self.wire),
            ("rod", &self.rod),
            ("outcome", &self.outcome),
            ("from", &self.from),
            ("to", &self.to),
            ("before", &self.before),
        ]
    }

    /// The address of a page for these fields.
    pub(super) fn at(&self, path: &str) -> String {
        address(path, &self.pairs())
    }

    /// Where the page starts, if it does not start at the newest.
    pub(super) fn after(&self) -> Option<TrialKey> {
        let (tried_on, id) = self.before.rsplit_once('.')?;
        Some(TrialKey { tried_on: tried_on.to_owned(), id: Id::new(id.parse().ok()?) })
    }

    /// The filter, what the search box was understood as, and what is wrong with a field.
    pub(super) fn filter(&self, metals: &Catalogue) -> (TrialFilter, Understood, Complaints) {
        let mut complaints = Complaints::default();
        let understood = understand(&self.q, metals);
        let mut filter = understood.filter.clone();
        if let Some(metal) = given(&self.metal) {
            let found = metals.find(&metal).map(|metal| metal.key().as_str().to_owned());
            // A metal that is no longer known may still stand in trials.
            filter.metal = Some(found.unwrap_or(metal));
        }
        if let Some(temper) = given(&self.temper) {
            let word = Hardness::from_words(&temper).map(|hardness| hardness.word().to_owned());
            filter.temper = Some(word.unwrap_or(temper));
        }
        filter.blade = given(&self.blade).or(filter.blade);
        for (field, typed, is_wire) in [("wire", &self.wire, true), ("rod", &self.rod, false)] {
            if let Some(typed) = given(typed) {
                filter.sizes.extend(complaints.take(field, size_of(&typed, is_wire)));
            }
        }
        if let Some(outcome) = given(&self.outcome) {
            let read = Outcome::from_word(&outcome).ok_or("choose good, poor or failed");
            filter.outcome = complaints.take("outcome", read);
        }
        for (field, typed) in [("from", &self.from), ("to", &self.to)] {
            if let Some(typed) = given(typed)
                && let Some(day) = complaints.take(field, read_date(&typed, DateOrder::Asked))
            {
                let day = Some(day.to_string());
                if field == "from" { filter.from = day } else { filter.to = day }
            }
        }
        (filter, understood, complaints)
    }

    /// The filters that are on.
    pub(super) fn chips(&self, metals: &Catalogue) -> Vec<Chip> {
        let mut chips = Vec::new();
        let mut add = |words: String, without: fn(&mut Address)| {
            let mut rest = Address { before: String::new(), ..self.clone() };
            without(&mut rest);
            chips.push(Chip { words, without: rest.at("/trials") });
        };
        let is = |text: &str| !text.trim().is_empty();
        let size = |typed: &str, is_wire| match size_of(typed, is_wire) {
            Ok(clue) => format!("{typed}: {}", in_words(&clue)),
            Err(_) => typed.to_owned(),
        };
        if is(&self.q) {
            add(format!("search: {}", self.q.trim()), |rest| rest.q.clear());
        }
        if is(&self.metal) {
            add(metal_name(metals, &self.metal), |rest| rest.metal.clear());
        }
        if is(&self.temper) {
            add(format!("temper {}", self.temper), |rest| rest.temper.clear());
        }
        if is(&self.blade) {
            add(format!("blade {}", self.blade), |rest| rest.blade.clear());
        }
        if is(&self.wire) {
            add(size(&self.wire, true), |rest| rest.wire.clear());
        }
        if is(&self.rod) {
            add(size(&self.rod, false), |rest| rest.rod.clear());
        }
        if is(&self.outcome) {
            add(format!("went {}", self.outcome), |rest| rest.outcome.clear());
        }
        if is(&self.from) {
            add(format!("from {}", self.from), |rest| rest.from.clear());
        }
        if is(&self.to) {
            add(format!("until {}", self.to), |rest| rest.to.clear());
        }
        chips
    }
}

/// A path with the fields that say something.
pub(super) fn address(path: &str, pairs: &[(&str, &str)]) -> String {
    let mut out = path.to_owned();
    let mut join = '?';
    for (name, value) in pairs {
        if value.trim().is_empty() {
            continue;
        }
        out.push(join);
        join = '&';
        let _ = write!(out, "{name}=");
        for byte in value.trim().bytes() {
            if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
                out.push(char::from(byte));
            } else {
                let _ = write!(out, "%{byte:02X}");
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::Address;

    #[test]
    fn an_address_says_only_what_is_asked_and_spells_signs_out() {
        let address =
            Address { q: "3/16\" on 6".into(), metal: "brass".into(), ..Address::default() };
        assert_eq!(address.at("/trials"), "/trials?q=3%2F16%22%20on%206&metal=brass");
        assert_eq!(Address::default().at("/trials"), "/trials");
    }
}
