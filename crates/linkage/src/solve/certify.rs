//! Certified moves: how far a straight move may go before any two wires could have passed through
//! each other.

use crate::circle::DistanceProfile;
use crate::pattern::Image;
use crate::pose::{Pose, Step};

/// Part of the distance between two rings that one advance may use up.
const PART_OF_DISTANCE: f64 = 0.9;

/// Advances after which a move that crawls is cut short.
const MOST_ADVANCES: usize = 60;

/// A pair of rings that moves enough to meet within the whole of a move.
struct Watched {
    first: usize,
    second: usize,
    image: Image,
    floor: f64,
}

/// Largest fraction, up to one, of a straight move for which it is proven that no ring passes
/// through another.
///
/// Conservative advancement: while the points of two rings approach each other no faster than `V`, a
/// distance `D` cannot vanish before `D/V`. `V` is the relative speed of the centres now, plus what
/// the motion of the cell can add to it in the rest of the move, plus both tip speeds. Advance by a
/// part of that, measure again. The move ends early if some pair comes under `floor` times its share.
///
/// # Source
/// Conservative advancement is a known method of collision detection; bounds derived in
/// `docs/theory/chain.md`, section 4.
pub(crate) fn certified_fraction(pose: &Pose, step: &Step, floor: f64) -> f64 {
    let whole = longest_approach(pose, step);
    let mut watched = Vec::new();
    let widest = pose.rings.iter().map(|r| r.wire_share).fold(0.0, f64::max);
    pose.visit_pairs(whole + widest * floor, |first, second, image, _| {
        watched.push(Watched { first, second, image, floor: floor * pose.share(first, second) });
    });
    // Copies that the move itself brings near, such as when the period shrinks.
    let ahead = pose.moved(step, 1.0);
    for image in ahead.copies_within(widest * floor) {
        if !watched.iter().any(|pair| pair.image == image) && image != [0, 0] {
            for first in 0..pose.rings.len() {
                let facing = (0..pose.rings.len())
                    .filter(|&second| ahead.within_half_a_round(first, second, image));
                watched.extend(facing.map(|second| Watched {
                    first,
                    second,
                    image,
                    floor: floor * pose.share(first, second),
                }));
            }
        }
    }

    let mut fraction = 0.0;
    for _ in 0..MOST_ADVANCES {
        let rest = 1.0 - fraction;
        let here = pose.moved(step, fraction);
        let mut advance = rest;
        let mut blocked = false;
        watched.retain(|pair| {
            let placed = here.placed(pair.second, pair.image);
            let circle = here.rings[pair.first].circle;
            let speed = approach(pose, &here, step, pair, rest);
            // Cheap bound first: two circles are no nearer than their centres less both radii.
            let apart = (placed.centre - circle.centre).norm() - circle.radius - placed.radius;
            if apart - pair.floor > speed * rest {
                return false;
            }
            let distance = DistanceProfile::new(circle, placed).nearest().distance;
            blocked |= distance < pair.floor;
            let until = PART_OF_DISTANCE * distance / speed.max(1e-300);
            advance = advance.min(until);
            distance - pair.floor <= speed * rest
        });
        if blocked {
            break;
        }
        fraction += advance;
        if watched.is_empty() {
            return 1.0;
        }
        if fraction >= 1.0 {
            break;
        }
    }
    last_above_floor(pose, step, fraction.min(1.0), floor)
}

/// Steps back until every pair is at least `floor` apart again.
///
/// The part of the move behind `fraction` is proven, so that any point of it may be taken.
fn last_above_floor(pose: &Pose, step: &Step, fraction: f64, floor: f64) -> f64 {
    let mut fraction = fraction;
    for _ in 0..20 {
        if super::contact::room(&pose.moved(step, fraction)) >= floor {
            return fraction;
        }
        fraction *= 0.7;
    }
    0.0
}

/// Bound on the approach speed of a pair in the rest of the move.
fn approach(pose: &Pose, here: &Pose, step: &Step, pair: &Watched, rest: f64) -> f64 {
    let rings = pose.rings.len();
    let arm = pose.arm();
    let rates = step.cell(rings);
    let second = pose.rings[pair.second].circle;
    let moving = step.centre(pair.second);
    let motion = here.cell.motion(pair.image);
    let centre = here.rings[pair.second].circle.centre;
    let mut relative = step.centre(pair.first) - motion.rotation.turn(moving);
    let velocities = here.cell.velocities(pair.image, motion.place(centre), arm);
    for (velocity, rate) in velocities.iter().zip(rates) {
        relative = relative - *velocity * *rate;
    }
    let reach = second.centre.norm() + moving.norm();
    let (turning, acceleration) = here.cell.bounds(pair.image, rates, arm, reach, moving.norm());
    let tip_first = step.tip(pair.first);
    let tip_second = step.tip(pair.second) + second.radius * turning;
    relative.norm() + acceleration * rest + tip_first + tip_second
}

/// Bound on the approach of any pair of the pose over the whole move.
fn longest_approach(pose: &Pose, step: &Step) -> f64 {
    let rings = pose.rings.len();
    let mut most: f64 = 0.0;
    for image in pose.copies_within(pose.arm()) {
        for first in 0..rings {
            for second in 0..rings {
                let pair = Watched { first, second, image, floor: 0.0 };
                most = most.max(approach(pose, pose, step, &pair, 1.0));
            }
        }
    }
    most
}

#[cfg(test)]
mod tests {
    use super::certified_fraction;
    use crate::pattern::{Cell, Pattern, craft, measured_links};
    use crate::pose::Step;
    use crate::solve::room;
    use crate::solve::shake::Dice;

    fn random_step(unknowns: usize, largest: f64, dice: &mut Dice) -> Step {
        Step((0..unknowns).map(|_| dice.between(-largest, largest)).collect())
    }

    #[test]
    fn ten_thousand_random_certified_moves_never_change_a_link() {
        let patterns: Vec<Pattern> =
            craft::all().into_iter().map(|spec| Pattern::new(spec).expect("valid")).collect();
        let mut dice = Dice::new(11);
        let moves_each = 10_000 / patterns.len() + 1;
        let mut whole_moves = 0;
        for pattern in &patterns {
            let start = pattern.start();
            let wire = 0.3 * pattern.start_wire();
            let links = measured_links(start);
            let mut pose = start.clone();
            for turn in 0..moves_each {
                let largest = dice.between(0.005, 0.6);
                let step = random_step(pose.unknowns(), largest, &mut dice);
                let fraction = certified_fraction(&pose, &step, 0.2 * wire);
                pose = pose.moved(&step, fraction);
                whole_moves += u32::from(fraction >= 1.0);
                if turn % 20 == 19 {
                    assert_eq!(measured_links(&pose), links, "{} after {turn}", pattern.name());
                    assert!(room(&pose) >= 0.19 * wire, "{}", pattern.name());
                    pose = start.clone();
                }
            }
        }
        // The certificate would be worthless if it stopped everything.
        assert!(whole_moves > 300, "{whole_moves}");
    }

    #[test]
    fn random_certified_moves_of_a_bent_chain_never_change_a_link() {
        let mut dice = Dice::new(3);
        for name in ["european_4in1_strip3", "half_persian_3in1", "box"] {
            let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
            let wire = 0.3 * pattern.start_wire();
            let mut bent = pattern.start().clone();
            if let Cell::Screw { period, .. } = bent.cell {
                bent.cell = Cell::Bend { turn_rad: 0.0, shift_x: 0.0, shift_z: period };
            }
            let links = measured_links(&bent);
            let mut pose = bent.clone();
            for turn in 0..400 {
                let largest = dice.between(0.005, 0.3);
                let step = random_step(pose.unknowns(), largest, &mut dice);
                let fraction = certified_fraction(&pose, &step, 0.2 * wire);
                let next = pose.moved(&step, fraction);
                // Bends sharper than a right angle a cell are not what chains are laid in.
                let Cell::Bend { turn_rad, .. } = next.cell else { unreachable!("bent") };
                if turn_rad.abs() > 1.0 || turn % 20 == 19 {
                    pose = bent.clone();
                    continue;
                }
                pose = next;
                assert_eq!(measured_links(&pose), links, "{name} after {turn}");
            }
        }
    }

    #[test]
    fn the_same_moves_without_a_certificate_do_change_links() {
        let pattern = Pattern::new(craft::named("double_2in2").expect("known")).expect("valid");
        let links = measured_links(pattern.start());
        let mut dice = Dice::new(11);
        let changed = (0..200).any(|_| {
            let step = random_step(pattern.start().unknowns(), 0.6, &mut dice);
            measured_links(&pattern.start().moved(&step, 1.0)) != links
        });
        assert!(changed);
    }
}
