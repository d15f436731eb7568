//! Counting climbs: the best of them, how many met it, what carries there.

use super::carry::carrying;
use super::climb::{Goal, Summit};
use crate::pose::Pose;

/// The best pose of several climbs.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The pose, at the main ring radius of the pattern (1), not scaled.
    pub pose: Pose,
    /// Largest main wire diameter the pose leaves room for.
    pub room: f64,
    /// What was maximised: wire, advance, area or turn (rad).
    pub value: f64,
    /// Climbs that ended in a valid pose.
    pub starts: u32,
    /// Of these, how many ended within two parts in ten thousand of the best.
    pub hits: u32,
    /// Contacts that carry when the best pose is pulled; at the limit, those that lock it.
    pub carrying: Vec<Carrying>,
    /// Linear programs solved in all.
    pub programs: usize,
}

/// A contact that carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carrying {
    /// Ring of the cell.
    pub first: usize,
    /// Ring of the copy.
    pub second: usize,
    /// Which copy.
    pub image: crate::pattern::Image,
    /// Middle of the contact, between both centrelines.
    pub at: crate::vector::Vec3,
    /// Unit vector along which the first ring is pushed; the second is pushed the other way.
    pub direction: crate::vector::Vec3,
    /// Force per unit of pull on the chain.
    pub force: f64,
}

/// Two climbs count as the same answer within this relative difference.
///
/// Rough climbs stop short by a few parts in a hundred thousand.
const SAME_ANSWER: f64 = 2e-4;
/// A contact carries if it takes more than this share of the pull.
const CARRIES: f64 = 1e-4;

/// Ends of climbs so far.
pub(super) struct Tally {
    goal: Goal,
    wire: f64,
    values: Vec<f64>,
    /// The best of them.
    pub(super) best: Option<Summit>,
    programs: usize,
}

impl Tally {
    pub(super) const fn new(goal: Goal, wire: f64) -> Tally {
        Tally { goal, wire, values: Vec::new(), best: None, programs: 0 }
    }

    pub(super) fn add(&mut self, summit: Summit) {
        self.values.push(summit.value);
        self.programs += summit.programs;
        if self.best.as_ref().is_none_or(|best| summit.value > best.value) {
            self.best = Some(summit);
        }
    }

    /// Replaces the best by its polished self; not a start of its own.
    pub(super) fn polished(&mut self, summit: Summit) {
        self.programs += summit.programs;
        if self.best.as_ref().is_none_or(|best| summit.value >= best.value) {
            self.best = Some(summit);
        }
    }

    pub(super) fn found(self, fallback: &Pose) -> Found {
        let best = self.best.unwrap_or_else(|| Summit::at(fallback));
        let near = |value: &&f64| best.value - **value <= SAME_ANSWER * best.value.abs();
        let hits = self.values.iter().filter(near).count();
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let carrying = carrying(&best.pose, self.wire.min(best.room), self.goal);
        Found {
            room: best.room,
            value: best.value,
            starts: count(self.values.len()),
            hits: count(hits),
            carrying: carrying
                .into_iter()
                .filter(|(_, force)| *force > CARRIES)
                .map(|(contact, force)| Carrying {
                    first: contact.first,
                    second: contact.second,
                    image: contact.image,
                    at: (contact.closest.on_first + contact.closest.on_second) * 0.5,
                    direction: (contact.closest.on_first - contact.closest.on_second)
                        * (1.0 / contact.closest.distance),
                    force,
                })
                .collect(),
            programs: self.programs,
            pose: best.pose,
        }
    }
}
