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

/// Samples round the circle that is walked: one every 7.5 degrees.
///
/// Two minima may lie closer than two samples; beside every dip a finer walk looks for the second.
pub(crate) const SAMPLES: usize = 48;

/// Angle from sample to sample.
const STEP: f64 = TAU / SAMPLES as f64;
/// Parts of a step of the finer walk beside a dip. Minima closer than that differ by some millionths of
/// the radius at most.
const PARTS: usize = 4;

static ROUND: LazyLock<[(f64, f64); SAMPLES]> =
    LazyLock::new(|| std::array::from_fn(|i| (STEP * i as f64).sin_cos()));

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

    /// Root of `F'` between the neighbours of a lowest sample.
    fn refine(&self, sample: usize) -> Closest {
        self.refine_about(STEP * sample as f64, STEP)
    }

    /// Visits the minima that hide beside a dip of the samples: two minima less than two samples apart
    /// show as one dip, and a solver that knows only one of them presses the rings into each other at
    /// the other. `found` is the one that is known.
    fn visit_beside(
        &self,
        coarse: &[f64; SAMPLES],
        sample: usize,
        found: &Closest,
        mut visit: impl FnMut(Closest),
    ) {
        const REACH: usize = 2 * PARTS;
        const POINTS: usize = 2 * REACH + 1;
        let middle = STEP * sample as f64;
        let part = STEP / PARTS as f64;
        let at = |i: usize| middle + part * (i as f64 - REACH as f64);
        let squares: [f64; POINTS] = std::array::from_fn(|i| self.squared(at(i).sin_cos()));
        // Where rings lie flat on each other rounding makes dips everywhere.
        let level = 1e-12 * self.first.radius * self.first.radius;
        for i in 1..POINTS - 1 {
            let dip = squares[i] + level < squares[i - 1] && squares[i] + level < squares[i + 1];
            if !dip || (at(i) - found.angle_rad).abs() <= part {
                continue;
            }
            // What another dip of the samples shows is visited there.
            let nearest = sample + SAMPLES + i.div_ceil(PARTS) - 2;
            let shown =
                (nearest - 1..=nearest + 1).any(|k| k % SAMPLES != sample && is_dip(coarse, k));
            if !shown {
                visit(self.refine_about(at(i), part));
            }
        }
    }

    /// Root of `F'` within `step` of an angle: Newton's steps, halving as a fallback.
    fn refine_about(&self, angle_rad: f64, step: f64) -> Closest {
        let mut t = angle_rad;
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
        let margin = reach + self.first.radius * STEP * 0.5;
        for i in 0..SAMPLES {
            if is_dip(&squares, i) && squares[i] < margin * margin {
                let closest = self.refine(i);
                if closest.distance < reach {
                    visit(closest);
                }
                self.visit_beside(&squares, i, &closest, |other| {
                    if other.distance < reach {
                        visit(other);
                    }
                });
            } else if flat && i % 2 == 0 && squares[i] < reach_squared {
                visit(self.closest_at(STEP * i as f64));
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
        let found = best;
        self.visit_beside(&squares, lowest.1, &found, |other| {
            if other.distance < best.distance {
                best = other;
            }
        });
        // Another dip may reach lower once refined.
        let margin = best.distance + self.first.radius * STEP * 0.5;
        for i in 0..SAMPLES {
            if i != lowest.1 && is_dip(&squares, i) && squares[i] < margin * margin {
                let other = self.refine(i);
                if other.distance < best.distance {
                    best = other;
                }
                self.visit_beside(&squares, i, &other, |beside| {
                    if beside.distance < best.distance {
                        best = beside;
                    }
                });
            }
        }
        best
    }
}

/// Whether a sample, counted on round the circle, is lower than its neighbours.
fn is_dip(squares: &[f64; SAMPLES], sample: usize) -> bool {
    let at = |i: usize| squares[i % SAMPLES];
    at(sample) < at(sample + SAMPLES - 1) && at(sample) <= at(sample + 1)
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

#[cfg(test)]
mod tests {
    use super::{Circle, DistanceProfile, distance};
    use crate::vector::Vec3;

    #[test]
    fn two_minima_less_than_two_samples_apart_are_both_found() {
        // Two rings of a half Persian chain: minima 11.7 degrees apart, the second the lower by a
        // thousandth of the wire. A solver that sees only the first presses them into each other there.
        let ring = |x, y, z, normal: [f64; 3]| Circle {
            centre: Vec3::new(x, y, z),
            normal: Vec3::new(normal[0], normal[1], normal[2]).unit().expect("a normal"),
            radius: 1.0,
        };
        let first = ring(0.1160587, 0.5295242, -0.1567377, [0.7400884, -0.6336946, 0.2251671]);
        let second = ring(0.1168513, 0.5330135, 1.5301837, [-0.9734651, -0.0408098, 0.2251671]);
        let dense = (0..100_000).map(|i| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 1e5).sin_cos();
            let [p, q] = first.normal.frame();
            let w = first.centre + (p * cos + q * sin) - second.centre;
            let h = w.dot(second.normal);
            h.hypot((w.dot(w) - h * h).max(0.0).sqrt() - 1.0)
        });
        let dense = dense.fold(f64::INFINITY, f64::min);
        // The walk's steps are 6e-5 of the radius; near a minimum the distance differs by their square.
        assert!((distance(first, second) - dense).abs() < 1e-8, "{}", distance(first, second));
        assert!((distance(second, first) - dense).abs() < 1e-8);
        let mut met = 0;
        DistanceProfile::new(first, second).visit_below(1.01 * dense, false, |_| met += 1);
        assert_eq!(met, 2);
    }
}
