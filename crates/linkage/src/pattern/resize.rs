//! Other ring sizes in a pattern whose rough places do not take them: rings swell or shrink little by
//! little, and make room for each other in between.

use super::spec::{PatternSpec, SizeSpec};
use crate::pose::Pose;
use crate::solve::{opened, room};

/// Share of the room between two rings that their radii may take at a time: below one half each, no
/// ring can come to pass through another.
const OF_THE_ROOM: f64 = 0.4;
/// Room to make before the next step, as a share of the smallest radius.
const ENOUGH: f64 = 0.3;
/// Steps after which the sizes are taken to be out of reach.
const MOST_STEPS: u32 = 200;

/// Whether rings may take these sizes where they are and surely pass through no other on the way.
pub(super) fn fits_in_place(spec: &PatternSpec, start: &Pose, sizes: &[SizeSpec]) -> bool {
    let change = |ring: &super::RingSpec| {
        let (from, to) = (spec.sizes.get(ring.size), sizes.get(ring.size));
        from.zip(to).map_or(0.0, |(from, to)| (to.radius - from.radius).abs())
    };
    let most = spec.rings.iter().map(change).fold(0.0, f64::max);
    2.0 * most < least_distance(start)
}

/// A lower bound on the distance of any two rings.
fn least_distance(pose: &Pose) -> f64 {
    let least_share = pose.rings.iter().map(|ring| ring.wire_share).fold(f64::INFINITY, f64::min);
    room(pose) * least_share
}

/// The description with `sizes` and places to suit them, its links untouched; `None` if rings block
/// each other.
///
/// A ring of which the radius changes by `e` moves each of its points by `e`, so that two rings at the
/// distance `D` stay apart while both together change by less than `D`. Rings are moved by certified
/// steps only.
pub(super) fn resized(spec: &PatternSpec, start: &Pose, sizes: &[SizeSpec]) -> Option<PatternSpec> {
    let mut pose = start.clone();
    let wanted = |index: usize| sizes.get(spec.rings.get(index)?.size).copied();
    for (index, ring) in pose.rings.iter_mut().enumerate() {
        ring.wire_share = wanted(index)?.wire;
    }
    for _ in 0..MOST_STEPS {
        let apart = least_distance(&pose);
        let mut most: f64 = 0.0;
        for (index, ring) in pose.rings.iter().enumerate() {
            most = most.max((wanted(index)?.radius - ring.circle.radius).abs());
        }
        let share = if most > OF_THE_ROOM * apart { OF_THE_ROOM * apart / most } else { 1.0 };
        let mut smallest = f64::INFINITY;
        for (index, ring) in pose.rings.iter_mut().enumerate() {
            let radius = wanted(index)?.radius;
            let circle = &mut ring.circle;
            circle.radius =
                if share < 1.0 { circle.radius + share * (radius - circle.radius) } else { radius };
            smallest = smallest.min(circle.radius / ring.wire_share);
        }
        pose = opened(&pose, ENOUGH * smallest).ok()?;
        if share >= 1.0 {
            let mut resized = spec.clone();
            resized.sizes = sizes.to_vec();
            resized.cell = pose.cell;
            for (ring, placed) in resized.rings.iter_mut().zip(&pose.rings) {
                (ring.centre, ring.normal) = (placed.circle.centre, placed.circle.normal);
            }
            return Some(resized);
        }
    }
    None
}
