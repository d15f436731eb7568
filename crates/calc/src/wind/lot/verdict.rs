//! What a choice of mandrels comes to, in a sentence.

use std::fmt;

use super::choose::{Candidate, RodWanted};
use super::prior::WireState;
use crate::quantity::Length;
use crate::wind::Mandrel;

/// The choice of mandrels in short.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Verdict {
    /// An owned mandrel hits within the tolerance.
    Owned {
        /// The mandrel.
        mandrel: Mandrel,
        /// The wire as bought or annealed.
        state: WireState,
        /// Inside diameter to expect.
        inside_diameter: Length,
        /// Chance of a ring within the tolerance.
        chance: f64,
    },
    /// No owned mandrel hits, but a drill shank of a whole tenth of a millimetre does.
    Shank {
        /// The shank.
        mandrel: Mandrel,
        /// The wire as bought or annealed.
        state: WireState,
        /// Inside diameter to expect.
        inside_diameter: Length,
        /// Chance of a ring within the tolerance.
        chance: f64,
    },
    /// Neither does, but some odd rod would.
    OddRod {
        /// The rod.
        mandrel: Mandrel,
        /// The wire as bought or annealed.
        state: WireState,
    },
    /// No rod gives the size from this wire.
    NoRod,
}

impl Verdict {
    pub(super) fn of(candidates: &[Candidate], rods: &[RodWanted]) -> Verdict {
        if let Some(best) = candidates.first().filter(|best| best.within_tolerance) {
            return Verdict::Owned {
                mandrel: best.mandrel,
                state: best.state,
                inside_diameter: best.ring.value.inside_diameter,
                chance: best.chance,
            };
        }
        let shank = rods
            .iter()
            .filter_map(|rod| rod.shanks.first())
            .filter(|shank| shank.within_tolerance)
            // `max_by` keeps the last of equals; the wire as bought is wanted, so from the end.
            .rev()
            .max_by(|a, b| a.chance.total_cmp(&b.chance));
        if let Some(best) = shank {
            return Verdict::Shank {
                mandrel: best.mandrel,
                state: best.state,
                inside_diameter: best.ring.value.inside_diameter,
                chance: best.chance,
            };
        }
        rods.iter()
            .find_map(|rod| {
                rod.mandrel.map(|mandrel| Verdict::OddRod { mandrel, state: rod.state })
            })
            .unwrap_or(Verdict::NoRod)
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Verdict::Owned { mandrel, state, inside_diameter, chance } => write!(
                f,
                "wind {} on {:.2} mm: expect {:.2} mm, {:.0} % of rings within the tolerance",
                state.word(),
                mandrel.diameter().mm(),
                inside_diameter.mm(),
                100.0 * chance
            ),
            Verdict::Shank { mandrel, state, inside_diameter, chance } => write!(
                f,
                "no mandrel of yours hits this size; a {:.1} mm drill shank would: wind {} on it, \
                 expect {:.2} mm, {:.0} % of rings within the tolerance",
                mandrel.diameter().mm(),
                state.word(),
                inside_diameter.mm(),
                100.0 * chance
            ),
            Verdict::OddRod { mandrel, state } => write!(
                f,
                "no mandrel of yours and no drill shank hits this size; a rod of {:.2} mm would, \
                 with the wire {}",
                mandrel.diameter().mm(),
                state.word()
            ),
            Verdict::NoRod => f.write_str(
                "no rod gives this size from this wire: it springs back too far; anneal it, or \
                 choose thicker wire or a larger ring",
            ),
        }
    }
}
