//! What is believed of the long-run good share of a cell, in a few numbers.

use super::{Learned, PLAYS, PLAYS_F64, write_off_share};
use crate::gate::ShareTable;
use crate::number::real;
use crate::play::{GATES, Gate};
use crate::trial::Cell;

/// Share of good rings above which a cell counts as good.
const GOOD: f64 = 0.9;

/// What is believed of the long-run good share of a cell: good rings among those that are not end
/// losses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belief {
    /// Mean of the good share.
    pub good_share_mean: f64,
    /// Standard deviation of the belief about it.
    pub good_share_sd: f64,
    /// It lies in here with 80 %.
    pub good_share_80: [f64; 2],
    /// It lies in here with 95 %.
    pub good_share_95: [f64; 2],
    /// Chance that it is at least 90 %.
    pub chance_of_90: f64,
    /// Trials of this very cell.
    pub trials_here: usize,
}

impl Learned {
    /// Long-run good share of every cell in every play, cells in the order given.
    pub fn good_shares(&self, cells: &[Cell], seed: u64) -> Vec<Vec<f64>> {
        let draws = self.all_gate_draws(cells, seed);
        let mut shares = vec![vec![1.0; PLAYS]; cells.len()];
        for gate in GATES {
            let write_off = write_off_share(gate);
            let tables = self.share_tables(gate);
            let draws = &draws[gate.index()];
            for (shares, log_odds) in shares.iter_mut().zip(draws.log_odds.chunks_exact(PLAYS)) {
                for ((share, log_odds), point) in
                    shares.iter_mut().zip(log_odds).zip(&draws.point_of_play)
                {
                    *share *= with_write_offs(tables[*point].at(*log_odds), write_off);
                }
            }
        }
        shares
    }

    /// What is believed of the good share of every cell, cells in the order given.
    pub fn beliefs(&self, cells: &[Cell], seed: u64) -> Vec<Belief> {
        let shares = self.good_shares(cells, seed);
        cells.iter().zip(shares).map(|(cell, shares)| self.belief(cell, shares)).collect()
    }

    /// What is believed of the good share of a cell, from its plays.
    pub fn belief(&self, cell: &Cell, mut shares: Vec<f64>) -> Belief {
        shares.sort_unstable_by(f64::total_cmp);
        let mean = shares.iter().sum::<f64>() / PLAYS_F64;
        let squares: f64 = shares.iter().map(|share| (share - mean).powi(2)).sum();
        let good = shares.len() - shares.partition_point(|share| *share < GOOD);
        Belief {
            good_share_mean: mean,
            good_share_sd: (squares / (PLAYS_F64 - 1.0)).sqrt(),
            good_share_80: [quantile(&shares, 0.1), quantile(&shares, 0.9)],
            good_share_95: [quantile(&shares, 0.025), quantile(&shares, 0.975)],
            chance_of_90: real(good) / PLAYS_F64,
            trials_here: self.trials_in(&cell.key()),
        }
    }

    /// The share passing a gate, as a table for each of its points.
    pub(super) fn share_tables(&self, gate: Gate) -> Vec<ShareTable> {
        let points = self.gates[gate.index()].points.iter();
        points.map(|point| ShareTable::new(point.setting.scatter)).collect()
    }
}

/// The share that passes a gate when a few coils are written off: those keep half their rings on
/// average, since any yield is equally likely.
pub(super) fn with_write_offs(passing: f64, write_off_share: f64) -> f64 {
    (1.0 - write_off_share) * passing + write_off_share / 2.0
}

/// The value below which this share of the sorted values, one a play, lies; straight between two
/// of them.
pub(crate) fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = share * (PLAYS_F64 - 1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 399")]
    let left = place as usize;
    let (low, high) = (sorted[left], sorted[(left + 1).min(sorted.len() - 1)]);
    low + place.fract() * (high - low)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_evenly_spread_values_are_their_shares() {
        let values: Vec<f64> = (0..400).map(|i| f64::from(i) / 399.0).collect();
        for share in [0.0, 0.025, 0.1, 0.5, 0.9, 1.0] {
            assert!((quantile(&values, share) - share).abs() < 1e-12);
        }
    }
}
