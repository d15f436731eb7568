//! The chains found so far, told apart by their signs and by how thick their wire grew.

use super::Class;
use super::signs::alike;
use crate::pattern::{Cell, Pattern};

/// A chain, and how it was come by.
pub(super) struct Grown {
    pub class: Class,
    /// Fewest rings that had to be placed, the others following by symmetry.
    pub placed: usize,
}

/// Chains that count as different.
pub(super) struct Classes {
    all: Vec<Grown>,
    /// Shares by which limits differ that count as the same, whatever else;
    same_limit: f64,
    /// and if the advance is the same as well.
    near_limit: f64,
}

/// Limits of climbs driven to their end differ by less.
const GROWN_ALIKE: f64 = 5e-3;
/// Rough climbs to one limit mostly end nearer than this;
const ROUGHLY_ALIKE: f64 = 2e-4;
/// some are off by this, and tangles of another chain may lie as near: their advance tells them apart.
const ROUGHLY_NEAR: f64 = 2e-3;
const SAME_ADVANCE: f64 = 1e-2;
/// Poses that are met at least before the search may end,
const LEAST_POSES: u32 = 6;
/// and share of chains met but once up to which it does.
const NEW_SHARE: f64 = 0.1;

impl Classes {
    /// For chains grown to their end.
    pub(super) const fn alike_once_grown() -> Classes {
        Classes { all: Vec::new(), same_limit: GROWN_ALIKE, near_limit: GROWN_ALIKE }
    }

    /// For chains grown by a single quick climb.
    pub(super) const fn alike_roughly_grown() -> Classes {
        Classes { all: Vec::new(), same_limit: ROUGHLY_ALIKE, near_limit: ROUGHLY_NEAR }
    }

    /// Adds a chain to those found, or to the count of its like; the better grown one is kept.
    pub(super) fn sort_in(&mut self, found: Grown) {
        let same = self.all.iter().position(|known| self.is_same(&known.class, &found.class));
        let Some(known) = same.and_then(|at| self.all.get_mut(at)) else {
            self.all.push(found);
            return;
        };
        let times = known.class.times + found.class.times;
        known.placed = known.placed.min(found.placed);
        if found.class.aspect_ratio_min < known.class.aspect_ratio_min {
            known.class = found.class;
        }
        known.class.times = times;
    }

    fn is_same(&self, one: &Class, other: &Class) -> bool {
        let off = (one.aspect_ratio_min - other.aspect_ratio_min).abs() / one.aspect_ratio_min;
        let is_near = off < self.same_limit
            || (off < self.near_limit && have_same_advance(&one.pattern, &other.pattern));
        is_near && alike(one.pattern.spec(), other.pattern.spec())
    }

    /// Whether hardly another chain would turn up: how likely the next pose is of a new one is about
    /// the share of chains met but once among all poses.
    ///
    /// # Source
    /// The estimate of unseen kinds by Good (Biometrika 40, 1953), from memory.
    pub(super) fn are_all_known(&self) -> bool {
        let met: u32 = self.all.iter().map(|known| known.class.times).sum();
        let once = self.all.iter().filter(|known| known.class.times == 1).count();
        met >= LEAST_POSES && once as f64 <= NEW_SHARE * f64::from(met)
    }

    /// So many at most, those that most symmetry led to first; of these the thickest wire first.
    pub(super) fn most_symmetric(mut self, most: usize) -> Vec<Grown> {
        self.all.sort_by(|a, b| {
            let limits = || a.class.aspect_ratio_min.total_cmp(&b.class.aspect_ratio_min);
            a.placed.cmp(&b.placed).then_with(limits)
        });
        self.all.truncate(most);
        self.all
    }
}

fn have_same_advance(one: &Pattern, other: &Pattern) -> bool {
    let advance = |pattern: &Pattern| match pattern.spec().cell {
        Cell::Screw { period, .. } | Cell::Bend { shift_z: period, .. } => period,
        Cell::Lattice { along, across, .. } => along * across,
        Cell::Cluster => 1.0,
    };
    let (one, other) = (advance(one), advance(other));
    (one - other).abs() < SAME_ADVANCE * one
}
