//! The climb: one step after another, each the best within a box, each certified.
//!
//! Sequential linear programming. At a pose the contacts are linearised; a linear program, for a pull with
//! a little caution, finds the best move within a box; the move is certified, made, measured. A move that
//! keeps its promise enlarges the box, one that does not is taken back and shrinks it.

use super::certify::certified_fraction;
use super::contact::{contacts, room};
use super::program::{Program, solve};
use super::{Halt, Watch};
use crate::pattern::Cell;
use crate::pose::{Pose, Step};

/// What to make as large as possible.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Goal {
    /// The wire, at fixed ring radii.
    Wire,
    /// The advance of a chain, or along the rows of a sheet.
    Advance,
    /// The area of a sheet's cell.
    Area,
    /// The advance of a sheet across its rows, that along them held.
    Across,
    /// The turn per cell of a bent chain, as arc at the largest radius.
    Turn,
}

/// How a climb is run.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Climb {
    pub goal: Goal,
    /// Wire to respect; of no account when the wire itself grows.
    pub wire: f64,
    pub patience: Patience,
    /// Goal beyond which there is nothing more to gain; for growing wire, the wire that is enough.
    pub enough: f64,
}

/// When to give up.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Patience {
    /// First box, as a share of the largest radius.
    pub first_box: f64,
    /// Gain in [`SPELL`] steps, same share, that is not worth going on.
    pub little_gain: f64,
    /// Most steps.
    pub steps: usize,
}

/// Where a climb ended.
#[derive(Clone, Debug)]
pub(crate) struct Summit {
    pub pose: Pose,
    /// The goal there.
    pub value: f64,
    /// Largest main wire the pose leaves room for.
    pub room: f64,
    /// Linear programs solved.
    pub programs: usize,
}

/// Least share of the wire that two wires keep apart during a move.
const FLOOR_SHARE: f64 = 0.2;
/// Largest box, as a share of the largest radius: beyond it no linearisation holds.
const LARGEST_BOX: f64 = 0.3;
/// Box at which differences of distances drown in rounding, same share.
const SMALLEST_BOX: f64 = 1e-9;
/// Gain, same share, of which the promise ends a climb that may stand on a ridge.
const NO_GAIN: f64 = 1e-11;
/// Caution of a pull, per largest radius: contacts of round rings are about as curved.
///
/// Without it rings that are free to turn leap from side to side of the box, and the box has to shrink
/// before anything else may move.
const CAUTION: f64 = 0.5;
/// Steps over which little gain is summed.
const SPELL: usize = 20;
/// First and highest price of a unit of missing wire, for goals with a slope near one.
const FIRST_PRICE: f64 = 10.0;
const HIGHEST_PRICE: f64 = 1e4;

/// Share of the wire that may be given back at the end of a climb, and within which it is.
const MOST_OWED: f64 = 1e-2;
const SETTLED: f64 = 1e-7;
/// Steps for it; box in units of what is owed, and at most, as a share of the largest radius.
const MOST_SETTLING: usize = 8;
const SETTLING_REACH: f64 = 20.0;
const SETTLING_BOX: f64 = 5e-3;

impl Summit {
    /// A climb of no steps.
    pub(crate) fn at(pose: &Pose) -> Summit {
        Summit { pose: pose.clone(), value: 0.0, room: room(pose), programs: 0 }
    }
}

impl Goal {
    /// Slope of the goal along each unknown.
    pub(super) fn gain(self, pose: &Pose) -> Vec<f64> {
        let mut gain = vec![0.0; pose.unknowns()];
        let at = pose.unknowns() - pose.cell.unknowns();
        match (self, pose.cell) {
            (Goal::Area, Cell::Lattice { along, across, .. }) => {
                gain[at] = across;
                gain[at + 2] = along;
            }
            (Goal::Across, Cell::Lattice { .. }) => gain[at + 2] = 1.0,
            (Goal::Advance, Cell::Screw { .. } | Cell::Lattice { .. })
            | (Goal::Turn, Cell::Bend { .. }) => gain[at] = 1.0,
            _ => {}
        }
        gain
    }

    pub(super) fn value(self, pose: &Pose) -> f64 {
        match (self, pose.cell) {
            (Goal::Advance, Cell::Screw { period, .. }) => period,
            (Goal::Advance, Cell::Lattice { along, .. }) => along,
            (Goal::Area, Cell::Lattice { along, across, .. }) => along * across,
            (Goal::Across, Cell::Lattice { across, .. }) => across,
            (Goal::Turn, Cell::Bend { turn_rad, .. }) => turn_rad * pose.arm(),
            _ => 0.0,
        }
    }

    /// Whether a climb may begin on a ridge, which only a leap to either side leaves: wire grows from, and
    /// chains are bent from, poses that are alike on both sides. A pull does not wait for leaps.
    const fn leaps(self) -> bool {
        matches!(self, Goal::Wire | Goal::Turn)
    }

    /// A slope along which no step may move: the roll of a bent cell, the length of a sheet that is
    /// only spread.
    fn hold(self, pose: &Pose) -> Option<Vec<f64>> {
        match self {
            Goal::Across => Some(Goal::Advance.gain(pose)),
            _ => pose.roll(),
        }
    }
}

/// Where a climb stands while it follows a move that did not pay at once.
struct Anchor {
    pose: Pose,
    space: f64,
    promised: f64,
}

impl Climb {
    /// Part of a move after which a turn is enough: beyond it the chain would run into itself.
    fn fraction_until_enough(&self, pose: &Pose, step: &Step) -> f64 {
        let ahead = self.goal.value(&pose.moved(step, 1.0));
        if !matches!(self.goal, Goal::Turn) || ahead <= self.enough {
            return 1.0;
        }
        let here = self.goal.value(pose);
        ((self.enough - here) / (ahead - here)).clamp(0.0, 1.0)
    }
}

/// Climbs from `start`, which may fall short of the wire.
///
/// Growing wire is the same problem as pulling taut, with nothing to gain but room: the shortfall of
/// the contacts is minimised and may become negative.
pub(crate) fn climb(start: &Pose, plan: &Climb, watch: &mut dyn Watch) -> Result<Summit, Halt> {
    let arm = start.arm();
    let growing = matches!(plan.goal, Goal::Wire);
    // Goals are divided by their slope at the start, so that one price fits all.
    let slope = plan.goal.gain(start).iter().fold(0.0_f64, |m, g| m.max(g.abs()));
    let unit = if slope > 0.0 { 1.0 / slope } else { 1.0 };
    let mut price = if growing { 1.0 } else { FIRST_PRICE };
    let (caution, little) = if plan.goal.leaps() {
        (0.0, NO_GAIN)
    } else {
        (CAUTION / arm, plan.patience.little_gain / SPELL as f64)
    };
    let merit = |pose: &Pose, space: f64, price: f64| {
        if growing {
            space
        } else {
            unit * plan.goal.value(pose) - price * (plan.wire - space).max(0.0)
        }
    };

    let mut pose = start.clone();
    let mut space = room(&pose);
    let mut half_width = plan.patience.first_box * arm;
    let mut programs = 0;
    let mut earned_lately = 0.0;
    let mut anchor: Option<Anchor> = None;

    for turn in 0..plan.patience.steps {
        watch.tick()?;
        let reached = if growing { space } else { plan.goal.value(&pose) };
        if reached >= plan.enough && (growing || space >= plan.wire) {
            break;
        }
        let wire = if growing { space } else { plan.wire };
        let near = contacts(&pose, wire, 4.0 * half_width);
        let gain: Vec<f64> = plan.goal.gain(&pose).iter().map(|g| g * unit).collect();
        let hold = plan.goal.hold(&pose);
        let program = Program {
            gain: &gain,
            contacts: &near,
            wire,
            box_half_width: half_width,
            price,
            reward_room: growing,
            caution,
            hold: hold.as_deref(),
        };
        programs += 1;
        let Some(solved) = solve(&program) else {
            half_width *= 0.5;
            if half_width < SMALLEST_BOX * arm {
                break;
            }
            continue;
        };
        // The penalty is exact while the price exceeds what the contacts push together. If it is
        // reached, missing wire was worth its price: raise it and ask again.
        let push: f64 = near.iter().zip(&solved.forces).map(|(c, f)| c.share * f).sum();
        let falls_short = solved.shortfall > 1e-9 * wire;
        if !growing && falls_short && push > 0.9 * price && price < HIGHEST_PRICE {
            price *= 4.0;
            continue;
        }
        let step = Step(solved.step);
        let certified = certified_fraction(&pose, &step, FLOOR_SHARE * wire.min(space));
        let fraction = certified.min(plan.fraction_until_enough(&pose, &step));
        let next = pose.moved(&step, fraction);
        let next_space = room(&next);
        let gained: f64 = gain.iter().zip(&step.0).map(|(g, x)| g * x).sum();
        let short = if growing { 0.0 } else { (wire - space).max(0.0) };
        let promised = gained + price * (short - solved.shortfall);
        let earned = merit(&next, next_space, price) - merit(&pose, space, price);

        if earned > 0.1 * promised * fraction {
            pose = next;
            space = next_space;
            let since = anchor.take();
            let kept = match &since {
                None => earned,
                Some(anchor) => {
                    merit(&pose, space, price) - merit(&anchor.pose, anchor.space, price)
                }
            };
            if let Some(anchor) = since.filter(|anchor| kept < 0.1 * anchor.promised) {
                pose = anchor.pose;
                space = anchor.space;
                half_width *= 0.35;
            } else {
                earned_lately += kept;
                if earned > 0.6 * promised * fraction {
                    half_width = (1.7 * half_width).min(LARGEST_BOX * arm);
                }
            }
        } else if let Some(anchor) = anchor.take() {
            pose = anchor.pose;
            space = anchor.space;
            half_width *= 0.35;
        } else {
            anchor = Some(Anchor { pose, space, promised: promised * fraction });
            pose = next;
            space = next_space;
        }
        if promised < little * arm || half_width < SMALLEST_BOX * arm {
            break;
        }
        if turn % SPELL == SPELL - 1 {
            if earned_lately < plan.patience.little_gain * arm {
                break;
            }
            earned_lately = 0.0;
        }
    }
    if let Some(anchor) = anchor {
        pose = anchor.pose;
        space = anchor.space;
    }
    Ok(Summit {
        value: if growing { space } else { plan.goal.value(&pose) },
        room: space,
        pose,
        programs,
    })
}

/// Gives back the little wire that a climb which stopped early still owes.
///
/// Linear steps that must meet every contact, with no regard to what they cost: near the end this is
/// Newton's method on the contacts that carry, so that a handful is enough.
pub(crate) fn settled(summit: Summit, plan: &Climb, watch: &mut dyn Watch) -> Result<Summit, Halt> {
    let mut summit = summit;
    if summit.room < plan.wire * (1.0 - MOST_OWED) {
        return Ok(summit);
    }
    let arm = summit.pose.arm();
    for _ in 0..MOST_SETTLING {
        if summit.room >= plan.wire * (1.0 - SETTLED) {
            break;
        }
        watch.tick()?;
        let gain = plan.goal.gain(&summit.pose);
        let hold = plan.goal.hold(&summit.pose);
        // A box in keeping with what is owed, so that the next step owes its square.
        let box_half_width = (SETTLING_REACH * (plan.wire - summit.room)).min(SETTLING_BOX * arm);
        let near = contacts(&summit.pose, plan.wire, 4.0 * box_half_width);
        let program = Program {
            gain: &gain,
            contacts: &near,
            wire: plan.wire,
            box_half_width,
            price: HIGHEST_PRICE,
            reward_room: false,
            caution: 0.0,
            hold: hold.as_deref(),
        };
        let Some(solved) = solve(&program) else {
            break;
        };
        let step = Step(solved.step);
        let fraction = certified_fraction(&summit.pose, &step, FLOOR_SHARE * plan.wire);
        summit.pose = summit.pose.moved(&step, fraction);
        summit.room = room(&summit.pose);
        summit.value = plan.goal.value(&summit.pose);
        summit.programs += 1;
    }
    Ok(summit)
}
