//! Everything the workshop can link: every pattern in every set of rings that goes together.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use linkwright_linkage::answer::{ClosedRing, Correction};
use linkwright_linkage::pattern::{Kind, Pattern, craft};

use super::companions::companions;
use super::given::{Given, GivesNothing, Readable};
use super::{OwnRing, OwnRings, PartRing};
use crate::chain::OwnKnown;

/// Every pattern that comes with the tool and repeats.
pub(super) static READABLE: LazyLock<Vec<Readable>> = LazyLock::new(|| {
    let patterns = craft::all().into_iter().filter_map(|spec| Pattern::new(spec).ok());
    patterns.filter_map(Readable::new).collect()
});

/// Room above the smallest aspect ratio that makers leave. Common practice, no source: 0.1 to 0.3.
const MARGIN: f64 = 0.1;

/// Everything a workshop can link, worked out once; what is wanted is then a matter of looking through.
#[derive(Clone, Debug, Default)]
pub struct Repertoire {
    pub(super) own: OwnRings,
    /// What measured pieces taught of the lengths of patterns, by their keys.
    pub(super) corrections: BTreeMap<String, Correction>,
    pub(super) pairings: Vec<Pairing>,
    /// Kinds of the workshop's own patterns, which no table knows.
    pub(super) own_patterns: Vec<Kind>,
    /// By place of the pattern and key of the metal.
    pub(super) refused: BTreeMap<(usize, String), Refused>,
}

/// A pattern in rings that go together.
#[derive(Clone, Debug)]
pub(super) struct Pairing {
    /// Place of the pattern in [`READABLE`].
    pub(super) pattern: usize,
    pub(super) parts: Vec<PartRing>,
    /// The lot and the rod of the main ring.
    pub(super) at: [usize; 2],
    pub(super) gives: Given,
    /// Whether its rings are so near the smallest that the last one may not go in.
    pub(super) tight: bool,
    /// Whether they are so large that it hangs loose.
    pub(super) loose: bool,
}

/// Rings of one metal that give nothing in one pattern.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Refused {
    pub(super) too_small: usize,
    pub(super) beyond_table: usize,
    pub(super) no_companions: usize,
}

impl Repertoire {
    /// Tries every pattern in the rings of a workshop; measured pieces correct the lengths of theirs.
    pub fn of(own: OwnRings, corrections: BTreeMap<String, Correction>) -> Repertoire {
        let mut all = Repertoire { own, corrections, ..Repertoire::default() };
        let (mut pairings, mut refused) = (Vec::new(), BTreeMap::new());
        for (pattern, readable) in READABLE.iter().enumerate() {
            let correction = all.corrections.get(readable.pattern.name());
            for (lot, rings) in all.own.lots.iter().enumerate() {
                let Some(first) = rings.first() else { continue };
                let out: &mut Refused = refused.entry((pattern, first.metal.clone())).or_default();
                for (rod, main) in rings.iter().enumerate() {
                    let sets = sets(readable, main, &all.own);
                    out.no_companions += usize::from(sets.is_empty());
                    for parts in sets {
                        match readable.given(&parts, correction) {
                            Err(GivesNothing::TooSmall) => out.too_small += 1,
                            Err(GivesNothing::BeyondTable) => out.beyond_table += 1,
                            Ok(gives) => {
                                let tight = is_tight(readable, &parts);
                                let at = [lot, rod];
                                let loose = readable.is_loose(main.ring.as_closed());
                                pairings.push(Pairing { pattern, parts, at, gives, tight, loose });
                            }
                        }
                    }
                }
            }
        }
        (all.pairings, all.refused) = (pairings, refused);
        all
    }

    /// The same, knowing of patterns of one's own: no table knows them, so that they are counted as left
    /// out.
    #[must_use]
    pub fn beside(mut self, own: &[OwnKnown]) -> Repertoire {
        let usable = own.iter().filter_map(|own| own.found.as_ref().ok());
        self.own_patterns = usable.map(|(pattern, _)| pattern.kind()).collect();
        self
    }

    /// The rings it is made of.
    pub const fn rings(&self) -> &OwnRings {
        &self.own
    }
}

/// The sets of rings to try with a main ring.
fn sets(readable: &Readable, main: &Arc<OwnRing>, own: &OwnRings) -> Vec<Vec<PartRing>> {
    if readable.is_of_one_size() {
        return vec![vec![PartRing { ring: Arc::clone(main), per_cell: readable.per_cell[0] }]];
    }
    let of_the_metal = own.by_metal.get(&main.metal).map_or(&[][..], Vec::as_slice);
    companions(readable, main, of_the_metal)
}

pub(super) fn closed(parts: &[PartRing]) -> Vec<ClosedRing> {
    parts.iter().map(|part| part.ring.ring.as_closed()).collect()
}

fn is_tight(readable: &Readable, parts: &[PartRing]) -> bool {
    let rings = closed(parts);
    readable.least(&rings).is_some_and(|least| rings[0].aspect_ratio() - least < MARGIN)
}
