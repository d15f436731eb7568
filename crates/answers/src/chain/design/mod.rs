//! Design the other way round: wanted width, thickness, mass or cost -> the wires, rods and patterns
//! that give it.
//!
//! Every wire in stock is put on every rod owned; the ring it gives, sprung open and closed again, comes
//! from the bench's own formulas. Every pattern is then read from the solved table, or by closed form
//! where it takes several ring sizes or its rings lie beyond the table.

mod own_rings;

mod wanted;

mod typed;

mod given;

mod companions;

mod repertoire;

mod left_out;

mod basis;

mod json;

pub use companions::{FAR, NEAREST};
pub use given::{Given, GivesNothing, LOOSE_MORE, LOOSE_TIMES, ReadFrom};
pub use json::designs_as_json;
pub use left_out::LeftOut;
pub use own_rings::{OwnPrice, OwnRing, OwnRings};
pub use repertoire::Repertoire;
pub use typed::{DesignComplaint, DesignField, DesignRead, DesignTyped};
pub use wanted::{Aim, DesignWanted, Miss};

use std::sync::Arc;

use linkwright_linkage::pattern::Kind;

use repertoire::{Pairing, READABLE, closed};
use wanted::farthest;

/// A ring of a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct PartRing {
    /// The ring.
    pub ring: Arc<OwnRing>,
    /// Rings of this size in a cell.
    pub per_cell: usize,
}

/// The same chain with its main ring off another rod.
#[derive(Clone, Debug, PartialEq)]
pub struct NextRod {
    /// The main ring.
    pub ring: Arc<OwnRing>,
    /// What it gives, or why it gives nothing.
    pub gives: Result<Given, GivesNothing>,
}

/// One answer: a pattern in its rings.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// Key of the pattern.
    pub pattern: String,
    /// One line a jeweller reads.
    pub title: String,
    /// Chain or sheet.
    pub kind: Kind,
    /// Smallest aspect ratio of the main ring; `None` where only solving would tell.
    pub least: Option<f64>,
    /// The rings, the main size first.
    pub rings: Vec<PartRing>,
    /// What they give.
    pub gives: Given,
    /// The main ring off the next thicker rod owned, and off the next thinner.
    pub next: [Option<NextRod>; 2],
    /// What was wanted beside what is given.
    pub misses: Vec<Miss>,
    /// How far off the farthest of these is, as a share of it.
    pub off: f64,
    /// Whether the aspect ratio is so near the smallest that the last ring may not go in.
    pub tight: bool,
    /// Whether the rings are so large that the chain hangs loose.
    pub loose: bool,
}

/// The answers, nearest first, and what could not be used.
#[derive(Clone, Debug, Default)]
pub struct Designs {
    /// Nearest first, as many as were asked for.
    pub found: Vec<Design>,
    /// Pairings of rings and a pattern that go, whether shown or not.
    pub looked_at: usize,
    /// What was left out.
    pub left_out: LeftOut,
}

/// The wires, rods and patterns that come nearest to what is wanted, the nearest first, at most so many.
///
/// Where nothing is wanted every pairing is as near as any other, and they come by pattern. Of equally
/// near ones those that leave room for the last ring come first.
pub fn design(wanted: &DesignWanted, repertoire: &Repertoire, most: usize) -> Designs {
    let is_wanted = |metal: &str| wanted.metal.as_deref().is_none_or(|key| key == metal);
    let looked_through = |pattern: usize| {
        let pattern = &READABLE[pattern].pattern;
        pattern.kind() == wanted.kind && wanted.takes(pattern.name())
    };
    let no_ring = &repertoire.own.no_ring;
    let mut left_out = LeftOut {
        no_ring: no_ring
            .iter()
            .filter(|(metal, _)| is_wanted(metal))
            .map(|(_, said)| said.clone())
            .collect(),
        own_patterns: if wanted.patterns.is_empty() {
            repertoire.own_patterns.iter().filter(|kind| **kind == wanted.kind).count()
        } else {
            0
        },
        currency: wanted.cost.map(|(_, currency)| currency),
        ..LeftOut::default()
    };
    for ((pattern, metal), refused) in &repertoire.refused {
        if looked_through(*pattern) && is_wanted(metal) {
            left_out.too_small += refused.too_small;
            left_out.beyond_table += refused.beyond_table;
            left_out.no_companions += refused.no_companions;
            left_out.several_sizes |= !READABLE[*pattern].is_of_one_size();
        }
    }
    let mut near: Vec<(f64, &Pairing)> = Vec::new();
    for pairing in &repertoire.pairings {
        if looked_through(pairing.pattern) && is_wanted(&pairing.parts[0].ring.metal) {
            match wanted.misses(&pairing.gives) {
                Some(_) if pairing.loose && !wanted.loose => left_out.loose += 1,
                Some(misses) => near.push((farthest(&misses), pairing)),
                None => left_out.unpriced += 1,
            }
        }
    }
    near.sort_by(|(a, one), (b, other)| a.total_cmp(b).then(one.tight.cmp(&other.tight)));
    let found = near
        .iter()
        .take(most)
        .filter_map(|(off, pairing)| {
            let misses = wanted.misses(&pairing.gives)?;
            Some(told(pairing, misses, *off, repertoire))
        })
        .collect();
    Designs { found, looked_at: near.len(), left_out }
}

/// A pairing with the rods next to it.
fn told(pairing: &Pairing, misses: Vec<Miss>, off: f64, repertoire: &Repertoire) -> Design {
    let readable = &READABLE[pairing.pattern];
    let correction = repertoire.corrections.get(readable.pattern.name());
    let [lot, rod] = pairing.at;
    let next_to = |rod: Option<usize>| {
        let ring = repertoire.own.lots[lot].get(rod?)?;
        let mut parts = pairing.parts.clone();
        parts[0].ring = Arc::clone(ring);
        let gives = readable.given(&parts, correction);
        Some(NextRod { ring: Arc::clone(ring), gives })
    };
    let spec = readable.pattern.spec();
    Design {
        pattern: spec.name.clone(),
        title: spec.title.clone(),
        kind: readable.pattern.kind(),
        least: readable.least(&closed(&pairing.parts)),
        next: [next_to(rod.checked_add(1)), next_to(rod.checked_sub(1))],
        rings: pairing.parts.clone(),
        gives: pairing.gives,
        misses,
        off,
        tight: pairing.tight,
        loose: pairing.loose,
    }
}

impl Design {
    /// The main ring.
    pub fn main(&self) -> &OwnRing {
        &self.rings[0].ring
    }
}

#[cfg(test)]
mod tests;
