//! Vectors in space and rotations about an axis: the few operations the geometry needs.

use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// A point or a displacement; its unit is that of the problem, usually the wire diameter.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// Component along the first axis.
    pub x: f64,
    /// Component along the second axis.
    pub y: f64,
    /// Component along the third axis, which is the way a chain runs.
    pub z: f64,
}

impl Vec3 {
    /// The origin, or no displacement.
    pub const ZERO: Vec3 = Vec3::new(0.0, 0.0, 0.0);

    /// From its components.
    pub const fn new(x: f64, y: f64, z: f64) -> Vec3 {
        Vec3 { x, y, z }
    }

    /// Scalar product.
    pub fn dot(self, other: Vec3) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// Vector product, right-handed.
    pub fn cross(self, other: Vec3) -> Vec3 {
        Vec3::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// Length.
    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The unit vector of the same direction, or `None` for a vector of no or of infinite length.
    pub fn unit(self) -> Option<Vec3> {
        let norm = self.norm();
        (norm.is_finite() && norm > 0.0).then(|| self * (1.0 / norm))
    }

    /// Whether all three components are finite numbers.
    pub const fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite() && self.z.is_finite()
    }

    /// Two unit vectors that make a right-handed frame with this unit vector.
    ///
    /// The first leans on the coordinate axis that is furthest from `self`, so that the frame is
    /// never close to degenerate.
    pub fn frame(self) -> [Vec3; 2] {
        let lean = if self.x.abs() <= self.y.abs() && self.x.abs() <= self.z.abs() {
            Vec3::new(1.0, 0.0, 0.0)
        } else if self.y.abs() <= self.z.abs() {
            Vec3::new(0.0, 1.0, 0.0)
        } else {
            Vec3::new(0.0, 0.0, 1.0)
        };
        let across = lean - self * self.dot(lean);
        let first = across * (1.0 / across.norm());
        [first, self.cross(first)]
    }
}

impl Add for Vec3 {
    type Output = Vec3;
    fn add(self, other: Vec3) -> Vec3 {
        Vec3::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl AddAssign for Vec3 {
    fn add_assign(&mut self, other: Vec3) {
        *self = *self + other;
    }
}

impl Sub for Vec3 {
    type Output = Vec3;
    fn sub(self, other: Vec3) -> Vec3 {
        Vec3::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Neg for Vec3 {
    type Output = Vec3;
    fn neg(self) -> Vec3 {
        Vec3::new(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Vec3;
    fn mul(self, factor: f64) -> Vec3 {
        Vec3::new(self.x * factor, self.y * factor, self.z * factor)
    }
}

/// A rotation about an axis through the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotation {
    axis: Vec3,
    cos: f64,
    sin: f64,
}

impl Rotation {
    /// No rotation.
    pub const NONE: Rotation = Rotation { axis: Vec3::new(0.0, 0.0, 1.0), cos: 1.0, sin: 0.0 };

    /// By `angle_rad` about the unit vector `axis`, right-handed.
    pub fn about(axis: Vec3, angle_rad: f64) -> Rotation {
        let (sin, cos) = angle_rad.sin_cos();
        Rotation { axis, cos, sin }
    }

    /// Turns a vector: Rodrigues' formula.
    pub fn turn(self, v: Vec3) -> Vec3 {
        v * self.cos
            + self.axis.cross(v) * self.sin
            + self.axis * (self.axis.dot(v) * (1.0 - self.cos))
    }

    /// The rotation the other way round.
    pub const fn back(self) -> Rotation {
        Rotation { axis: self.axis, cos: self.cos, sin: -self.sin }
    }
}

#[cfg(test)]
mod tests {
    use super::{Rotation, Vec3};

    #[test]
    fn a_frame_is_right_handed_and_of_unit_length() {
        for axis in [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, -1.0, 0.0), Vec3::new(0.6, 0.0, -0.8)]
        {
            let [first, second] = axis.frame();
            // Rounding of a handful of products.
            assert!((first.cross(second) - axis).norm() < 1e-15);
            assert!((first.norm() - 1.0).abs() < 1e-15);
        }
    }

    #[test]
    fn a_quarter_turn_about_z_takes_x_to_y_and_back() {
        let quarter = Rotation::about(Vec3::new(0.0, 0.0, 1.0), std::f64::consts::FRAC_PI_2);
        let turned = quarter.turn(Vec3::new(1.0, 0.0, 0.0));
        assert!((turned - Vec3::new(0.0, 1.0, 0.0)).norm() < 1e-15);
        assert!((quarter.back().turn(turned) - Vec3::new(1.0, 0.0, 0.0)).norm() < 1e-15);
    }
}
