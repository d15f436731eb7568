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
        let ends = lost(self.entry, self.stop, turns);
        let length = usize::try_from(turns).unwrap_or(usize::MAX);
        let mut chances = vec![0.0; length + 1];
        let mut pmf = Vec::with_capacity(length + 1);
        let (share, spoiled) = self.write_off.unwrap_or((0.0, self.rings));
        for (lost, p) in (0..=turns).zip(&ends) {
            for (law, weight) in [(self.rings, 1.0 - share), (spoiled, share)] {
                if weight * p <= 0.0 {
                    continue;
                }
                law.pmf_into(turns - lost, &mut pmf);
                for (sum, q) in chances.iter_mut().zip(&pmf) {
                    *sum += weight * p * q;
                }
            }
        }
        Spread::of(&chances)
    }
}
