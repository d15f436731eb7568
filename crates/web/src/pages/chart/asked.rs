//! What the chart is asked for, as it stands in the address.

use std::fmt::Write as _;

use serde::Deserialize;

/// The fields of the form above the chart; "" where nothing is asked.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Asked {
    /// Key of the metal.
    pub(super) metal: String,
    pub(super) temper: String,
    /// "best", "blade", "difference", "doubt" or "tried".
    pub(super) view: String,
    /// Kind of blade that is looked at alone, or first.
    pub(super) blade: String,
    /// Kind of blade it is compared with.
    pub(super) with: String,
    /// Wire of one cell, mm.
    pub(super) wire: String,
    /// Rod of one cell, mm.
    pub(super) rod: String,
}

/// What a cell of the chart shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// The best blade of all.
    Best,
    /// One blade.
    Blade,
    /// By how much one blade is better than another.
    Difference,
    /// How wide the band is.
    Doubt,
    /// How often it was tried.
    Tried,
}

impl Look {
    /// All, with the word in the address and the words on the page.
    pub(super) const ALL: [(Look, &'static str, &'static str); 5] = [
        (Look::Best, "best", "the best blade"),
        (Look::Blade, "blade", "one blade"),
        (Look::Difference, "difference", "two blades compared"),
        (Look::Doubt, "doubt", "how wide the doubt is"),
        (Look::Tried, "tried", "what was tried"),
    ];
}

impl Look {
    /// In words.
    pub(super) fn words(self) -> &'static str {
        Look::ALL.into_iter().find(|(look, ..)| *look == self).map_or("", |(.., words)| words)
    }
}

impl Asked {
    pub(super) fn look(&self) -> Look {
        let asked = Look::ALL.into_iter().find(|(_, word, _)| *word == self.view);
        asked.map_or(Look::Best, |(look, ..)| look)
    }

    /// The address of the chart for the same metal and temper.
    pub(super) fn chart(&self) -> String {
        self.with_metal("/chart?view=best".to_owned())
    }

    /// The address of what to try next of the same metal and temper.
    pub(super) fn next(&self) -> String {
        self.with_metal("/chart/next?view=best".to_owned())
    }

    /// The address of a cell under the same metal and temper.
    pub(super) fn cell(&self, wire_mm: f64, rod_mm: f64) -> String {
        self.with_metal(format!("/chart/cell?wire={wire_mm:.4}&rod={rod_mm:.4}"))
    }

    fn with_metal(&self, mut address: String) -> String {
        for (name, value) in [("metal", &self.metal), ("temper", &self.temper)] {
            let _ = write!(address, "&{name}={}", crate::pages::rings::in_address(value));
        }
        address
    }
}
