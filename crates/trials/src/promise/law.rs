//! What one coil gives in one play: ends lost, a share of good rings, now and then a write-off.

use super::beta_binomial::BetaBinomial;
use super::ends::lost;
use super::spread::Spread;
use crate::gate::{WRITE_OFF_SHARE, share_passing, share_passing_twice};
use crate::play::{CellPlay, EndLoss, GATES, Gate};

/// What one coil gives in one play.
///
/// `P(G = g) = sum_l P(l) [ (1 - pi) BB(g; n - l) + pi BB_w(g; n - l) ]`: `l` turns lost at the
/// ends, `pi` the share of coils that are written off, whose clamp keeps any share as likely as
/// any other.
///
/// # Units
/// Counts of turns and rings.
/// # Source
/// The reference on the statistics of the cutting trials, section 9; derivation in
/// `docs/theory/promise.md`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilLaw {
    /// Turns lost where the blade enters.
    pub entry: EndLoss,
    /// Turns lost at the stop.
    pub stop: EndLoss,
    /// Rings of an ordinary coil.
    pub rings: BetaBinomial,
    /// Share of coils that are written off, and the rings of such a coil.
    pub write_off: Option<(f64, BetaBinomial)>,
}

/// Mean and mean square of a share that is as likely as any other.
const ANY_SHARE: [f64; 2] = [1.0 / 2.0, 1.0 / 3.0];

impl CoilLaw {
    /// The law of a play: the three gates' moments multiplied and matched.
    pub fn of(play: &CellPlay) -> CoilLaw {
        let moments = GATES.map(|gate| {
            let (log_odds, scatter) =
                (play.log_odds[gate.index()], play.coil_scatter[gate.index()]);
            [share_passing(log_odds, scatter), share_passing_twice(log_odds, scatter)]
        });
        let mut spoiled = moments;
        spoiled[Gate::Kept.index()] = ANY_SHARE;
        let matched = |moments: [[f64; 2]; 3]| {
            let [once, twice] = [0, 1].map(|i| moments.iter().map(|gate| gate[i]).product());
            BetaBinomial::with_moments(once, twice)
        };
        CoilLaw {
            entry: play.entry,
            stop: play.stop,
            rings: matched(moments),
            write_off: Some((WRITE_OFF_SHARE, matched(spoiled))),
        }
    }

    /// Good rings of a coil of so many turns.
    pub fn coil(&self, turns: u32) -> Spread {
        let mut missing = self.missing(&self.ends(turns), turns);
        missing.reverse();
        Spread::of(&missing)
    }

    /// Chance of each number of turns lost at both ends of a coil that is long enough for them.
    pub(super) fn ends(&self, turns_most: u32) -> Vec<f64> {
        lost(self.entry, self.stop, turns_most)
    }

    /// Chance of each number of turns that give no good ring, from none to all of them.
    ///
    /// The spoiled rings of a coil that loses nothing at its ends are followed down: the rings of a
    /// coil are exchangeable, so that one turn fewer is one ring taken out at random,
    /// `P(s; m - 1) = P(s; m) (m - s) / m + P(s + 1; m) (s + 1) / m`.
    pub(super) fn missing(&self, ends: &[f64], turns: u32) -> Vec<f64> {
        let mut spoiled = spoiled(self.rings, turns);
        if let Some((share, written_off)) = self.write_off {
            let written_off = self::spoiled(written_off, turns);
            for (chance, other) in spoiled.iter_mut().zip(written_off) {
                *chance += share * (other - *chance);
            }
        }
        let counts: Vec<f64> = (0..=turns).map(f64::from).collect();
        let length = spoiled.len();
        let mut missing = vec![0.0; length];
        for (lost, chance) in ends.iter().enumerate() {
            let left = length.saturating_sub(1 + lost);
            if left == 0 {
                // Whatever else is lost, no turn is left to give a ring.
                missing[length - 1] += ends[lost..].iter().sum::<f64>();
                break;
            }
            for (sum, spoiled) in missing[lost..].iter_mut().zip(&spoiled) {
                *sum += chance * spoiled;
            }
            let per_ring = 1.0 / counts[left];
            for (s, good) in counts[1..=left].iter().rev().enumerate() {
                spoiled[s] = (spoiled[s] * good + spoiled[s + 1] * counts[s + 1]) * per_ring;
            }
            spoiled.truncate(left);
        }
        missing
    }
}

/// Chance of each number of spoiled rings among so many.
fn spoiled(rings: BetaBinomial, of: u32) -> Vec<f64> {
    BetaBinomial { a: rings.b, b: rings.a }.pmf(of)
}
