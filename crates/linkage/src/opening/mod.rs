//! Room for an opened ring: how far a ring can stand open in its place among the others.
//!
//! A ring is opened sideways: its halves stay flat and tilt about the tangent at its back, one up, one
//! down, until the ends stand apart. Nothing else moves. What is asked is how far that goes before a
//! half touches another ring, with the seam wherever round the ring it goes furthest.

mod last;

pub(crate) use last::last_ring;
pub use last::{Fits, needed};

use std::f64::consts::{PI, TAU};

use crate::circle::Circle;
use crate::pose::Pose;
use crate::solve::{Halt, Watch, made_room};
use crate::vector::{Rotation, Vec3};

/// Places of the seam that are tried round the ring.
const SEAMS: u32 = 36;
/// Samples along each half.
const SAMPLES: u32 = 48;
/// Steps in which the ends are moved apart, up to [`WIDEST`].
const STEPS: u32 = 60;
/// Times the last step is halved.
const HALVINGS: u32 = 5;
/// Rings that a cell should have, so that a ring does not stand beside its own copy.
const FEW_RINGS: usize = 3;
/// Steps in which the wire of the ring is grown: close together where there is little play.
const THICKENED: [f64; 7] = [1.03, 1.08, 1.15, 1.3, 1.6, 2.0, 2.5];
/// Distance of the ends, in wires of the ring, beyond which nobody opens a ring.
pub(crate) const WIDEST: f64 = 3.0;

/// A ring standing open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opened {
    /// Ring of the cell.
    pub ring: usize,
    /// Where its seam is, as a unit vector from the ring's centre.
    pub seam: Vec3,
    /// Distance of the two ends from middle to middle of the wire, sideways.
    pub ends_apart: f64,
}

/// How far a ring of the pose can stand open, with the seam at its best place.
///
/// `wire` is the main wire; the pose leaves room for at least as much. What the pose leaves beyond is
/// the play the opened ring uses up.
///
/// # Units
/// Those of the pose.
/// # Validity
/// Other rings keep their places, so that more is possible, never less. At most three wires.
/// # Source
/// Two flat half rings tilted about the tangent at the back; own derivation, `docs/theory/chain.md`,
/// section 8.
///
/// ```
/// use linkwright_linkage::{opening::opened, pattern::{craft, Pattern}};
/// use linkwright_linkage::solve::{thickest_wire, Patient, Search};
/// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
/// let search = Search { starts: 1, seed: 1 };
/// let slack = thickest_wire(&cable, search, &mut Patient).unwrap().pose;
/// // In wire of aspect ratio 4, with room for 2: the ends come two wires apart and more.
/// let open = opened(&slack, 0.4, 0);
/// assert!(open.ends_apart > 0.8);
/// ```
pub fn opened(pose: &Pose, wire: f64, ring: usize) -> Opened {
    let own = pose.rings[ring];
    let widest = WIDEST * wire * own.wire_share;
    let neighbours = neighbours(pose, wire, ring, widest);
    let [first, second] = own.circle.normal.frame();
    let mut best = Opened { ring, seam: first, ends_apart: 0.0 };
    for place in 0..2 * SEAMS {
        // Each place twice: either end may be the upper one.
        let (sin, cos) = (TAU * f64::from(place / 2) / f64::from(SEAMS)).sin_cos();
        let seam = first * cos + second * sin;
        let up = if place % 2 == 0 { own.circle.normal } else { -own.circle.normal };
        let fits = |apart: f64| halves_are_clear(own.circle, seam, up, apart, &neighbours);
        let step = widest / f64::from(STEPS);
        let steps = (1..=STEPS).take_while(|&count| fits(step * f64::from(count))).count();
        let mut ends_apart = step * steps as f64;
        if steps < STEPS as usize && ends_apart + step > best.ends_apart {
            let mut half = 0.5 * step;
            for _ in 0..HALVINGS {
                if fits(ends_apart + half) {
                    ends_apart += half;
                }
                half *= 0.5;
            }
        }
        if ends_apart > best.ends_apart {
            best = Opened { ring, seam, ends_apart };
        }
    }
    best
}

/// How far a ring of the pattern can stand open once the others have made way for it.
///
/// The others make way as for a ring of thicker wire: its wire is grown in steps while theirs stays, and
/// at every step the ring, back in its own wire, is opened. Neighbours of its own kind in other cells
/// are left as they are by taking at least three cells together.
///
/// # Units
/// Those of the pose.
/// # Validity
/// As [`opened`]: more is possible, never less.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// Own method; `docs/theory/chain.md`, section 8.
///
/// ```
/// use linkwright_linkage::opening::{opened, opened_at_ease};
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{thickest_wire, Patient, Search};
/// let doubled = Pattern::new(craft::named("double_2in2").unwrap()).unwrap();
/// let search = Search { starts: 1, seed: 1 };
/// let slack = thickest_wire(&doubled, search, &mut Patient).unwrap().pose;
/// let eased = opened_at_ease(&slack, 0.4, 0, &mut Patient).unwrap();
/// assert!(eased.ends_apart >= opened(&slack, 0.4, 0).ends_apart);
/// ```
pub fn opened_at_ease(
    pose: &Pose,
    wire: f64,
    ring: usize,
    watch: &mut dyn Watch,
) -> Result<Opened, Halt> {
    let cells = FEW_RINGS.div_ceil(pose.rings.len()).clamp(1, 3);
    let mut pose = pose.repeated(u32::try_from(cells).unwrap_or(1));
    let own_share = pose.rings[ring].wire_share;
    let mut best = opened(&pose, wire, ring);
    for thicker in THICKENED {
        pose.rings[ring].wire_share = own_share * thicker;
        let Some(mut eased) = made_room(&pose, wire, watch)? else {
            break;
        };
        pose = eased.clone();
        eased.rings[ring].wire_share = own_share;
        let open = opened(&eased, wire, ring);
        if open.ends_apart > best.ends_apart {
            best = open;
        }
    }
    Ok(best)
}

/// A ring nearby and the distance its centreline keeps.
struct Neighbour {
    circle: Circle,
    keeps: f64,
}

fn neighbours(pose: &Pose, wire: f64, ring: usize, widest: f64) -> Vec<Neighbour> {
    let mut found = Vec::new();
    // What rounding may have taken from a pose that has just the room for its wire.
    let keeps = |first: usize, second: usize| pose.share(first, second) * wire * (1.0 - 1e-6);
    pose.visit_pairs(wire + widest, |first, second, image, placed| {
        if first == ring {
            found.push(Neighbour { circle: placed, keeps: keeps(first, second) });
        }
        if second == ring {
            // The same pair seen from the copy: the other ring lies one copy behind.
            let behind = pose.placed(first, image.map(|q| -q));
            found.push(Neighbour { circle: behind, keeps: keeps(first, second) });
        }
    });
    found
}

fn halves_are_clear(
    own: Circle,
    seam: Vec3,
    up: Vec3,
    ends_apart: f64,
    neighbours: &[Neighbour],
) -> bool {
    let back = own.centre - seam * own.radius;
    let tangent = up.cross(seam);
    // The end of a half is two radii from the tangent at the back.
    let tilt = (0.25 * ends_apart / own.radius).clamp(-1.0, 1.0).asin();
    [1.0, -1.0].iter().all(|&side| {
        // A turn about the tangent takes the seam towards `up` or away from it.
        let turned = Rotation::about(tangent, -side * tilt);
        (0..=SAMPLES).all(|sample| {
            let (sin, cos) = (PI * f64::from(sample) / f64::from(SAMPLES)).sin_cos();
            // From the back (cos = 1) round to the seam, on one side of the diameter.
            let flat = seam * (own.radius * (1.0 - cos)) + tangent * (side * own.radius * sin);
            let point = back + turned.turn(flat);
            neighbours.iter().all(|n| distance_from(point, n.circle) >= n.keeps)
        })
    })
}

/// Distance of a point from a circle.
fn distance_from(point: Vec3, circle: Circle) -> f64 {
    let w = point - circle.centre;
    let height = w.dot(circle.normal);
    let out = (w.dot(w) - height * height).max(0.0).sqrt();
    height.hypot(out - circle.radius)
}

#[cfg(test)]
mod tests {
    use super::{WIDEST, distance_from, halves_are_clear, opened};
    use crate::circle::Circle;
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Patient, Search, thickest_wire};
    use crate::vector::Vec3;

    const EX: Vec3 = Vec3::new(1.0, 0.0, 0.0);
    const EZ: Vec3 = Vec3::new(0.0, 0.0, 1.0);

    #[test]
    fn a_point_is_as_far_from_a_circle_as_pythagoras_says() {
        let circle = Circle { centre: Vec3::ZERO, normal: EZ, radius: 2.0 };
        // 3 out of the middle and 1 up: one out, one up.
        assert!((distance_from(Vec3::new(3.0, 0.0, 1.0), circle) - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((distance_from(Vec3::ZERO, circle) - 2.0).abs() < 1e-15);
    }

    #[test]
    fn a_ring_alone_opens_as_far_as_anyone_would() {
        let own = Circle { centre: Vec3::ZERO, normal: EZ, radius: 1.0 };
        assert!(halves_are_clear(own, EX, EZ, 1.5, &[]));
        // A cluster of one ring would be no pattern; a far neighbour does as well.
        let spec = craft::named("cable_1in1").expect("known");
        let cable = Pattern::new(spec).expect("valid");
        let open = opened(cable.start(), 0.001, 0);
        assert!((open.ends_apart - WIDEST * 0.001).abs() < 1e-12);
    }

    #[test]
    fn at_the_limit_no_ring_opens_and_thinner_wire_opens_further() {
        for name in ["cable_1in1", "double_2in2", "european_4in1_sheet", "half_persian_4in1"] {
            let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
            let found = thickest_wire(&pattern, Search { starts: 2, seed: 1 }, &mut Patient);
            let found = found.expect("not stopped");
            let in_wires = |share: f64| {
                let wire = share * found.room;
                opened(&found.pose, wire, 0).ends_apart / wire
            };
            let opens = [0.9999, 0.95, 0.8, 0.6].map(in_wires);
            assert!(opens[0] < 0.6, "{name}: {opens:?}");
            assert!(opens.windows(2).all(|pair| pair[0] <= pair[1]), "{name}: {opens:?}");
            assert!(opens[3] > 1.0, "{name}: {opens:?}");
        }
    }
}
