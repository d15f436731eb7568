//! How often one circle passes through another, with sign.

use super::Circle;

/// Linking number of two round circles: -1, 0 or +1.
///
/// Circle 2 meets plane 1 in at most two points; those inside circle 1 count with the sign of the
/// velocity of circle 2 along normal 1. Two crossings inside cancel.
///
/// # Units
/// None.
/// # Validity
/// Circles that do not touch. The sign depends on both normals; turning one round changes it.
/// # Source
/// Crossing count of a disc; textbook definition, from memory.
///
/// ```
/// use linkwright_linkage::{circle::{Circle, linking_number}, vector::Vec3};
/// let first = Circle { centre: Vec3::ZERO, normal: Vec3::new(0.0, 0.0, 1.0), radius: 2.0 };
/// let at = |x: f64| Circle {
///     centre: Vec3::new(x, 0.0, 0.0), normal: Vec3::new(0.0, 1.0, 0.0), radius: 2.0,
/// };
/// assert_eq!(linking_number(first, at(3.0)).abs(), 1);
/// assert_eq!(linking_number(first, at(3.0)), -linking_number(first, at(-3.0)));
/// assert_eq!(linking_number(first, at(5.0)), 0);
/// ```
pub fn linking_number(first: Circle, second: Circle) -> i8 {
    let apart = second.centre - first.centre;
    let height = apart.dot(first.normal);
    // Circle 2 is `c + R (cos t p + sin t q)`; with `p` in plane 1 the height is `R sin t (q.n1)`.
    let Some(p) = first.normal.cross(second.normal).unit() else {
        return 0;
    };
    // `q.n1` is the sine between the planes: positive by the choice of `p`.
    let q = second.normal.cross(p);
    let rise = second.radius * q.dot(first.normal);
    if height.abs() >= rise {
        return 0;
    }
    let sin = -height / rise;
    let cos = (1.0 - sin * sin).sqrt();
    let inside = |cos: f64| {
        let point = apart + (p * cos + q * sin) * second.radius;
        let squared = point.dot(point);
        i8::from(squared < first.radius * first.radius)
    };
    // The height grows with `rise cos t`: upwards at `+cos`, downwards at `-cos`.
    inside(cos) - inside(-cos)
}
