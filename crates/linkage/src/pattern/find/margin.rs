//! By how much two circles are linked, or not: a number to climb on.

use crate::circle::Circle;
use crate::vector::Vec3;

/// What two rings should be to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Want {
    /// Not linked.
    Apart,
    /// Linked with this sign; 0 for either.
    Linked(i8),
}

/// How far, as a length, a pair is inside the state that is wanted; negative outside it.
///
/// Circle 2 meets plane 1 at two points, going up at one and down at the other. It is linked with sign
/// +1 if the first lies inside circle 1 and the second outside; how far the nearer of both is from
/// circle 1 is the margin. Circles that do not reach the other plane are not linked by what they lack.
pub(super) fn margin(first: Circle, second: Circle, want: Want) -> f64 {
    one_sided(first, second, want).min(one_sided(second, first, want))
}

fn one_sided(first: Circle, second: Circle, want: Want) -> f64 {
    let apart = second.centre - first.centre;
    let height = apart.dot(first.normal);
    let across = first.normal.cross(second.normal);
    let sine = across.norm();
    let p = across.unit().unwrap_or(first.normal.frame()[0]);
    if sine < PARALLEL {
        return parallel(height.abs(), apart, first, second, want);
    }
    let q = second.normal.cross(p);
    // What circle 2 lacks to reach plane 1; negative if it crosses it.
    let lack = height.abs() - second.radius * sine;
    let sin = if lack < 0.0 { -height / (second.radius * sine) } else { -height.signum() };
    let cos = (1.0 - sin * sin).max(0.0).sqrt();
    let depth = |cos: f64| first.radius - (apart + (p * cos + q * sin) * second.radius).norm();
    // Upwards at `+cos`, downwards at `-cos`, as in the linking number.
    let (up, down) = (depth(cos), depth(-cos));
    let linked = |sign: i8| {
        let crossing = if sign > 0 { up.min(-down) } else { down.min(-up) };
        crossing - lack.max(0.0)
    };
    match want {
        Want::Linked(0) => linked(1).max(linked(-1)),
        Want::Linked(sign) => linked(sign),
        Want::Apart => lack.max(up.min(down)).max(-up.max(down)),
    }
}

/// Sine between two planes below which where they meet is lost in rounding.
const PARALLEL: f64 = 1e-9;

/// Circles in parallel planes: apart by the height, or beside or within each other; never linked.
fn parallel(height: f64, apart: Vec3, first: Circle, second: Circle, want: Want) -> f64 {
    let aside = (apart - first.normal * apart.dot(first.normal)).norm();
    let beside = aside - first.radius - second.radius;
    let within = (first.radius - second.radius).abs() - aside;
    let clear = height.max(beside).max(within);
    match want {
        Want::Apart => clear,
        Want::Linked(_) => -clear.abs(),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Want, margin};
    use crate::circle::{Circle, linking_number};
    use crate::vector::Vec3;

    fn circle() -> impl Strategy<Value = Circle> {
        let vector = || [-1.5..1.5, -1.5..1.5, -1.5..1.5_f64];
        (vector(), vector(), 0.4..1.6).prop_filter_map("a normal", |(centre, normal, radius)| {
            let vector = |[x, y, z]: [f64; 3]| Vec3::new(x, y, z);
            Some(Circle { centre: vector(centre), normal: vector(normal).unit()?, radius })
        })
    }

    proptest! {
        #[test]
        fn the_margin_is_positive_where_the_linking_number_is_as_wanted(
            first in circle(), second in circle()
        ) {
            let sign = linking_number(first, second);
            let at = |want| margin(first, second, want);
            // Nearly touching circles may round either way.
            prop_assume!(at(Want::Apart).abs() > 1e-6);
            prop_assert_eq!(at(Want::Apart) > 0.0, sign == 0);
            prop_assert_eq!(at(Want::Linked(1)) > 0.0, sign == 1);
            prop_assert_eq!(at(Want::Linked(-1)) > 0.0, sign == -1);
            prop_assert_eq!(at(Want::Linked(0)) > 0.0, sign != 0);
        }
    }

    #[test]
    fn rings_in_one_plane_are_never_linked_and_apart_only_where_they_clear_each_other() {
        let up = Vec3::new(0.0, 0.0, 1.0);
        let flat =
            |x: f64, radius: f64| Circle { centre: Vec3::new(x, 0.0, 0.0), normal: up, radius };
        for (aside, radius, clear) in [(2.5, 1.0, 0.5), (1.0, 1.0, 0.0), (0.1, 0.5, 0.4)] {
            for lean in [0.0, 1e-13] {
                let mut second = flat(aside, radius);
                second.normal = Vec3::new(lean, 0.0, 1.0);
                let at = |want| margin(flat(0.0, 1.0), second, want);
                assert!((at(Want::Apart) - clear).abs() < 1e-12, "{aside} {lean}");
                assert!(at(Want::Linked(1)) <= 0.0 && at(Want::Linked(-1)) <= 0.0);
            }
        }
    }
}
