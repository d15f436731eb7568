//! Contacts of a pose: every place where two rings come near, and how it changes with the unknowns.

use crate::circle::{Closest, DistanceProfile};
use crate::pattern::Image;
use crate::pose::{PER_RING, Pose};

/// A place where two centrelines come near each other.
#[derive(Clone, Debug)]
pub(crate) struct Contact {
    /// Ring of the cell.
    pub first: usize,
    /// Ring of the copy.
    pub second: usize,
    /// Which copy.
    pub image: Image,
    /// The two points and their distance.
    pub closest: Closest,
    /// Distance wanted, in main wire diameters.
    pub share: f64,
    /// Derivative of the distance by the unknowns, as (unknown, value), each unknown once.
    pub gradient: Vec<(usize, f64)>,
}

/// Every contact of the pose nearer than `share * wire + reach`.
///
/// # Source
/// By the envelope theorem the distance `f = |P - Q|` changes as `u.(dP - dQ)`, `u = (P - Q)/f`, both
/// at a minimum and at a fixed sample of circle 1; `docs/theory/chain.md`, section 3.
pub(crate) fn contacts(pose: &Pose, wire: f64, reach: f64) -> Vec<Contact> {
    let mut found = Vec::new();
    let widest = pose.rings.iter().map(|r| r.wire_share).fold(0.0, f64::max);
    pose.visit_pairs(widest * wire + reach, |i, j, image, placed| {
        let share = pose.share(i, j);
        let profile = DistanceProfile::new(pose.rings[i].circle, placed);
        profile.visit_below(share * wire + reach, true, |closest| {
            found.push(Contact {
                first: i,
                second: j,
                image,
                closest,
                share,
                gradient: gradient(pose, i, j, image, closest),
            });
        });
    });
    found
}

/// Largest main wire diameter that every pair of rings of the pose leaves room for.
///
/// `min over pairs of f / share`: `f` distance of the centrelines, `share` the mean of both wires as
/// shares of the main wire.
///
/// # Units
/// That of the pose.
/// # Validity
/// For a ring alone it is the diameter of the largest ring, by convention.
/// # Source
/// Definition.
pub fn room(pose: &Pose) -> f64 {
    let mut room = 2.0 * pose.arm();
    let widest = pose.rings.iter().map(|r| r.wire_share).fold(0.0, f64::max);
    pose.visit_pairs(widest * room, |i, j, _, placed| {
        let (circle, share) = (pose.rings[i].circle, pose.share(i, j));
        let apart = (placed.centre - circle.centre).norm() - circle.radius - placed.radius;
        if apart < share * room {
            let nearest = DistanceProfile::new(circle, placed).nearest();
            room = room.min(nearest.distance / share);
        }
    });
    room
}

fn gradient(pose: &Pose, i: usize, j: usize, image: Image, closest: Closest) -> Vec<(usize, f64)> {
    let (circle_i, circle_j) = (pose.rings[i].circle, pose.rings[j].circle);
    let u = (closest.on_first - closest.on_second) * (1.0 / closest.distance);
    let mut gradient: Vec<(usize, f64)> = Vec::with_capacity(2 * PER_RING + 3);

    let arm = closest.on_first - circle_i.centre;
    let by_rotation = arm.cross(u) * (1.0 / circle_i.radius);
    let [e1, e2] = circle_i.normal.frame();
    let at = PER_RING * i;
    let by_first = [u.x, u.y, u.z, e1.dot(by_rotation), e2.dot(by_rotation)];
    gradient.extend(by_first.iter().enumerate().map(|(n, &value)| (at + n, value)));

    let motion = pose.cell.motion(image);
    let u_home = motion.rotation.back().turn(u);
    let arm = motion.rotation.back().turn(closest.on_second - motion.shift) - circle_j.centre;
    let by_rotation = arm.cross(u_home) * (1.0 / circle_j.radius);
    let [e1, e2] = circle_j.normal.frame();
    let by_second = [-u_home.x, -u_home.y, -u_home.z, -e1.dot(by_rotation), -e2.dot(by_rotation)];
    if i == j {
        for (entry, value) in gradient.iter_mut().zip(by_second) {
            entry.1 += value;
        }
    } else {
        let at = PER_RING * j;
        gradient.extend(by_second.iter().enumerate().map(|(n, &value)| (at + n, value)));
    }

    let at = PER_RING * pose.rings.len();
    let velocities = pose.cell.velocities(image, closest.on_second, pose.arm());
    let by_cell = velocities[..pose.cell.unknowns()].iter().enumerate();
    gradient.extend(by_cell.map(|(n, velocity)| (at + n, -u.dot(*velocity))));
    gradient
}
