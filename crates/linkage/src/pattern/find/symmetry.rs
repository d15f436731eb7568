//! Symmetries that a start pose may be given: a motion or a mirror that carries every ring onto a ring
//! of its kind, with links onto links.
//!
//! What makers describe nearly always has some. A pose that keeps a symmetry has fewer rings to place,
//! and chance meets it far more often than by throwing every ring on its own.

use super::Repeat;
use super::draw::chosen;
use super::relabel::{Across, Relabelling, relabelling};
use super::wanted::Wanted;
use crate::circle::Circle;
use crate::pattern::{Cell, Image};
use crate::pose::Pose;
use crate::solve::Dice;
use crate::vector::{Rotation, Vec3};

/// What holds the cell to its symmetries while it is stretched.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Held {
    /// A twist that a mirror demands.
    pub twist_rad: Option<f64>,
    /// Sideways step from row to row, in halves of the advance along a row.
    pub half_shears: Option<i32>,
}

/// One symmetry: signs along x, y, z, then a part of the way to the next cell.
#[derive(Clone, Debug, PartialEq)]
struct Element {
    signs: [i8; 3],
    /// Part of the way, in halves of cells.
    halves: Image,
    across: Across,
    relabelling: Relabelling,
}

/// Where a ring goes by a symmetry: seen in its own cell.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Carry {
    signs: [i8; 3],
    halves: Image,
    /// Whether its normal is turned round on the way.
    flip: i8,
}

/// Rings that symmetries carry onto each other.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Orbit {
    /// The ring that is placed;
    pub ring: usize,
    /// symmetries that leave it where it is,
    kept_by: Vec<Carry>,
    /// and the others, each with the ring it is carried onto.
    others: Vec<(usize, Carry)>,
}

impl Orbit {
    /// The rings of the orbit.
    pub(super) fn rings(&self) -> impl Iterator<Item = usize> + '_ {
        std::iter::once(self.ring).chain(self.others.iter().map(|(ring, _)| *ring))
    }

    /// Puts its first ring where its symmetries allow, and the others accordingly.
    pub(super) fn settle(&self, pose: &mut Pose) {
        let cell = pose.cell;
        let mut first = pose.rings[self.ring].circle;
        for carry in &self.kept_by {
            let there = carry.carried(cell, first);
            let centre = (first.centre + there.centre) * 0.5;
            let normal = (first.normal + there.normal).unit().unwrap_or_else(|| {
                // It stood the one way that it may not: any way that it may is as good.
                let [lean, _] = first.normal.frame();
                let leant = Circle { normal: lean, ..first };
                (lean + carry.carried(cell, leant).normal).unit().unwrap_or(first.normal)
            });
            first = Circle { centre, normal, ..first };
        }
        pose.rings[self.ring].circle = first;
        for (ring, carry) in &self.others {
            pose.rings[*ring].circle = carry.carried(cell, first);
        }
    }
}

impl Carry {
    fn carried(self, cell: Cell, circle: Circle) -> Circle {
        let [x, y, z] = self.signs.map(f64::from);
        let signed = |v: Vec3| Vec3::new(v.x * x, v.y * y, v.z * z);
        let part = self.halves.map(|halves| 0.5 * f64::from(halves));
        let (rotation, shift) = match cell {
            Cell::Screw { period, twist_rad, .. } => {
                let axis = Vec3::new(0.0, 0.0, 1.0);
                (Rotation::about(axis, part[0] * twist_rad), axis * (part[0] * period))
            }
            Cell::Lattice { along, shear, across } => {
                let shift = Vec3::new(part[0] * along + part[1] * shear, part[1] * across, 0.0);
                (Rotation::NONE, shift)
            }
            Cell::Cluster | Cell::Bend { .. } => (Rotation::NONE, Vec3::ZERO),
        };
        // A mirror turns the sense of a ring round; what is told here is its oriented normal.
        let sense = x * y * z * f64::from(self.flip);
        Circle {
            centre: rotation.turn(signed(circle.centre)) + shift,
            normal: rotation.turn(signed(circle.normal)) * sense,
            ..circle
        }
    }
}

impl Element {
    fn carry(&self, ring: usize) -> Carry {
        let place = self.relabelling.places[ring];
        let halves = [0, 1].map(|n| self.halves[n] - 2 * place.cell[n]);
        Carry { signs: self.signs, halves, flip: place.flip }
    }

    /// First the other, then this one.
    fn after(&self, first: &Element) -> Element {
        let carried = self.across.apply(first.halves);
        Element {
            signs: [0, 1, 2].map(|n| self.signs[n] * first.signs[n]),
            halves: [0, 1].map(|n| self.halves[n] + carried[n]),
            across: self.across.after(first.across),
            relabelling: self.relabelling.after(self.across, &first.relabelling),
        }
    }

    /// Whether this is the other one but for whole cells.
    fn is_but_for_cells(&self, other: &Element) -> bool {
        let cells =
            |n: usize| self.relabelling.places[0].cell[n] - other.relabelling.places[0].cell[n];
        let by = [cells(0), cells(1)];
        let halves = (0..2).all(|n| self.halves[n] - other.halves[n] == 2 * by[n]);
        halves && self.across == other.across && self.relabelling.is_moved(&other.relabelling, by)
    }
}

/// A group of symmetries, as the orbits of rings under it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Symmetry {
    pub orbits: Vec<Orbit>,
    pub held: Held,
}

impl Symmetry {
    /// None: every ring on its own.
    pub(super) fn none(rings: usize) -> Symmetry {
        let alone = |ring| Orbit { ring, kept_by: Vec::new(), others: Vec::new() };
        Symmetry { orbits: (0..rings).map(alone).collect(), held: Held::default() }
    }

    /// A random group that the links allow, of so many generators; `None` if the dice found none.
    pub(super) fn drawn(wanted: &Wanted, generators: usize, dice: &mut Dice) -> Option<Symmetry> {
        let (held, half_shears) = drawn_hold(wanted.repeat, dice);
        let mut group: Vec<Element> = Vec::new();
        for _ in 0..generators {
            let element = drawn_element(wanted, held, half_shears, dice)?;
            group = closed(group, element)?;
        }
        let orbits = orbits(wanted.rings.len(), &group)?;
        let is_skew = |e: &Element| matches!(wanted.repeat, Repeat::Sheet) && e.across.is_skew();
        let shears = group.iter().any(is_skew).then_some(half_shears);
        let mirrored = |e: &Element| e.signs.iter().product::<i8>() < 0;
        let twist_rad = held.twist_rad.filter(|_| group.iter().any(mirrored));
        Some(Symmetry { orbits, held: Held { twist_rad, half_shears: shears } })
    }

    /// Puts every ring where the symmetries want it.
    pub(super) fn settle(&self, pose: &mut Pose) {
        for orbit in &self.orbits {
            orbit.settle(pose);
        }
    }
}

/// The twist for mirrors, and the halves of shear for mirrors across a sheet.
fn drawn_hold(repeat: Repeat, dice: &mut Dice) -> (Held, i32) {
    let half_turn = std::f64::consts::PI;
    let twist_rad = match repeat {
        Repeat::Chain { twist_rad, twist_free: false } => {
            (twist_rad.sin().abs() < 1e-9).then_some(twist_rad)
        }
        Repeat::Chain { .. } => Some(half_turn * chosen(dice, 2) as f64),
        Repeat::Sheet | Repeat::Not => None,
    };
    let half_shears = [0, 1, -1][chosen(dice, 3)];
    (Held { twist_rad, half_shears: None }, half_shears)
}

fn drawn_element(
    wanted: &Wanted,
    held: Held,
    half_shears: i32,
    dice: &mut Dice,
) -> Option<Element> {
    let mut signs: [i8; 3] = [0; 3].map(|_: i8| if chosen(dice, 2) == 0 { 1 } else { -1 });
    let mut mirrored = signs.iter().product::<i8>() < 0;
    if matches!(wanted.repeat, Repeat::Chain { .. }) && mirrored && held.twist_rad.is_none() {
        signs[0] = -signs[0];
        mirrored = false;
    }
    let across = match wanted.repeat {
        Repeat::Not => Across::SAME,
        Repeat::Chain { .. } => Across::along(signs[2]),
        Repeat::Sheet => Across::sheet(signs[0], signs[1], half_shears),
    };
    let relabelling = relabelling(wanted, across, if mirrored { -1 } else { 1 }, dice)?;
    let halves = relabelling.twice;
    let half_turned = held.twist_rad.is_some_and(|twist| twist.cos() < 0.0);
    if mirrored && half_turned && halves[0] % 2 != 0 {
        return None;
    }
    let nothing = signs.iter().all(|sign| *sign > 0) && halves.iter().all(|n| n % 2 == 0);
    if nothing {
        return None;
    }
    let moved_on = |n: i32| wanted.repeat != Repeat::Not || n == 0;
    halves.iter().all(|&n| moved_on(n)).then_some(Element { signs, halves, across, relabelling })
}

/// The group of these symmetries and one more, without whole cells; `None` if they do not go together.
fn closed(mut group: Vec<Element>, more: Element) -> Option<Vec<Element>> {
    /// Groups of signs have eight at most, half cells along and across four times that.
    const MOST: usize = 16;
    group.push(more);
    let mut tied = 0;
    while tied < group.len() {
        for first in 0..group.len() {
            for (a, b) in [(tied, first), (first, tied)] {
                let product = group[a].after(&group[b]);
                if product.relabelling.is_no_change() {
                    // Nothing changes: the motion must be that of whole cells, or of none.
                    let by = product.relabelling.places[0].cell;
                    let is_plain = product.signs.iter().all(|sign| *sign > 0);
                    let is_moved = (0..2).all(|n| product.halves[n] == 2 * by[n]);
                    if is_plain && is_moved && product.across == Across::SAME {
                        continue;
                    }
                }
                if group
                    .iter()
                    .any(|known| known.signs == product.signs && known.is_but_for_cells(&product))
                {
                    continue;
                }
                let same_motion = |known: &Element| {
                    known.signs == product.signs
                        && (0..2).all(|n| (known.halves[n] - product.halves[n]) % 2 == 0)
                };
                let is_plain = product.signs.iter().all(|sign| *sign > 0)
                    && product.halves.iter().all(|n| n % 2 == 0);
                if is_plain || group.iter().any(same_motion) || group.len() >= MOST {
                    return None;
                }
                group.push(product);
            }
        }
        tied += 1;
    }
    Some(group)
}

/// Orbits of the rings; `None` if a ring would have to lie in two places.
fn orbits(rings: usize, group: &[Element]) -> Option<Vec<Orbit>> {
    let mut orbits: Vec<Orbit> = Vec::new();
    let mut placed = vec![false; rings];
    for ring in 0..rings {
        if placed[ring] {
            continue;
        }
        placed[ring] = true;
        let mut orbit = Orbit { ring, kept_by: Vec::new(), others: Vec::new() };
        let mut may_face = [true; 3];
        for element in group {
            let to = element.relabelling.places[ring].ring;
            let carry = element.carry(ring);
            if to == ring {
                // It may be turned or mirrored on the spot; what moves it on cannot keep it.
                let carried = element.across.apply(carry.halves);
                let moves_on = (0..2).any(|n| carried[n] + carry.halves[n] != 0);
                if moves_on || element.signs.iter().all(|sign| *sign > 0) {
                    return None;
                }
                let sense = element.signs.iter().product::<i8>() * carry.flip;
                for (may, sign) in may_face.iter_mut().zip(element.signs) {
                    *may &= sense * sign > 0;
                }
                orbit.kept_by.push(carry);
            } else if !placed[to] {
                placed[to] = true;
                orbit.others.push((to, carry));
            }
        }
        if may_face == [false; 3] {
            return None;
        }
        orbits.push(orbit);
    }
    Some(orbits)
}

#[cfg(test)]
mod tests {
    use super::super::draw::random_pose;
    use super::super::tests::forgotten;
    use super::super::wanted::Wanted;
    use super::Symmetry;
    use crate::pattern::{craft, measured_links};
    use crate::pose::Pose;
    use crate::solve::Dice;

    /// Links of each ring in a pose, whatever they are.
    fn links_of_each(pose: &Pose) -> Vec<usize> {
        let mut links = vec![0; pose.rings.len()];
        for link in measured_links(pose) {
            links[link.first] += 1;
            links[link.second] += 1;
        }
        links
    }

    #[test]
    fn rings_carried_onto_each_other_are_linked_alike_wherever_the_first_is_thrown() {
        let mut dice = Dice::new(5);
        let (mut groups, mut rings_saved) = (0, 0);
        for spec in craft::all() {
            let wanted = Wanted::new(&forgotten(&spec.name)).expect("a pattern of the craft");
            for turn in 0..20 {
                let Some(symmetry) = Symmetry::drawn(&wanted, 1 + turn % 2, &mut dice) else {
                    continue;
                };
                groups += 1;
                rings_saved += wanted.rings.len() - symmetry.orbits.len();
                let mut pose = random_pose(&wanted, &symmetry, &mut dice);
                symmetry.settle(&mut pose);
                let mut again = pose.clone();
                symmetry.settle(&mut again);
                for (a, b) in pose.rings.iter().zip(&again.rings) {
                    let off = (a.circle.centre - b.circle.centre).norm();
                    let turned = (a.circle.normal - b.circle.normal).norm();
                    assert!(off < 1e-9 && turned < 1e-9, "{}: settled rings stay", spec.name);
                }
                let links = links_of_each(&pose);
                for orbit in &symmetry.orbits {
                    let mut alike = orbit.rings().map(|ring| links[ring]);
                    let first = alike.next();
                    assert!(alike.all(|other| Some(other) == first), "{}: {links:?}", spec.name);
                }
            }
        }
        assert!(groups > 150 && rings_saved > 150, "{groups} {rings_saved}");
    }
}
