//! Turns lost at both ends of a coil.

use crate::play::EndLoss;

/// Chance below which a larger loss is no longer followed.
const NEGLIGIBLE: f64 = 1e-12;

/// Chance of each number of turns lost at both ends together of a coil of `turns`, from none to
/// `turns` at most; losing more than there are is losing all.
pub(super) fn lost(entry: EndLoss, stop: EndLoss, turns: u32) -> Vec<f64> {
    let (entry, stop) = (one_end(entry, turns), one_end(stop, turns));
    let most = usize::try_from(turns).unwrap_or(usize::MAX);
    let mut both = vec![0.0; (entry.len() + stop.len() - 1).min(most + 1)];
    let last = both.len() - 1;
    for (i, p) in entry.iter().enumerate() {
        for (j, q) in stop.iter().enumerate() {
            both[(i + j).min(last)] += p * q;
        }
    }
    both
}

/// A negative binomial count, cut off at `turns` or where nothing worth following is left; what
/// is left stands in the last entry.
fn one_end(loss: EndLoss, turns: u32) -> Vec<f64> {
    let EndLoss { mean, size } = loss;
    let mut chance = (size / (size + mean)).powf(size);
    let mut chances = Vec::new();
    let mut left = 1.0;
    for lost in 0..turns {
        let x = f64::from(lost);
        chances.push(chance);
        left -= chance;
        if left < NEGLIGIBLE {
            return chances;
        }
        chance *= (x + size) / (x + 1.0) * mean / (size + mean);
    }
    chances.push(left.max(0.0));
    chances
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_loss_has_its_mean_and_variance() {
        let loss = EndLoss { mean: 1.5, size: 4.0 };
        let chances = one_end(loss, 1000);
        let moment = |of: fn(f64) -> f64| -> f64 {
            (0_u32..).zip(&chances).map(|(x, p)| of(f64::from(x)) * p).sum()
        };
        let mean = moment(|x| x);
        assert!((mean - 1.5).abs() < 1e-10);
        assert!((moment(|x| x * x) - mean * mean - (1.5 + 1.5 * 1.5 / 4.0)).abs() < 1e-9);
    }

    #[test]
    fn more_cannot_be_lost_than_there_is() {
        let loss = EndLoss { mean: 3.0, size: 2.0 };
        let both = lost(loss, loss, 2);
        assert_eq!(both.len(), 3);
        assert!((both.iter().sum::<f64>() - 1.0).abs() < 1e-14);
    }

    #[test]
    fn no_loss_is_certain() {
        let none = EndLoss { mean: 0.0, size: 4.0 };
        assert_eq!(lost(none, none, 30), [1.0]);
    }
}
