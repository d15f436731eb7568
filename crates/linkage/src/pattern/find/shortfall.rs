//! What a pose lacks to have the wanted links and no others, kept up to date move by move.

use super::margin::{Want, margin};
use super::wanted::Wanted;
use crate::circle::Circle;
use crate::pattern::{Cell, Image};
use crate::pose::Pose;
use crate::vector::Vec3;

/// Every pair is wanted this far inside its state, as a share of the smaller radius.
pub(super) const WANTED_MARGIN: f64 = 0.12;
/// Copies looked at either way, as in [`Cell::copies_within`].
const MOST_COPIES: f64 = 24.0;

/// A pose with what every two of its rings lack, copies included, squared and summed.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    pub pose: Pose,
    /// By ring and ring, the lower first.
    lacks: Vec<f64>,
}

impl Laid {
    pub(super) fn new(wanted: &Wanted, pose: Pose) -> Laid {
        let rings = pose.rings.len();
        let mut laid = Laid { pose, lacks: vec![0.0; rings * rings] };
        laid.measure(wanted, |_| true);
        laid
    }

    /// Takes over another one of the same pattern.
    pub(super) fn copy(&mut self, other: &Laid) {
        self.pose.rings.copy_from_slice(&other.pose.rings);
        self.pose.cell = other.pose.cell;
        self.lacks.copy_from_slice(&other.lacks);
    }

    /// Measures the pairs again of which a ring has moved.
    pub(super) fn measure(&mut self, wanted: &Wanted, moved: impl Fn(usize) -> bool) {
        let rings = self.pose.rings.len();
        for i in 0..rings {
            for j in i..rings {
                if moved(i) || moved(j) {
                    self.lacks[i * rings + j] = lack(wanted, &self.pose, i, j);
                }
            }
        }
    }

    /// Sum of what all pairs lack, squared.
    pub(super) fn shortfall(&self) -> f64 {
        self.lacks.iter().sum()
    }
}

/// What two rings and all copies of theirs lack, squared.
fn lack(wanted: &Wanted, pose: &Pose, i: usize, j: usize) -> f64 {
    let (first, second) = (pose.rings[i].circle, pose.rings[j].circle);
    let room = WANTED_MARGIN * first.radius.min(second.radius).min(1.0);
    let links = &wanted.between[i * pose.rings.len() + j];
    let mut sum = 0.0;
    let mut add = |lack: f64| sum += lack.max(0.0).powi(2);
    for &(image, sign) in links {
        let there = placed(pose.cell, second, image);
        let apart = (there.centre - first.centre).norm() - first.radius - second.radius;
        if apart >= WANTED_MARGIN {
            add(2.0 * WANTED_MARGIN + apart);
        } else {
            add(room - margin(first, there, Want::Linked(sign)));
        }
    }
    let reach = first.radius + second.radius + WANTED_MARGIN;
    visit_copies(pose.cell, first, second, reach, |image| {
        let is_home = image == [0, 0];
        let is_behind = image[1] < 0 || (image[1] == 0 && image[0] < 0);
        if i == j && (is_home || is_behind) {
            return;
        }
        if links.iter().any(|&(linked, _)| linked == image) {
            return;
        }
        let centre = centre_of(pose.cell, second, image) - first.centre;
        if centre.dot(centre) < reach * reach {
            add(room - margin(first, placed(pose.cell, second, image), Want::Apart));
        }
    });
    sum
}

fn centre_of(cell: Cell, circle: Circle, image: Image) -> Vec3 {
    match cell {
        // As the motion of the cell has it, which would also turn by nothing.
        Cell::Lattice { along, shear, across } => {
            let [q, r] = image.map(f64::from);
            circle.centre + Vec3::new(q * along + r * shear, r * across, 0.0)
        }
        _ => cell.motion(image).place(circle.centre),
    }
}

fn placed(cell: Cell, circle: Circle, image: Image) -> Circle {
    let centre = centre_of(cell, circle, image);
    let normal = match cell {
        Cell::Screw { .. } if image != [0, 0] => cell.motion(image).rotation.turn(circle.normal),
        _ => circle.normal,
    };
    Circle { centre, normal, ..circle }
}

/// Copies of the second ring that may come within `reach` of the first, centre to centre.
fn visit_copies(
    cell: Cell,
    first: Circle,
    second: Circle,
    reach: f64,
    mut visit: impl FnMut(Image),
) {
    let between = second.centre - first.centre;
    match cell {
        Cell::Screw { period, .. } => {
            for q in copies(between.z, period, reach) {
                visit([q, 0]);
            }
        }
        Cell::Lattice { along, shear, across } => {
            for r in copies(between.y, across, reach) {
                for q in copies(between.x + f64::from(r) * shear, along, reach) {
                    visit([q, r]);
                }
            }
        }
        Cell::Cluster | Cell::Bend { .. } => visit([0, 0]),
    }
}

/// Whole numbers `n` for which `from + n step` is within `reach` of nothing.
fn copies(from: f64, step: f64, reach: f64) -> std::ops::RangeInclusive<i32> {
    let bounded = |copies: f64| copies.clamp(-MOST_COPIES, MOST_COPIES);
    let (low, high) = ((-reach - from) / step, (reach - from) / step);
    #[expect(clippy::cast_possible_truncation, reason = "bounded to a small number")]
    let range = bounded(low.ceil()) as i32..=bounded(high.floor()) as i32;
    range
}

#[cfg(test)]
mod tests {
    use super::super::draw::{jiggle, random_pose};
    use super::super::symmetry::Symmetry;
    use super::super::tests::forgotten;
    use super::super::wanted::Wanted;
    use super::{Laid, WANTED_MARGIN};
    use crate::pattern::craft;
    use crate::pattern::find::margin::{Want, margin};
    use crate::pose::Pose;
    use crate::solve::Dice;

    /// The same by way of the pairs that the solver sees; without end if a link is out of its reach.
    fn seen_by_the_solver(wanted: &Wanted, pose: &Pose) -> f64 {
        let mut sum = 0.0;
        let mut unseen: usize = wanted.between.iter().map(Vec::len).sum();
        pose.visit_pairs(WANTED_MARGIN, |i, j, image, placed| {
            // Pairs in other cells are seen from either ring, links from the lower one.
            let (at, seen_from) = if i <= j {
                (i * pose.rings.len() + j, image)
            } else {
                (j * pose.rings.len() + i, image.map(|cells| -cells))
            };
            let link = wanted.between[at].iter().find(|(linked, _)| *linked == seen_from);
            unseen -= usize::from(link.is_some());
            let want = link.map_or(Want::Apart, |&(_, sign)| Want::Linked(sign));
            let first = pose.rings[i].circle;
            let room = WANTED_MARGIN * first.radius.min(placed.radius).min(1.0);
            sum += (room - margin(first, placed, want)).max(0.0).powi(2);
        });
        if unseen == 0 { sum } else { f64::INFINITY }
    }

    #[test]
    fn what_is_kept_move_by_move_is_what_all_pairs_lack() {
        let mut dice = Dice::new(3);
        let mut compared = 0;
        for spec in craft::all() {
            let wanted = Wanted::new(&forgotten(&spec.name)).expect("a pattern of the craft");
            let symmetry = Symmetry::none(wanted.rings.len());
            let mut laid = Laid::new(&wanted, random_pose(&wanted, &symmetry, &mut dice));
            for _ in 0..200 {
                jiggle(&wanted, &symmetry, &mut laid, 0.3, &mut dice);
                let afresh = Laid::new(&wanted, laid.pose.clone()).shortfall();
                assert!((laid.shortfall() - afresh).abs() < 1e-9 * afresh.max(1.0));
                let by_pairs = seen_by_the_solver(&wanted, &laid.pose);
                if by_pairs.is_finite() {
                    compared += 1;
                    assert!((afresh - by_pairs).abs() < 1e-9 * afresh.max(1.0), "{}", spec.name);
                }
            }
        }
        assert!(compared > 300, "{compared}");
    }
}
