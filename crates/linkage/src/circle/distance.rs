//! Exact distance between two circles, with every local minimum and the two points where it is taken.
//!
//! Walk round circle 1 by the angle `t`. The vector `w(t)` from the centre of circle 2 splits into
//! its height `h` over plane 2 and its length `rho` in that plane, and the nearest point of circle 2
//! is straight out along the latter, so that the squared distance is
//!
//! `F(t) = |w|^2 + R2^2 - 2 R2 rho`, with `rho^2 = |w|^2 - h^2`.
//!
//! Both `|w|^2` and `h` are of the form `a + b cos t + c sin t`, hence `F` and its derivatives cost
//! a few products and one root. On the axis of circle 2, `rho` has a kink and `F` a cusp that points
//! upwards: never a minimum, so that minima are smooth. `F' = 0`, squared, is a polynomial of degree
//! 8 in `e^(it)`; the tests solve it as an independent check.

use std::f64::consts::TAU;
use std::sync::LazyLock;

use super::Circle;
use crate::vector::Vec3;

/// Samples round circle 1: one every 7.5 degrees.
///
/// Two minima closer than that differ by less than rounding in all poses met; 2000 random pairs
/// against the polynomial roots show none missed.
pub(crate) const SAMPLES: usize = 48;

static ROUND: LazyLock<[(f64, f64); SAMPLES]> =
    LazyLock::new(|| std::array::from_fn(|i| (TAU * i as f64 / SAMPLES as f64).sin_cos()));

/// A pair of points, one on each circle, the second the nearest to the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closest {
    /// Angle of the point on the circle that was walked round, from the first vector of its frame.
    pub angle_rad: f64,
    /// Point on circle 1.
    pub on_first: Vec3,
    /// Point on circle 2.
    pub on_second: Vec3,
    /// Distance between the two.
    pub distance: f64,
}

/// `a + b cos t + c sin t`.
#[derive(Clone, Copy, Debug)]
struct Wave {
    a: f64,
    b: f64,
    c: f64,
}

impl Wave {
    fn at(self, (sin, cos): (f64, f64)) -> f64 {
        self.a + self.b * cos + self.c * sin
    }
    fn slope(self, (sin, cos): (f64, f64)) -> f64 {
        self.c * cos - self.b * sin
    }
    fn curvature(self, (sin, cos): (f64, f64)) -> f64 {
        -self.b * cos - self.c * sin
    }
}

/// The squared distance to circle 2 as a function of the angle round circle 1.
///
/// The walk is round the smaller of the two: a small ring beside a large one would slip between the
/// samples of a walk round the large one.
#[derive(Clone, Copy, Debug)]
pub struct DistanceProfile {
    first: Circle,
    second: Circle,
    /// Whether the circles were given the other way round.
    swapped: bool,
    frame: [Vec3; 2],
    squared_length: Wave,
    height: Wave,
}

impl DistanceProfile {
    /// Sets up the profile of `second` as seen from `first`.
    pub fn new(first: Circle, second: Circle) -> DistanceProfile {
        let swapped = second.radius < first.radius;
        let (first, second) = if swapped { (second, first) } else { (first, second) };
        let frame = first.normal.frame();
        let r = first.radius;
        let apart = first.centre - second.centre;
        DistanceProfile {
            first,
            second,
            swapped,
            frame,
            squared_length: Wave {
                a: apart.dot(apart) + r * r,
                b: 2.0 * r * apart.dot(frame[0]),
                c: 2.0 * r * apart.dot(frame[1]),
            },
            height: Wave {
                a: apart.dot(second.normal),
                b: r * frame[0].dot(second.normal),
                c: r * frame[1].dot(second.normal),
            },
        }
    }

    /// `F(t)`, the squared distance.
    fn squared(&self, turn: (f64, f64)) -> f64 {
        let w = self.squared_length.at(turn);
        let h = self.height.at(turn);
        let rho = (w - h * h).max(0.0).sqrt();
        w + self.second.radius * (self.second.radius - 2.0 * rho)
    }

    /// `F'(t)` and `F''(t)`.
    fn slope_and_curvature(&self, turn: (f64, f64)) -> (f64, f64) {
        let (w1, w2) = (self.squared_length.slope(turn), self.squared_length.curvature(turn));
        let h = self.height.at(turn);
        let (h1, h2) = (self.height.slope(turn), self.height.curvature(turn));
        // `s = rho^2`, kept off zero: at the axis of circle 2 the slope has no limit.
        let s = (self.squared_length.at(turn) - h * h).max(1e-24);
        let (s1, s2) = (w1 - 2.0 * h * h1, w2 - 2.0 * (h1 * h1 + h * h2));
        let rho = s.sqrt();
        let rho1 = s1 / (2.0 * rho);
        let rho2 = s2 / (2.0 * rho) - s1 * s1 / (4.0 * s * rho);
        let two_r = 2.0 * self.second.radius;
        (w1 - two_r * rho1, w2 - two_r * rho2)
    }

    /// The pair of points at an angle round circle 1.
    fn closest_at(&self, angle_rad: f64) -> Closest {
        let (sin, cos) = angle_rad.sin_cos();
        let on_first =
            self.first.centre + (self.frame[0] * cos + self.frame[1] * sin) * self.first.radius;
        let w = on_first - self.second.centre;
        let in_plane = w - self.second.normal * w.dot(self.second.normal);
        // On the axis every point of circle 2 is equally near; take the first of its frame.
        let out = in_plane.unit().unwrap_or_else(|| self.second.normal.frame()[0]);
        let on_second = self.second.centre + out * self.second.radius;
        let distance = (on_first - on_second).norm();
        if self.swapped {
            return Closest { angle_rad, on_first: on_second, on_second: on_first, distance };
        }
        Closest { angle_rad, on_first, on_second, distance }
    }

    /// Root of `F'` between the neighbours of a lowest sample: Newton's steps, halving as a fallback.
    fn refine(&self, sample: usize) -> Closest {
        let step = TAU / SAMPLES as f64;
        let mut t = step * sample as f64;
        let (mut low, mut high) = (t - step, t + step);
        for _ in 0..60 {
            let (slope, curvature) = self.slope_and_curvature(t.sin_cos());
            if slope > 0.0 {
                high = t;
            } else {
                low = t;
            }
            let newton = t - slope / curvature;
            let next = if curvature > 0.0 && newton > low && newton < high {
                newton
            } else {
                0.5 * (low + high)
            };
            let moved = (next - t).abs();
            t = next;
            if moved < 1e-13 {
                break;
            }
        }
        self.closest_at(t)
    }

    /// Visits every local minimum below `reach`, and with `flat` also plain samples below `reach`.
    ///
    /// Where two rings lie on each other the distance is nearly constant and one minimum does not
    /// stop them from tilting into each other. Every sample is a true constraint of its own, so every
    /// second one is given as well.
    pub fn visit_below(&self, reach: f64, flat: bool, mut visit: impl FnMut(Closest)) {
        let squares: [f64; SAMPLES] = std::array::from_fn(|i| self.squared(ROUND[i]));
        let reach_squared = reach * reach;
        // A minimum between samples may lie under the lowest of them: the slope of the distance
        // along circle 1 is at most its radius.
        let margin = reach + self.first.radius * TAU / SAMPLES as f64 * 0.5;
        for i in 0..SAMPLES {
            let before = squares[(i + SAMPLES - 1) % SAMPLES];
            let after = squares[(i + 1) % SAMPLES];
            if squares[i] < before && squares[i] <= after && squares[i] < margin * margin {
                let closest = self.refine(i);
                if closest.distance < reach {
                    visit(closest);
                }
            } else if flat && i % 2 == 0 && squares[i] < reach_squared {
                visit(self.closest_at(TAU * i as f64 / SAMPLES as f64));
            }
        }
    }

    /// The nearest pair of points.
    pub fn nearest(&self) -> Closest {
        let mut lowest = (f64::INFINITY, 0);
        let squares: [f64; SAMPLES] = std::array::from_fn(|i| self.squared(ROUND[i]));
        for (i, &square) in squares.iter().enumerate() {
            if square < lowest.0 {
                lowest = (square, i);
            }
        }
        let mut best = self.refine(lowest.1);
        // Another dip may reach lower once refined.
        let margin = best.distance + self.first.radius * TAU / SAMPLES as f64 * 0.5;
        for i in 0..SAMPLES {
            let before = squares[(i + SAMPLES - 1) % SAMPLES];
            let after = squares[(i + 1) % SAMPLES];
            let dip = squares[i] < before && squares[i] <= after;
            if i != lowest.1 && dip && squares[i] < margin * margin {
                let other = self.refine(i);
                if other.distance < best.distance {
                    best = other;
                }
            }
        }
        best
    }
}

/// Least distance between two circles.
///
/// `f = min over t of sqrt(|w|^2 + R2^2 - 2 R2 rho)`, see `docs/theory/chain.md`, section 2.
///
/// # Units
/// The unit of the circles.
/// # Validity
/// Any two circles of positive radius and unit normal.
/// # Source
/// Own derivation; checked against the roots of the degree-8 polynomial.
///
/// ```
/// use linkwright_linkage::{circle::{Circle, distance}, vector::Vec3};
/// // Two circles of radius 2 in planes at right angles, centres 3 apart: 2 + 2 - 3 = 1.
/// let first = Circle { centre: Vec3::ZERO, normal: Vec3::new(1.0, 0.0, 0.0), radius: 2.0 };
/// let second = Circle {
///     centre: Vec3::new(0.0, 0.0, 3.0), normal: Vec3::new(0.0, 1.0, 0.0), radius: 2.0,
/// };
/// assert!((distance(first, second) - 1.0).abs() < 1e-12);
/// ```
pub fn distance(first: Circle, second: Circle) -> f64 {
    DistanceProfile::new(first, second).nearest().distance
}
