//! What is drawn: rings in place, as many copies of the cell as show the pattern.

use linkwright_linkage::circle::Circle;
use linkwright_linkage::extent::extent;
use linkwright_linkage::pattern::{Cell, Image};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::vector::Vec3;

use super::seen_from::View;

/// How a ring is shown among the others.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Look {
    /// As all others.
    #[default]
    Plain,
    /// Added in the step that is shown.
    Fresh,
}

/// A ring of round wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Centreline, in millimetres.
    pub circle: Circle,
    /// Wire diameter, in millimetres.
    pub wire_mm: f64,
    /// How it is shown.
    pub look: Look,
}

impl Tube {
    /// Ring `ring` of copy `image` of a pose in which the main wire measures `wire`.
    pub fn placed(
        pose: &Pose,
        wire: f64,
        main_wire_mm: f64,
        ring: usize,
        image: Image,
        look: Look,
    ) -> Tube {
        let scale = main_wire_mm / wire;
        let placed = pose.placed(ring, image);
        Tube {
            circle: Circle {
                centre: placed.centre * scale,
                normal: placed.normal,
                radius: placed.radius * scale,
            },
            wire_mm: pose.rings[ring].wire_share * main_wire_mm,
            look,
        }
    }
}

/// Rings in place, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// The rings.
    pub tubes: Vec<Tube>,
}

/// A chain is shown at least so many times as long as it is wide.
const LONG: f64 = 2.6;
/// A sheet is shown about so many times as wide as it is high.
const BROAD: f64 = 1.6;

impl Scene {
    /// A piece of the pattern that shows how it goes on: no more than `rings_most` rings, but at
    /// least one cell.
    ///
    /// `pose` has a main ring radius of one, `wire` is the main wire in the same measure.
    pub fn piece(pose: &Pose, wire: f64, main_wire_mm: f64, rings_most: usize) -> Scene {
        Scene::of(pose, wire, main_wire_mm, &copies(pose, wire, rings_most))
    }

    /// Middle of what is seen of the rings, to the right, upwards and towards the eye.
    pub fn middle(&self, view: View) -> Vec3 {
        let ways = [view.right, view.up, view.towards];
        let [x, y, z] = ways.map(|way| {
            let ends = self.tubes.iter().map(|tube| {
                let (middle, half) = (tube.circle.centre.dot(way), tube.circle.half_extent(way));
                (middle - half - 0.5 * tube.wire_mm, middle + half + 0.5 * tube.wire_mm)
            });
            let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |so_far, end| {
                (so_far.0.min(end.0), so_far.1.max(end.1))
            });
            if low <= high { f64::midpoint(low, high) } else { 0.0 }
        });
        Vec3::new(x, y, z)
    }

    /// The rings of these copies of the cell.
    pub fn of(pose: &Pose, wire: f64, main_wire_mm: f64, images: &[Image]) -> Scene {
        let tubes = images.iter().flat_map(|&image| {
            (0..pose.rings.len())
                .map(move |ring| Tube::placed(pose, wire, main_wire_mm, ring, image, Look::Plain))
        });
        Scene { tubes: tubes.collect() }
    }
}

/// Copies of the cell that make a piece worth looking at: no more than `rings_most` rings, but at least
/// one cell.
pub fn copies(pose: &Pose, wire: f64, rings_most: usize) -> Vec<Image> {
    let most = i32::try_from((rings_most / pose.rings.len().max(1)).max(1)).unwrap_or(1);
    match pose.cell {
        Cell::Lattice { along, across, .. } => {
            // As near to the wanted shape as whole cells come.
            let high = (1..=most)
                .filter(|high| high * high <= most)
                .min_by(|a, b| {
                    let off = |high: i32| {
                        let broad = f64::from(most / high) * along.abs();
                        (broad / (f64::from(high) * across.abs()) / BROAD).ln().abs()
                    };
                    off(*a).total_cmp(&off(*b))
                })
                .unwrap_or(1);
            let broad = (BROAD * f64::from(high) * across.abs() / along.abs()).round();
            let broad = whole(broad).clamp(1, (most / high).max(1));
            (0..high).flat_map(|r| (0..broad).map(move |q| [q, r])).collect()
        }
        Cell::Screw { period, .. } => {
            let wanted = (LONG * extent(pose, wire).widest / period.abs()).ceil();
            (0..whole(wanted).clamp(2, most.max(2))).map(|q| [q, 0]).collect()
        }
        Cell::Bend { .. } => (0..most.min(6)).map(|q| [q, 0]).collect(),
        _ => vec![[0, 0]],
    }
}

fn whole(number: f64) -> i32 {
    #[expect(clippy::cast_possible_truncation, reason = "`as` saturates")]
    let whole = number as i32;
    whole
}
