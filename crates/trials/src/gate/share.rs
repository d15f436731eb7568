//! Long-run share of rings that pass a gate, coils good and bad together.

use std::f64::consts::{PI, SQRT_2};

use super::NODES_9;
use crate::geometry::logistic;

/// Long-run share passing: the mean of `L(eta + eps)` over `eps ~ N(0, sigma^2)`.
///
/// # Units
/// A share of one.
/// # Validity
/// Nine nodes: within 2e-4 of the exact mean for a scatter up to 1.
/// # Source
/// Definition; Gauss-Hermite rule.
pub fn share_passing(log_odds: f64, coil_scatter: f64) -> f64 {
    mean(coil_scatter, |own| logistic(log_odds + own))
}

/// Chance that two rings of the same coil both pass: the mean of `L(eta + eps)^2`.
///
/// # Units
/// A share of one.
/// # Validity
/// As [`share_passing`].
/// # Source
/// Definition; Gauss-Hermite rule.
pub fn share_passing_twice(log_odds: f64, coil_scatter: f64) -> f64 {
    mean(coil_scatter, |own| logistic(log_odds + own).powi(2))
}

fn mean(coil_scatter: f64, of: impl Fn(f64) -> f64) -> f64 {
    let sum: f64 = NODES_9.into_iter().map(|(x, w)| w * of(SQRT_2 * coil_scatter * x)).sum();
    sum / PI.sqrt()
}

/// Log odds the table covers, to either side.
const REACH: f64 = 16.0;
/// Entries per unit of log odds: cubic pieces of this length are good to 1e-8.
const PER_UNIT: f64 = 16.0;

/// [`share_passing`] at one scatter, looked up instead of summed: a chart asks for it a million times.
#[derive(Clone, Debug)]
pub struct ShareTable {
    coil_scatter: f64,
    /// Value and slope times the length of a piece, from `-REACH` up.
    entries: Vec<(f64, f64)>,
}

impl ShareTable {
    /// The table for one scatter.
    pub fn new(coil_scatter: f64) -> ShareTable {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "512")]
        let pieces = (2.0 * REACH * PER_UNIT) as u32;
        let entries = (0..=pieces)
            .map(|i| {
                let log_odds = f64::from(i) / PER_UNIT - REACH;
                let once = share_passing(log_odds, coil_scatter);
                (once, (once - share_passing_twice(log_odds, coil_scatter)) / PER_UNIT)
            })
            .collect();
        ShareTable { coil_scatter, entries }
    }

    /// The share passing at these log odds.
    pub fn at(&self, log_odds: f64) -> f64 {
        match self.piece(log_odds) {
            Some(piece) => piece.value(),
            None => share_passing(log_odds, self.coil_scatter),
        }
    }

    /// The share passing and the chance that two rings of one coil both pass, as
    /// [`share_passing`] and [`share_passing_twice`] give them.
    ///
    /// The second comes with the first: `dE[L]/d eta = E[L (1 - L)] = once - twice`.
    pub fn once_and_twice_at(&self, log_odds: f64) -> [f64; 2] {
        match self.piece(log_odds) {
            Some(piece) => [piece.value(), piece.value() - PER_UNIT * piece.slope()],
            None => [
                share_passing(log_odds, self.coil_scatter),
                share_passing_twice(log_odds, self.coil_scatter),
            ],
        }
    }

    fn piece(&self, log_odds: f64) -> Option<Piece> {
        let place = (log_odds + REACH) * PER_UNIT;
        if place < 0.0 {
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a place beyond the table saturates and is not found"
        )]
        let left = place as usize;
        let (from, to) = (*self.entries.get(left)?, *self.entries.get(left + 1)?);
        Some(Piece { from, to, t: place.fract() })
    }
}

/// One cubic piece of the table: values and slopes at its ends, and how far along it.
struct Piece {
    from: (f64, f64),
    to: (f64, f64),
    t: f64,
}

impl Piece {
    fn value(&self) -> f64 {
        let (t, u) = (self.t, 1.0 - self.t);
        let ((f0, s0), (f1, s1)) = (self.from, self.to);
        u * u * ((1.0 + 2.0 * t) * f0 + t * s0) + t * t * ((3.0 - 2.0 * t) * f1 - u * s1)
    }

    /// Change of the value over the whole piece at this slope.
    fn slope(&self) -> f64 {
        let (t, u) = (self.t, 1.0 - self.t);
        let ((f0, s0), (f1, s1)) = (self.from, self.to);
        6.0 * t * u * (f1 - f0) + u * (1.0 - 3.0 * t) * s0 + t * (3.0 * t - 2.0) * s1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_agrees_with_the_sum_inside_and_outside() {
        let table = ShareTable::new(0.7);
        for i in -400..400 {
            let log_odds = f64::from(i) * 0.0513;
            let off = table.at(log_odds) - share_passing(log_odds, 0.7);
            // Cubic pieces of 1/16: fourth derivative below 0.13, over 384 * 16^4.
            assert!(off.abs() < 1e-8, "{log_odds}: {off:e}");
            let [once, twice] = table.once_and_twice_at(log_odds);
            assert!((once - table.at(log_odds)).abs() < 1e-15);
            // The slope of a cubic piece is off by less than the fourth derivative times its length
            // cubed, over 36 * sqrt(3), or so; per unit.
            let off = twice - share_passing_twice(log_odds, 0.7);
            assert!(off.abs() < 2e-6, "{log_odds}: {off:e}");
        }
    }

    #[test]
    fn scatter_draws_the_long_run_share_towards_one_half() {
        assert!(share_passing(2.0, 1.0) < share_passing(2.0, 0.5));
        assert!(share_passing(-2.0, 1.0) > share_passing(-2.0, 0.5));
    }
}
