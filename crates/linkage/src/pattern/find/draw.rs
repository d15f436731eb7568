//! One try: a random pose, shaken downhill until its links are the wanted ones, or given up.

use super::Repeat;
use super::margin::{Want, margin};
use super::wanted::Wanted;
use crate::circle::Circle;
use crate::pattern::{Cell, Image, Link};
use crate::pose::{PlacedRing, Pose};
use crate::solve::{Dice, Halt, Watch};
use crate::vector::{Rotation, Vec3};

/// Every pair is wanted this far inside its state, as a share of the smaller radius.
const WANTED_MARGIN: f64 = 0.12;
/// Moves of one ring, times the number of rings, before a try is given up.
const MOVES_PER_RING: u32 = 2500;
/// Largest and smallest move of a centre; a normal moves alike.
const LARGEST_MOVE: f64 = 0.8;
const SMALLEST_MOVE: f64 = 0.004;
/// The least advance looked at: thinner stacks need rings far looser than any chain.
const LEAST_ADVANCE: f64 = 0.25;
/// Moves between two calls of the watch.
const SPELL: u32 = 256;

/// A pose with the wanted links and every pair within its margin, if this throw of the dice leads there.
pub(super) fn draw(
    wanted: &Wanted,
    dice: &mut Dice,
    watch: &mut dyn Watch,
) -> Result<Option<Pose>, Halt> {
    let mut pose = random_pose(wanted, dice);
    let mut short = shortfall(wanted, &pose);
    let rings = wanted.rings.len();
    let moves = MOVES_PER_RING * u32::try_from(rings).unwrap_or(1);
    let mut reach = LARGEST_MOVE;
    for turn in 0..moves {
        if turn % SPELL == 0 {
            watch.tick()?;
        }
        if short <= 0.0 {
            return Ok(Some(pose));
        }
        let next = jiggled(wanted, &pose, reach, dice);
        let next_short = shortfall(wanted, &next);
        // Now and then a worse pose is taken, less often as the try goes on.
        let share = f64::from(turn) / f64::from(moves);
        let tolerated = 0.02 * (1.0 - share) * dice.between(0.0, 1.0).powi(4);
        if next_short < short + tolerated {
            pose = next;
            short = next_short;
            reach = (1.3 * reach).min(LARGEST_MOVE);
        } else {
            reach = (0.97 * reach).max(SMALLEST_MOVE);
        }
    }
    Ok(None)
}

fn random_vector(dice: &mut Dice, reach: f64) -> Vec3 {
    let mut throw = || dice.between(-reach, reach);
    Vec3::new(throw(), throw(), throw())
}

fn random_pose(wanted: &Wanted, dice: &mut Dice) -> Pose {
    let rings = wanted.rings.len() as f64;
    let long = 0.4 + 1.2 * rings;
    let cell = match wanted.repeat {
        Repeat::Not => Cell::Cluster,
        Repeat::Chain { twist_rad, twist_free } => Cell::Screw {
            period: dice.between(0.4, long),
            twist_rad: if twist_free { dice.between(-2.8, 2.8) } else { twist_rad },
            twist_free,
        },
        Repeat::Sheet => Cell::Lattice {
            along: dice.between(0.7, 2.5),
            shear: dice.between(-0.6, 0.6),
            across: dice.between(1.0, 1.0 + rings),
        },
    };
    let extent = match cell {
        Cell::Cluster => Vec3::new(0.8, 0.8, 0.8),
        Cell::Screw { period, .. } | Cell::Bend { shift_z: period, .. } => {
            Vec3::new(0.8, 0.8, 0.5 * period)
        }
        Cell::Lattice { along, across, .. } => Vec3::new(0.5 * along, 0.5 * across, 0.3),
    };
    let placed = wanted.rings.iter().map(|&size| {
        let size = wanted.sizes[size];
        let at = random_vector(dice, 1.0);
        let centre = Vec3::new(at.x * extent.x, at.y * extent.y, at.z * extent.z);
        let normal = random_vector(dice, 1.0).unit().unwrap_or(Vec3::new(0.0, 0.0, 1.0));
        PlacedRing {
            circle: Circle { centre, normal, radius: size.radius },
            wire_share: size.wire,
            station: 0.0,
        }
    });
    let rings: Vec<PlacedRing> = placed.collect();
    Pose { rings, cell }
}

/// One ring moved and turned, or the cell stretched.
fn jiggled(wanted: &Wanted, pose: &Pose, reach: f64, dice: &mut Dice) -> Pose {
    let mut pose = pose.clone();
    let rings = pose.rings.len();
    let choices = rings + usize::from(wanted.repeat != Repeat::Not);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a positive number below the count"
    )]
    let chosen = (dice.between(0.0, choices as f64) as usize).min(choices - 1);
    if let Some(ring) = pose.rings.get_mut(chosen) {
        let circle = &mut ring.circle;
        circle.centre += random_vector(dice, reach);
        let about = random_vector(dice, reach);
        if let Some(axis) = about.unit() {
            let turned = Rotation::about(axis, about.norm()).turn(circle.normal);
            circle.normal = turned.unit().unwrap_or(circle.normal);
        }
        return pose;
    }
    let mut throw = || 0.5 * dice.between(-reach, reach);
    match &mut pose.cell {
        Cell::Screw { period, twist_rad, twist_free } => {
            *period = (*period + throw()).max(LEAST_ADVANCE);
            if *twist_free {
                *twist_rad += throw();
            }
        }
        Cell::Lattice { along, shear, across } => {
            *along = (*along + throw()).max(LEAST_ADVANCE);
            *shear += throw();
            *across = (*across + throw()).max(LEAST_ADVANCE);
        }
        Cell::Cluster | Cell::Bend { .. } => {}
    }
    pose
}

/// Sum of what all pairs lack, squared.
fn shortfall(wanted: &Wanted, pose: &Pose) -> f64 {
    let mut sum = 0.0;
    let mut add = |lack: f64| sum += lack.max(0.0).powi(2);
    let linked = |i: usize, j: usize, image: Image| {
        wanted.ahead.iter().find(|l| (l.first, l.second, l.image) == (i, j, image))
    };
    let mut met = 0;
    pose.visit_pairs(WANTED_MARGIN, |i, j, image, placed| {
        let first = pose.rings[i].circle;
        let link = linked(i, j, image);
        met += usize::from(link.is_some());
        let want = link.map_or(Want::Apart, |link| Want::Linked(link.sign));
        let wanted_margin = WANTED_MARGIN * first.radius.min(placed.radius).min(1.0);
        add(wanted_margin - margin(first, placed, want));
    });
    if met < wanted.ahead.len() {
        // Rings too far apart to be visited.
        for link in &wanted.ahead {
            let (first, second) = ends(pose, link);
            let apart = (second.centre - first.centre).norm() - first.radius - second.radius;
            if apart >= WANTED_MARGIN {
                add(2.0 * WANTED_MARGIN + apart);
            }
        }
    }
    sum
}

fn ends(pose: &Pose, link: &Link) -> (Circle, Circle) {
    (pose.rings[link.first].circle, pose.placed(link.second, link.image))
}
