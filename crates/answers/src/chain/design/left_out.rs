//! What was not taken into account, and why, in words.

use linkwright_calc::money::Currency;

use super::companions::{FAR, NEAREST};

/// What was left out of a search.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeftOut {
    /// Wires on rods that give no ring, each with why.
    pub no_ring: Vec<String>,
    /// Rings, pattern by pattern, that are too small for it.
    pub too_small: usize,
    /// Rings, pattern by pattern, so large that the chain would hang loose.
    pub loose: usize,
    /// Rings, pattern by pattern, that are larger than the table reaches, where there is no closed form.
    pub beyond_table: usize,
    /// Rings of which a pattern of several sizes finds no smaller ones to go with them.
    pub no_companions: usize,
    /// Rings that go, but have no price in the currency that was asked for.
    pub unpriced: usize,
    /// Patterns of one's own, which no table knows.
    pub own_patterns: usize,
    /// That currency.
    pub currency: Option<Currency>,
    /// Whether patterns of several ring sizes were among those looked at.
    pub several_sizes: bool,
}

impl LeftOut {
    /// All of it in sentences, with counts; wires that give no ring are listed apart.
    pub fn sentences(&self) -> Vec<String> {
        let mut said = Vec::new();
        let mut count = |number: usize, why: &str| {
            if number > 0 {
                let pairings =
                    if number == 1 { "1 pairing".to_owned() } else { format!("{number} pairings") };
                said.push(format!("{pairings} of a ring and a pattern: {why}"));
            }
        };
        count(self.too_small, "the ring is too small for the pattern");
        count(
            self.loose,
            "the chain would hang loose, its aspect ratio beyond twice the pattern's smallest and one; \
             ask for loose ones too to see them",
        );
        count(
            self.beyond_table,
            "the ring is larger than 12 of its wires, where the solved table ends; the page of the \
             pattern and `linkwright chain` solve any one of these",
        );
        count(
            self.no_companions,
            "no ring of the same metal is near enough to the pattern's smaller size and goes together \
             with it",
        );
        let currency = self.currency.map_or_else(String::new, |currency| format!(" in {currency}"));
        count(self.unpriced, &format!("the wire has no price{currency} on record"));
        if self.own_patterns > 0 {
            let patterns = match self.own_patterns {
                1 => "1 pattern of your own: no table knows it".to_owned(),
                many => format!("{many} patterns of your own: no table knows them"),
            };
            said.push(format!("{patterns}; open its page to have it solved for your rings"));
        }
        if self.several_sizes {
            said.push(format!(
                "patterns of two ring sizes are tried with the {NEAREST} smaller rings nearest to \
                 their own proportions (at most {:.0} % off), those of more sizes with the nearest \
                 alone; other sets may come nearer to what is wanted",
                100.0 * (FAR - 1.0)
            ));
        }
        said
    }
}
