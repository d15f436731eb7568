//! One try: a random pose, shaken downhill until its links are the wanted ones, or given up.

use super::Repeat;
use super::shortfall::Laid;
use super::symmetry::Symmetry;
use super::wanted::Wanted;
use crate::circle::Circle;
use crate::pattern::Cell;
use crate::pose::{PlacedRing, Pose};
use crate::solve::{Dice, Halt, Watch};
use crate::vector::{Rotation, Vec3};

/// Moves of one ring, times the number of rings that are placed, before a try is given up.
const MOVES_PER_RING: u32 = 2500;
/// Largest and smallest move of a centre; a normal moves alike.
const LARGEST_MOVE: f64 = 0.8;
const SMALLEST_MOVE: f64 = 0.004;
/// The least advance looked at: thinner stacks need rings far looser than any chain.
const LEAST_ADVANCE: f64 = 0.25;
/// Share of the moves that are far ones, so that a ring which sits well may still change places.
const FAR_MOVES: f64 = 0.2;
/// How far these go, in largest moves.
const FAR: [f64; 2] = [0.2, 1.5];
/// By how much a worse pose may be worse, at first; less as the try goes on.
const TOLERATED: f64 = 0.3;
/// Moves between two calls of the watch, times the number of rings that are placed.
const SPELL: u32 = 340;

/// Where a try ended.
pub(super) enum Drawn {
    /// In a pose with the wanted links and every pair within its margin.
    Met(Pose),
    /// In one that lacks this much.
    Short(f64, Pose),
}

/// A throw of the dice, shaken downhill; it keeps its symmetries.
pub(super) fn draw(
    wanted: &Wanted,
    symmetry: &Symmetry,
    dice: &mut Dice,
    watch: &mut dyn Watch,
) -> Result<Drawn, Halt> {
    let mut start = random_pose(wanted, symmetry, dice);
    symmetry.settle(&mut start);
    let mut laid = Laid::new(wanted, start);
    let mut next = laid.clone();
    let mut short = laid.shortfall();
    let placed = u32::try_from(symmetry.orbits.len()).unwrap_or(1);
    let (moves, spell) = (MOVES_PER_RING * placed, SPELL * placed);
    let mut reach = LARGEST_MOVE;
    for turn in 0..moves {
        if turn % spell == 0 {
            watch.tick()?;
        }
        if short <= 0.0 {
            return Ok(Drawn::Met(laid.pose));
        }
        next.copy(&laid);
        let is_far = dice.between(0.0, 1.0) < FAR_MOVES;
        let by = if is_far { LARGEST_MOVE * dice.between(FAR[0], FAR[1]) } else { reach };
        jiggle(wanted, symmetry, &mut next, by, dice);
        let next_short = next.shortfall();
        // Now and then a worse pose is taken, less often as the try goes on.
        let share = f64::from(turn) / f64::from(moves);
        let tolerated = TOLERATED * (1.0 - share) * dice.between(0.0, 1.0).powi(4);
        if next_short < short + tolerated {
            std::mem::swap(&mut laid, &mut next);
            short = next_short;
            if !is_far {
                reach = (1.3 * reach).min(LARGEST_MOVE);
            }
        } else if !is_far {
            reach = (0.97 * reach).max(SMALLEST_MOVE);
        }
    }
    Ok(Drawn::Short(short, laid.pose))
}

/// A whole number below `below`, which is not nought.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a positive number below the count"
)]
pub(super) fn chosen(dice: &mut Dice, below: usize) -> usize {
    (dice.between(0.0, below as f64) as usize).min(below.saturating_sub(1))
}

fn random_vector(dice: &mut Dice, reach: f64) -> Vec3 {
    let mut throw = || dice.between(-reach, reach);
    Vec3::new(throw(), throw(), throw())
}

pub(super) fn random_pose(wanted: &Wanted, symmetry: &Symmetry, dice: &mut Dice) -> Pose {
    let rings = wanted.rings.len() as f64;
    let long = 0.4 + 1.2 * rings;
    let cell = match wanted.repeat {
        Repeat::Not => Cell::Cluster,
        Repeat::Chain { twist_rad, twist_free } => {
            let thrown = if twist_free { dice.between(-2.8, 2.8) } else { twist_rad };
            let twist_rad = symmetry.held.twist_rad.unwrap_or(thrown);
            Cell::Screw { period: dice.between(0.4, long), twist_rad, twist_free }
        }
        Repeat::Sheet => Cell::Lattice {
            along: dice.between(0.7, 2.5),
            shear: dice.between(-0.6, 0.6),
            across: dice.between(1.0, 1.0 + rings),
        },
    };
    let cell = held(symmetry, cell);
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

/// The cell with what its symmetries demand.
fn held(symmetry: &Symmetry, mut cell: Cell) -> Cell {
    let halves = symmetry.held.half_shears;
    if let (Cell::Lattice { along, shear, .. }, Some(halves)) = (&mut cell, halves) {
        *shear = 0.5 * f64::from(halves) * *along;
    }
    cell
}

/// One ring moved and turned, and those with it that its symmetries move, or the cell stretched.
pub(super) fn jiggle(
    wanted: &Wanted,
    symmetry: &Symmetry,
    laid: &mut Laid,
    reach: f64,
    dice: &mut Dice,
) {
    let choices = symmetry.orbits.len() + usize::from(wanted.repeat != Repeat::Not);
    if let Some(orbit) = symmetry.orbits.get(chosen(dice, choices)) {
        let circle = &mut laid.pose.rings[orbit.ring].circle;
        circle.centre += random_vector(dice, reach);
        let about = random_vector(dice, reach);
        if let Some(axis) = about.unit() {
            let turned = Rotation::about(axis, about.norm()).turn(circle.normal);
            circle.normal = turned.unit().unwrap_or(circle.normal);
        }
        orbit.settle(&mut laid.pose);
        laid.measure(wanted, |ring| orbit.rings().any(|moved| moved == ring));
        return;
    }
    let mut throw = || 0.5 * dice.between(-reach, reach);
    match &mut laid.pose.cell {
        Cell::Screw { period, twist_rad, twist_free } => {
            *period = (*period + throw()).max(LEAST_ADVANCE);
            if *twist_free && symmetry.held.twist_rad.is_none() {
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
    laid.pose.cell = held(symmetry, laid.pose.cell);
    symmetry.settle(&mut laid.pose);
    laid.measure(wanted, |_| true);
}
