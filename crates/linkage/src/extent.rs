//! How wide, how thick and how tightly bent a solved pose is.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::circle::Circle;
use crate::pattern::Cell;
use crate::pose::{PlacedRing, Pose};
use crate::vector::Vec3;

/// Directions tried across a chain: one every half degree.
const DIRECTIONS: u32 = 360;
/// A chain this many times as wide as thick lies flat; own choice.
const FLAT: f64 = 1.15;
/// Copies looked at when the twist of a chain does not come round sooner.
const MOST_COPIES: i32 = 24;

/// Room a pose takes across.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// Extent at right angles to the thickness; 0 for a sheet, which is as wide as it is made.
    pub width: f64,
    /// Largest extent across over all directions; 0 for a sheet.
    pub widest: f64,
    /// Least extent across where that is a flat side, else across a ring's face or edges; for a sheet
    /// its thickness.
    pub thickness: f64,
    /// Direction of the least extent of a chain, as angle from the x-axis.
    pub thin_way_rad: f64,
}

/// Width and thickness of a pose in which the main wire has diameter `wire`.
///
/// A ring takes `R sqrt(1 - (n.e)^2) + d/2` to either side along the unit vector `e`. A chain is seen
/// from the end, all its copies laid over each other, and turned between two parallel jaws: the
/// narrowest opening is the thickness, the opening across it the width. Where the two hardly differ
/// there is no flat side, and the jaws are laid to a ring instead, on its edges and on its face: a
/// cable chain is as wide as its rings are outside. (`widest` of a square tube is its diagonal.)
///
/// # Units
/// Those of the pose.
/// # Validity
/// Rings that carry no force are loose in a taut chain, so that widths are softer numbers than lengths:
/// within about 10 %.
/// # Source
/// Extent of a circle along a direction; own derivation.
///
/// ```
/// use linkwright_linkage::{extent::extent, pattern::{craft, Pattern}};
/// // Flat square lattice of rings seen from the side: upright rings of radius 0.6 and wire 0.1.
/// let sheet = Pattern::new(craft::named("square_4in1_sheet").unwrap()).unwrap();
/// assert!((extent(sheet.start(), 0.1).thickness - 1.3).abs() < 1e-12);
/// ```
pub fn extent(pose: &Pose, wire: f64) -> Extent {
    if matches!(pose.cell, Cell::Lattice { .. }) {
        return Extent {
            width: 0.0,
            widest: 0.0,
            thickness: along(&in_place(pose, wire, 1), Vec3::new(0.0, 0.0, 1.0)),
            thin_way_rad: 0.0,
        };
    }
    let rings = in_place(pose, wire, copies_of_a_round(pose.cell));
    let open = |angle: f64| along(&rings, Vec3::new(angle.cos(), angle.sin(), 0.0));
    let mut seen = Extent { width: 0.0, widest: 0.0, thickness: f64::INFINITY, thin_way_rad: 0.0 };
    for step in 0..DIRECTIONS {
        let angle = PI * f64::from(step) / f64::from(DIRECTIONS);
        let opening = open(angle);
        seen.widest = seen.widest.max(opening);
        if opening < seen.thickness {
            seen.thickness = opening;
            seen.thin_way_rad = angle;
        }
    }
    seen.width = open(seen.thin_way_rad + FRAC_PI_2);
    if seen.width < FLAT * seen.thickness {
        let laid_to = |ring: &PlacedRing| {
            let normal = ring.circle.normal;
            let facing = normal.y.atan2(normal.x);
            let (face, edges) = (open(facing), open(facing + FRAC_PI_2));
            [face.max(edges), face.min(edges)]
        };
        let wider = |a: [f64; 2], b: [f64; 2]| if b[0] > a[0] + 1e-9 { b } else { a };
        if let Some([width, thickness]) = pose.rings.iter().map(laid_to).reduce(wider) {
            (seen.width, seen.thickness) = (width, thickness);
        }
    }
    seen
}

/// Every ring of the copies in place, with half its wire; placed once, since many directions are asked for.
fn in_place(pose: &Pose, wire: f64, copies: i32) -> Vec<(Circle, f64)> {
    let rings = || pose.rings.iter().enumerate();
    (0..copies)
        .flat_map(|copy| rings().map(move |(index, ring)| (copy, index, ring)))
        .map(|(copy, index, ring)| (pose.placed(index, [copy, 0]), 0.5 * wire * ring.wire_share))
        .collect()
}

fn along(rings: &[(Circle, f64)], direction: Vec3) -> f64 {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for (circle, half_wire) in rings {
        let middle = circle.centre.dot(direction);
        let half = circle.half_extent(direction) + half_wire;
        low = low.min(middle - half);
        high = high.max(middle + half);
    }
    high - low
}

/// Copies after which the twist of a chain has come round, to a hundredth of a degree.
pub(crate) fn copies_of_a_round(cell: Cell) -> i32 {
    let Cell::Screw { twist_rad, .. } = cell else {
        return 1;
    };
    let comes_round = |copies: &i32| {
        let turn = (f64::from(*copies) * twist_rad).rem_euclid(TAU);
        turn.min(TAU - turn) < 2e-4
    };
    (1..MOST_COPIES).find(comes_round).unwrap_or(MOST_COPIES)
}

/// What a piece of whole cells is longer than its cells times the advance: its end rings reach out
/// beyond the last cell.
///
/// The rings of a cell are taken in the order in which they lie along the chain, beginning where the
/// ends come out shortest. A cable chain gives two wires.
///
/// # Units
/// Those of the pose, of which the main wire has diameter `wire`.
/// # Validity
/// The end rings lie as they would in the middle of the chain; loose ones may hang out further.
/// Returns `None` for anything but a straight chain.
/// # Source
/// Extent of a circle along a direction; own derivation.
///
/// ```
/// use linkwright_linkage::{extent::overhang, pattern::{craft, Pattern}};
/// use linkwright_linkage::solve::{taut_from, Patient, Pull};
/// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
/// let taut = taut_from(cable.start(), 0.4, Pull::Along, &mut Patient).unwrap().unwrap();
/// assert!((overhang(&taut.pose, 0.4).unwrap() - 0.8).abs() < 1e-3);
/// ```
pub fn overhang(pose: &Pose, wire: f64) -> Option<f64> {
    let Cell::Screw { period, .. } = pose.cell else {
        return None;
    };
    let along = Vec3::new(0.0, 0.0, 1.0);
    // Bottom and top of every ring, with its centre brought into the first cell.
    let mut reaches: Vec<(f64, f64, f64)> = pose
        .rings
        .iter()
        .map(|ring| {
            let middle = ring.circle.centre.z.rem_euclid(period);
            let half = ring.circle.half_extent(along) + 0.5 * wire * ring.wire_share;
            (middle, middle - half, middle + half)
        })
        .collect();
    reaches.sort_by(|a, b| a.0.total_cmp(&b.0));
    let piece = |first: usize| {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (index, &(_, bottom, top)) in reaches.iter().enumerate() {
            let on = if index < first { period } else { 0.0 };
            low = low.min(bottom + on);
            high = high.max(top + on);
        }
        high - low - period
    };
    (0..reaches.len()).map(piece).reduce(f64::min)
}

/// Mean distance of the ring centres from the axis a chain is bent about.
///
/// The axis is the fixed point of the motion `x -> R x + t`: `p = (1 - R)^-1 t`.
///
/// # Units
/// Those of the pose.
/// # Validity
/// Returns `None` for a pose that is not bent.
/// # Source
/// Fixed point of a plane rigid motion; textbook geometry, from memory.
pub fn bend_radius(pose: &Pose) -> Option<f64> {
    let (x, z) = bend_axis(pose.cell)?;
    let distances = pose.rings.iter().map(|ring| {
        let centre = ring.circle.centre;
        (centre.x - x).hypot(centre.z - z)
    });
    Some(distances.sum::<f64>() / pose.rings.len() as f64)
}

/// Radius of the round bar a bent chain of main wire `wire` lies on: what its rings leave free round
/// the axis of the bend.
///
/// # Units
/// Those of the pose.
/// # Validity
/// Returns `None` for a pose that is not bent. Negative if a wire lies across the axis.
/// # Source
/// Least distance of the centrelines from the axis, less half the wire; centrelines are sampled every
/// half degree, which overstates by less than 1e-5 of the ring radius.
pub fn inside_radius(pose: &Pose, wire: f64) -> Option<f64> {
    let (x, z) = bend_axis(pose.cell)?;
    let free = |ring: &PlacedRing| {
        let circle = ring.circle;
        let [across, on] = circle.normal.frame();
        let distance = |step: u32| {
            let (sin, cos) = (TAU * f64::from(step) / 720.0).sin_cos();
            let point = circle.centre + (across * cos + on * sin) * circle.radius;
            (point.x - x).hypot(point.z - z)
        };
        let nearest = (0..720).map(distance).fold(f64::INFINITY, f64::min);
        nearest - 0.5 * wire * ring.wire_share
    };
    pose.rings.iter().map(free).reduce(f64::min)
}

/// Where the axis of a bend stands in the x-z plane.
fn bend_axis(cell: Cell) -> Option<(f64, f64)> {
    let Cell::Bend { turn_rad, shift_x, shift_z } = cell else {
        return None;
    };
    let (sin, cos) = turn_rad.sin_cos();
    let det = (1.0 - cos) * (1.0 - cos) + sin * sin;
    if det < 1e-12 {
        return None;
    }
    // A turn about y takes (x, z) to (x cos + z sin, z cos - x sin).
    let x = ((1.0 - cos) * shift_x + sin * shift_z) / det;
    let z = ((1.0 - cos) * shift_z - sin * shift_x) / det;
    Some((x, z))
}

#[cfg(test)]
mod tests {
    use super::{Pose, bend_radius, inside_radius};
    use crate::circle::Circle;
    use crate::pattern::Cell;
    use crate::pose::PlacedRing;
    use crate::vector::Vec3;

    #[test]
    fn a_chain_on_a_circle_of_radius_five_has_bend_radius_five() {
        // Axis at x = 5: the origin goes to (5 - 5 cos, 5 sin) under a turn that takes +z towards +x.
        let turn = 0.3_f64;
        let pose = Pose {
            rings: vec![PlacedRing {
                circle: Circle {
                    centre: Vec3::ZERO,
                    normal: Vec3::new(0.0, 1.0, 0.0),
                    radius: 1.0,
                },
                wire_share: 1.0,
                station: 0.0,
            }],
            cell: Cell::Bend {
                turn_rad: turn,
                shift_x: 5.0 - 5.0 * turn.cos(),
                shift_z: 5.0 * turn.sin(),
            },
        };
        let radius = bend_radius(&pose).expect("bent");
        assert!((radius - 5.0).abs() < 1e-12, "{radius}");
        // The ring lies in the plane of the bend: one radius and half a wire further in.
        let inside = inside_radius(&pose, 0.4).expect("bent");
        assert!((inside - 3.8).abs() < 1e-5, "{inside}");
    }
}
