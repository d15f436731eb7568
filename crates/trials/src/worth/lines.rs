//! How much the best of several choices gains when a bell-shaped piece of news comes in.

use std::f64::consts::{PI, SQRT_2};

use statrs::function::erf::erfc;

/// A choice's mean, and how much it moves with one standard deviation of the news.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    pub(super) mean: f64,
    pub(super) slope: f64,
}

/// Standard deviations beyond which news is not waited for: the part left out is below 1e-6 of the
/// slope.
const REACH: f64 = 4.5;
/// News up to here comes four times of five.
pub(super) const FOUR_OF_FIVE: f64 = 1.281_551_565_544_8;

/// Room for working, used again.
#[derive(Debug, Default)]
pub(super) struct Lines {
    all: Vec<Line>,
    /// The lines that are best somewhere, by slope.
    upper: Vec<Line>,
}

impl Lines {
    /// Takes these choices; tells whether news within reach could change the best of them.
    pub(super) fn take(&mut self, choices: impl Iterator<Item = Line>) -> bool {
        self.all.clear();
        self.all.extend(choices);
        self.upper.clear();
        let Some(best) = self.all.iter().copied().reduce(better) else { return false };
        self.all.retain(|line| {
            *line == best || best.mean - line.mean < REACH * (best.slope - line.slope).abs()
        });
        self.all.len() > 1
    }

    /// `E max_i (mean_i + slope_i Z) - max_i mean_i` over `Z ~ N(0, 1)`.
    ///
    /// # Source
    /// The sum over the corners of the upper envelope, as in Frazier, Powell and Dayanik 2009,
    /// INFORMS Journal on Computing 21:599, from memory, text not seen; checked below against plain
    /// integration.
    pub(super) fn gain(&mut self) -> f64 {
        self.find_upper();
        let corners = self.upper.windows(2);
        corners.map(|pair| (pair[1].slope - pair[0].slope) * beyond(-corner(pair).abs())).sum()
    }

    /// Whether news that comes four times of five could change the best choice.
    pub(super) fn could_change(&mut self) -> bool {
        self.find_upper();
        self.upper.windows(2).any(|pair| corner(pair).abs() < FOUR_OF_FIVE)
    }

    fn find_upper(&mut self) {
        if !self.upper.is_empty() {
            return;
        }
        self.all
            .sort_unstable_by(|a, b| a.slope.total_cmp(&b.slope).then(a.mean.total_cmp(&b.mean)));
        for line in self.all.drain(..) {
            while let Some(last) = self.upper.last() {
                let same_slope = line.slope <= last.slope;
                let before = self.upper.len().checked_sub(2).map(|i| self.upper[i]);
                let hidden = before
                    .is_some_and(|before| corner(&[before, line]) <= corner(&[before, *last]));
                if !same_slope && !hidden {
                    break;
                }
                self.upper.pop();
            }
            self.upper.push(line);
        }
    }
}

fn better(one: Line, other: Line) -> Line {
    if other.mean > one.mean { other } else { one }
}

/// The news at which the steeper of two lines overtakes.
fn corner(pair: &[Line]) -> f64 {
    (pair[0].mean - pair[1].mean) / (pair[1].slope - pair[0].slope)
}

/// `E max(0, z + Z)`.
fn beyond(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt() + z * 0.5 * erfc(-z / SQRT_2)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn by_integration(lines: &[Line]) -> f64 {
        let best = |z: f64| {
            lines.iter().map(|line| line.mean + line.slope * z).fold(f64::NEG_INFINITY, f64::max)
        };
        let step = 1e-3;
        let sum: f64 = (-9000..=9000)
            .map(|i| {
                let z = f64::from(i) * step;
                (best(z) - best(0.0)) * (-0.5 * z * z).exp()
            })
            .sum();
        sum * step / (2.0 * PI).sqrt()
    }

    proptest! {
        #[test]
        fn the_gain_is_what_integration_gives(
            numbers in prop::collection::vec((0.0..1.0, -0.4..0.4), 1..6)
        ) {
            let lines: Vec<Line> =
                numbers.into_iter().map(|(mean, slope)| Line { mean, slope }).collect();
            let mut room = Lines::default();
            let gain = if room.take(lines.iter().copied()) { room.gain() } else { 0.0 };
            // Lines out of reach: 5 of them, each below 2e-6 * 0.8; the rest is the step.
            prop_assert!((gain - by_integration(&lines)).abs() < 1e-5, "{gain}");
        }
    }

    #[test]
    fn two_equal_choices_gain_the_mean_of_half_a_bell() {
        let mut room = Lines::default();
        let choices = [Line { mean: 0.5, slope: 0.0 }, Line { mean: 0.5, slope: 0.2 }];
        assert!(room.take(choices.into_iter()));
        // E max(0, 0.2 Z) = 0.2 / sqrt(2 pi).
        assert!((room.gain() - 0.2 / (2.0 * PI).sqrt()).abs() < 1e-9);
        assert!(room.could_change());
    }

    #[test]
    fn a_leader_far_ahead_gains_nothing() {
        let mut room = Lines::default();
        let choices = [Line { mean: 0.9, slope: 0.01 }, Line { mean: 0.5, slope: 0.02 }];
        assert!(!room.take(choices.into_iter()));
        assert!(room.gain().abs() < 1e-15 && !room.could_change());
    }
}
