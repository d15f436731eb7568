//! How likely each count is: a stretch of counts with their chances.

use crate::number::real;

/// Chance below which an end of the stretch is cut off.
const NEGLIGIBLE: f64 = 1e-15;

/// Chances of consecutive counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The first count that has a chance.
    pub from: usize,
    /// The chances, one a count, from there on.
    pub chances: Vec<f64>,
}

impl Spread {
    /// A count that is certain.
    pub fn certain(count: usize) -> Spread {
        Spread { from: count, chances: vec![1.0] }
    }

    /// The chances from count 0 on, without ends that are too unlikely to matter.
    pub fn of(chances: &[f64]) -> Spread {
        let mut spread = Spread { from: 0, chances: chances.to_vec() };
        spread.trim();
        spread
    }

    /// The sum of two independent counts.
    #[must_use]
    pub fn and(&self, other: &Spread) -> Spread {
        let (long, short) =
            if self.chances.len() >= other.chances.len() { (self, other) } else { (other, self) };
        let mut chances = vec![0.0; long.chances.len() + short.chances.len() - 1];
        for (i, p) in short.chances.iter().enumerate() {
            for (sum, q) in chances[i..].iter_mut().zip(&long.chances) {
                *sum += p * q;
            }
        }
        let mut sum = Spread { from: self.from + other.from, chances };
        sum.trim();
        sum
    }

    /// Chance of `count` or more.
    pub fn at_least(&self, count: usize) -> f64 {
        if count <= self.from {
            return self.chances.iter().sum();
        }
        self.chances.get(count - self.from..).map_or(0.0, |chances| chances.iter().sum())
    }

    /// Mean count.
    pub fn mean(&self) -> f64 {
        let counts = (self.from..).zip(&self.chances);
        counts.map(|(count, p)| real(count) * p).sum()
    }

    fn trim(&mut self) {
        let first = self.chances.iter().position(|p| *p > NEGLIGIBLE).unwrap_or(0);
        let last = self.chances.iter().rposition(|p| *p > NEGLIGIBLE).unwrap_or(0);
        self.chances.truncate(last + 1);
        self.chances.drain(..first);
        self.from += first;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_dice_make_seven_most_often() {
        let mut die = vec![0.0];
        die.extend([1.0 / 6.0; 6]);
        let die = Spread::of(&die);
        let two = die.and(&die);
        assert_eq!((two.from, two.chances.len()), (2, 11));
        assert!((two.chances[5] - 6.0 / 36.0).abs() < 1e-15);
        assert!((two.at_least(11) - 3.0 / 36.0).abs() < 1e-15);
        assert!((two.mean() - 7.0).abs() < 1e-12);
    }
}
