//! The centreline of a ring: a circle in space, its distance to another and how the two are linked.

mod distance;
mod linking;

pub use distance::{Closest, DistanceProfile, distance};
pub use linking::linking_number;

use crate::vector::Vec3;

/// A circle in space; its normal says which way round it runs (right hand).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circle {
    /// Middle of the circle.
    pub centre: Vec3,
    /// Unit normal of its plane.
    pub normal: Vec3,
    /// Radius.
    pub radius: f64,
}

impl Circle {
    /// Half the room the circle takes along the unit vector `direction`: `R sqrt(1 - (n.e)^2)`.
    pub fn half_extent(self, direction: Vec3) -> f64 {
        let along = self.normal.dot(direction);
        self.radius * (1.0 - along * along).max(0.0).sqrt()
    }
}
