//! Rings cut into strands, in the order in which they can be drawn over each other.

use std::f64::consts::TAU;

use linkwright_linkage::circle::Circle;
use linkwright_linkage::vector::Vec3;

use super::scene::Scene;
use super::seen_from::View;

/// A piece of a ring that is drawn in one go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strand {
    /// Which ring of the scene.
    pub ring: usize,
    /// Where it begins and ends, as angles round the ring.
    pub from_rad: f64,
    pub to_rad: f64,
    /// Whether either end runs on under a strand that is drawn later.
    pub runs_on: [bool; 2],
    /// Whether it is the whole ring.
    pub whole: bool,
}

/// Length of the bits that are compared, in wire diameters: short enough that where two rings cross in
/// the picture, one wire apart in depth, all of one bit lies over all of the other.
const BIT: f64 = 0.4;
/// Fewest and most bits round a ring.
const BITS: (usize, usize) = (24, 96);
/// Two bits of one ring that lie over each other count if they are this far apart round the ring.
const OWN_SHARE: f64 = 0.25;

/// The point of a circle at an angle, and how it moves with the angle.
pub(super) fn at(circle: Circle, angle_rad: f64) -> (Vec3, Vec3) {
    let [first, second] = circle.normal.frame();
    let (sin, cos) = angle_rad.sin_cos();
    let out = (first * cos + second * sin) * circle.radius;
    let along = (second * cos - first * sin) * circle.radius;
    (circle.centre + out, along)
}

struct Bit {
    ring: usize,
    at: Vec3,
    half_length: f64,
    half_wire: f64,
}

struct Bits {
    bits: Vec<Bit>,
    /// First bit of each ring, and one past the last.
    starts: Vec<usize>,
}

impl Bits {
    fn of(scene: &Scene, view: View) -> Bits {
        let (mut bits, mut starts) = (Vec::new(), vec![0]);
        for (ring, tube) in scene.tubes.iter().enumerate() {
            let round = TAU * tube.circle.radius;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "`as` saturates, and the count is kept within bounds"
            )]
            let count = ((round / (BIT * tube.wire_mm)).ceil() as usize).clamp(BITS.0, BITS.1);
            for step in 0..count {
                let middle = TAU * (step as f64 + 0.5) / count as f64;
                bits.push(Bit {
                    ring,
                    at: view.sees(at(tube.circle, middle).0),
                    half_length: 0.5 * round / count as f64,
                    half_wire: 0.5 * tube.wire_mm,
                });
            }
            starts.push(bits.len());
        }
        Bits { bits, starts }
    }

    fn count(&self, ring: usize) -> usize {
        self.starts[ring + 1] - self.starts[ring]
    }

    /// The next bit round the same ring, or the one before.
    fn beside(&self, bit: usize, forward: bool) -> usize {
        let (start, count) = (self.starts[self.bits[bit].ring], self.count(self.bits[bit].ring));
        let step = if forward { 1 } else { count - 1 };
        start + (bit - start + step) % count
    }

    fn lie_over_each_other(&self, one: usize, other: usize) -> bool {
        let (a, b) = (&self.bits[one], &self.bits[other]);
        let apart = (a.at.x - b.at.x).hypot(a.at.y - b.at.y);
        if apart >= a.half_wire + b.half_wire + a.half_length + b.half_length {
            return false;
        }
        if a.ring != b.ring {
            return true;
        }
        let count = self.count(a.ring);
        let round = one.abs_diff(other);
        round.min(count - round) as f64 > OWN_SHARE * count as f64
    }

    /// For each bit, the bits it lies over or under.
    fn neighbours(&self) -> Vec<Vec<usize>> {
        let mut neighbours = vec![Vec::new(); self.bits.len()];
        for one in 0..self.bits.len() {
            for other in one + 1..self.bits.len() {
                if self.lie_over_each_other(one, other) {
                    neighbours[one].push(other);
                    neighbours[other].push(one);
                }
            }
        }
        neighbours
    }

    fn angle(&self, bit: usize, ring: usize, end: f64) -> f64 {
        TAU * ((bit - self.starts[ring]) as f64 + end) / self.count(ring) as f64
    }
}

/// The strands of a scene, each to be drawn over those before it.
///
/// A bit waits for all bits it covers; a strand grows both ways round its ring while the next bit waits
/// for nothing and does not lie over the strand itself. The deepest bit that waits for nothing begins
/// the next strand, so there always is one.
pub(super) fn strands(scene: &Scene, view: View) -> Vec<Strand> {
    let bits = Bits::of(scene, view);
    let neighbours = bits.neighbours();
    let mut by_depth: Vec<usize> = (0..bits.bits.len()).collect();
    by_depth.sort_by(|&a, &b| bits.bits[a].at.z.total_cmp(&bits.bits[b].at.z));
    let mut rank = vec![0; by_depth.len()];
    for (place, &bit) in by_depth.iter().enumerate() {
        rank[bit] = place;
    }
    let mut drawn = vec![false; bits.bits.len()];
    let waits = |bit: usize, drawn: &[bool]| {
        neighbours[bit].iter().any(|&other| rank[other] < rank[bit] && !drawn[other])
    };
    let mut strands = Vec::new();
    for &first in &by_depth {
        if drawn[first] {
            continue;
        }
        let ring = bits.bits[first].ring;
        let count = bits.count(ring);
        let mut members = vec![first];
        drawn[first] = true;
        let mut ends = [first, first];
        for (end, forward) in [(1, true), (0, false)] {
            while members.len() < count {
                let next = bits.beside(ends[end], forward);
                let over_itself = neighbours[next].iter().any(|other| members.contains(other));
                if drawn[next] || over_itself || waits(next, &drawn) {
                    break;
                }
                drawn[next] = true;
                members.push(next);
                ends[end] = next;
            }
        }
        let whole = members.len() == count;
        let from_rad = bits.angle(ends[0], ring, 0.0);
        let length = TAU * members.len() as f64 / count as f64;
        let open = |bit: usize, forward: bool| !whole && !drawn[bits.beside(bit, forward)];
        strands.push(Strand {
            ring,
            from_rad,
            to_rad: from_rad + length,
            runs_on: [open(ends[0], false), open(ends[1], true)],
            whole,
        });
    }
    strands
}

#[cfg(test)]
mod tests {
    use linkwright_linkage::circle::{Circle, linking_number};
    use linkwright_linkage::pattern::{Pattern, craft};
    use linkwright_linkage::vector::Vec3;

    use super::{Strand, at, strands};
    use crate::chain::figure::scene::Scene;
    use crate::chain::figure::seen_from::View;

    const POINTS: usize = 240;

    /// Linking number as a person reads it off the drawing: at every crossing of two rings the strand
    /// drawn later lies over; half the sum of the signs of all crossings.
    fn read_off(scene: &Scene, view: View, order: &[Strand], [one, other]: [usize; 2]) -> f64 {
        let drawn_at = |ring: usize, angle: f64| {
            order
                .iter()
                .position(|strand| {
                    let from = (angle - strand.from_rad).rem_euclid(std::f64::consts::TAU);
                    strand.ring == ring && (strand.whole || from < strand.to_rad - strand.from_rad)
                })
                .expect("every bit is drawn")
        };
        let angle = |step: usize| std::f64::consts::TAU * step as f64 / POINTS as f64;
        let points = |circle: Circle| -> Vec<Vec3> {
            (0..=POINTS).map(|step| view.sees(at(circle, angle(step)).0)).collect()
        };
        let (a, b) = (points(scene.tubes[one].circle), points(scene.tubes[other].circle));
        let mut signs = 0.0;
        for i in 0..POINTS {
            for j in 0..POINTS {
                let (p, q) = (a[i + 1] - a[i], b[j + 1] - b[j]);
                let turn = p.x * q.y - p.y * q.x;
                let apart = b[j] - a[i];
                let s = (apart.x * q.y - apart.y * q.x) / turn;
                let t = (apart.x * p.y - apart.y * p.x) / turn;
                if !(0.0..1.0).contains(&s) || !(0.0..1.0).contains(&t) {
                    continue;
                }
                let over = drawn_at(one, angle(i) + 1e-3) > drawn_at(other, angle(j) + 1e-3);
                signs += if over { turn.signum() } else { -turn.signum() };
            }
        }
        0.5 * signs
    }

    #[test]
    fn every_link_of_every_pattern_reads_as_it_is() {
        for spec in craft::all() {
            let pattern = Pattern::new(spec).expect("valid");
            let pose = pattern.start();
            let wire = pattern.start_wire();
            let scene = Scene::piece(pose, wire, 1.0, 14);
            let view = View::of(pose);
            let order = strands(&scene, view);
            let circles: Vec<Circle> = scene.tubes.iter().map(|tube| tube.circle).collect();
            for one in 0..circles.len().min(3) {
                for other in one + 1..circles.len() {
                    let linked = f64::from(linking_number(circles[one], circles[other]));
                    let read = read_off(&scene, view, &order, [one, other]);
                    assert!(
                        (read - linked).abs() < 1e-9,
                        "{}: rings {one} and {other} are linked {linked} times and drawn {read}",
                        pattern.name()
                    );
                }
            }
        }
    }

    #[test]
    fn every_bit_of_a_ring_is_drawn_once() {
        let pattern = Pattern::new(craft::named("byzantine").expect("known")).expect("valid");
        let scene = Scene::piece(pattern.start(), pattern.start_wire(), 1.0, 18);
        let drawn = strands(&scene, View::of(pattern.start()));
        for ring in 0..scene.tubes.len() {
            let of_ring = drawn.iter().filter(|strand| strand.ring == ring);
            let round: f64 = of_ring.map(|strand| strand.to_rad - strand.from_rad).sum();
            assert!((round - std::f64::consts::TAU).abs() < 1e-9, "ring {ring}: {round}");
        }
    }
}
