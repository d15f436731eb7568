//! From where rings are looked at: so that lengths are true and no ring is seen edge on.

use std::f64::consts::{PI, TAU};

use linkwright_linkage::pattern::Cell;
use linkwright_linkage::pose::Pose;
use linkwright_linkage::vector::{Rotation, Vec3};

/// A right-handed frame to look at things in: to the right, upwards, towards the eye.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    pub(super) right: Vec3,
    pub(super) up: Vec3,
    pub(super) towards: Vec3,
}

const EX: Vec3 = Vec3::new(1.0, 0.0, 0.0);
const EY: Vec3 = Vec3::new(0.0, 1.0, 0.0);
const EZ: Vec3 = Vec3::new(0.0, 0.0, 1.0);

/// Directions tried round a chain, and all round a cluster.
const DIRECTIONS: u32 = 180;
/// Copies of the cell that a view is judged by.
const COPIES_JUDGED: i32 = 8;
/// A sheet whose rings stand up more than this is looked at aslant.
const UPRIGHT: f64 = 0.3;
/// How far aslant: from the side, and from below the edge of the paper.
const ASLANT_RAD: [f64; 2] = [-24.0 * PI / 180.0, 34.0 * PI / 180.0];

impl View {
    /// With `towards` the eye and something to the right that is not along it.
    pub(super) fn new(right: Vec3, towards: Vec3) -> View {
        View { right, up: towards.cross(right), towards }
    }

    /// The view of a pose in which its rings are most open; a chain lies from left to right and a
    /// sheet on the paper, so that lengths along them are true.
    pub fn of(pose: &Pose) -> View {
        match pose.cell {
            Cell::Lattice { .. } => {
                let flat = View::new(EX, EZ);
                if flat.openness(pose) >= UPRIGHT {
                    return flat;
                }
                flat.turned(ASLANT_RAD[0], ASLANT_RAD[1])
            }
            Cell::Screw { .. } => {
                let round = (0..DIRECTIONS).map(|step| {
                    let angle = PI * f64::from(step) / f64::from(DIRECTIONS);
                    View::new(EZ, Vec3::new(angle.cos(), angle.sin(), 0.0))
                });
                best(pose, round).unwrap_or(View::new(EZ, EX))
            }
            // A bend lies in the x-z plane.
            Cell::Bend { .. } => {
                let tilted = Rotation::about(EZ, ASLANT_RAD[1]).turn(EY);
                View::new(EZ, tilted)
            }
            _ => {
                let golden = PI * (3.0 - 5.0_f64.sqrt());
                let around = (0..DIRECTIONS).map(|step| {
                    let height = 1.0 - 2.0 * (f64::from(step) + 0.5) / f64::from(DIRECTIONS);
                    let (sin, cos) = (golden * f64::from(step)).rem_euclid(TAU).sin_cos();
                    let flat = (1.0 - height * height).sqrt();
                    let towards = Vec3::new(flat * cos, flat * sin, height);
                    View::new(towards.frame()[0], towards)
                });
                best(pose, around).unwrap_or(View::new(EX, EZ))
            }
        }
    }

    /// A point or a direction as seen: to the right, upwards, towards the eye.
    pub fn sees(self, point: Vec3) -> Vec3 {
        Vec3::new(point.dot(self.right), point.dot(self.up), point.dot(self.towards))
    }

    /// Whether lengths along the chain, the rows or the paper are seen as they are.
    pub fn shows_lengths(self, pose: &Pose) -> bool {
        let along = match pose.cell {
            Cell::Lattice { .. } => EX,
            Cell::Screw { .. } => EZ,
            _ => return true,
        };
        along.dot(self.towards).abs() < 1e-9
    }

    /// How open the ring is that is seen most edge on: 1 from the front, 0 edge on.
    fn openness(self, pose: &Pose) -> f64 {
        let copies = if matches!(pose.cell, Cell::Screw { .. }) { COPIES_JUDGED } else { 1 };
        (0..copies)
            .flat_map(|copy| (0..pose.rings.len()).map(move |ring| (ring, copy)))
            .map(|(ring, copy)| pose.placed(ring, [copy, 0]).normal.dot(self.towards).abs())
            .fold(1.0, f64::min)
    }

    /// The view turned: about the line upwards, then about the line to the right.
    #[must_use]
    pub fn turned(self, sideways_rad: f64, upwards_rad: f64) -> View {
        let round = Rotation::about(self.up, sideways_rad);
        let (right, towards) = (round.turn(self.right), round.turn(self.towards));
        let over = Rotation::about(right, upwards_rad);
        View { right, up: over.turn(self.up), towards: over.turn(towards) }
    }
}

/// The most open of some views, the first of those that are equally so.
fn best(pose: &Pose, views: impl Iterator<Item = View>) -> Option<View> {
    let mut best: Option<(f64, View)> = None;
    for view in views {
        // Rounding must not choose between views that are the same by symmetry.
        let open = (view.openness(pose) * 1e4).round();
        if best.is_none_or(|(most, _)| open > most) {
            best = Some((open, view));
        }
    }
    best.map(|(_, view)| view)
}
