//! Cutting one coil of an invented workshop: every turn meets its fate by chance.

use rand::{Rng, RngExt};

use super::Workshop;
use super::chance::{around, bell};
use super::truth::{BLADE_LIFE_RINGS, WRITTEN_OFF};
use crate::geometry::logistic;
use crate::play::GATES;
use crate::trial::{Cell, Counts};

/// Spread of the losses at an end about their mean, coil by coil, as a logarithm.
const END_SCATTER: f64 = 0.45;

/// What two coils of one session share, and what nobody writes down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sitting {
    /// How good a session it is, in log odds of every gate.
    pub session: f64,
    /// Rings the blade has cut, counted or not.
    pub rings: f64,
}

impl Workshop {
    /// Cuts one coil, in a session of its own; by a blade of any age where the cell does not say it.
    pub fn coil(&self, cell: &Cell, turns: u32, chance: &mut impl Rng) -> Counts {
        let [fewest, most] = BLADE_LIFE_RINGS;
        let age = chance.random::<f64>() * f64::midpoint(fewest, most);
        let rings = cell.parts().rings_cut_since_new.unwrap_or(age);
        let session = self.session(chance);
        self.cut(cell, turns, Sitting { session, rings }, chance)
    }

    /// How good a session is.
    pub(super) fn session(&self, chance: &mut impl Rng) -> f64 {
        bell(chance, 0.0, self.truth.session_scatter)
    }

    pub(super) fn cut(
        &self,
        cell: &Cell,
        turns: u32,
        sitting: Sitting,
        chance: &mut impl Rng,
    ) -> Counts {
        let mut left = turns;
        let [entry_lost, stop_lost] = self.truth.ends(cell).map(|mean| {
            // Scatter raises the mean of a log-normal number by half its square.
            let middle = mean * (-0.5 * END_SCATTER * END_SCATTER).exp();
            let lost = poisson(around(chance, middle, END_SCATTER), chance).min(left);
            left -= lost;
            lost
        });
        let log_odds = self.truth.log_odds(cell, sitting.rings);
        let written_off = chance.random::<f64>() < WRITTEN_OFF;
        let [crushed, uncut, deformed] = GATES.map(|gate| {
            let i = gate.index();
            let own = bell(chance, sitting.session, self.truth.coil_scatter[i]);
            let passing = logistic(log_odds[i] + own);
            let any: f64 = chance.random();
            let passing = if i == 0 && written_off { any } else { passing };
            let failed = (0..left).map(|_| u32::from(chance.random::<f64>() > passing)).sum();
            left -= failed;
            failed
        });
        Counts { entry_lost, stop_lost, crushed, uncut, deformed, good: left }
    }
}

/// One Poisson count, by waiting times.
fn poisson(mean: f64, chance: &mut impl Rng) -> u32 {
    let mut waited = 0.0;
    let mut count = 0;
    loop {
        waited -= (1.0 - chance.random::<f64>()).ln();
        if waited > mean {
            return count;
        }
        count += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulated::chance::chance;

    #[test]
    fn coils_give_the_true_share_in_the_long_run() {
        // One workshop counts its rings, the other does not.
        let counting = |counts: bool| {
            (0..20)
                .map(|seed| Workshop::new(seed).unwrap())
                .find(|workshop| workshop.bench().counts_rings == counts)
                .unwrap()
        };
        for workshop in [counting(true), counting(false)] {
            let mut source = chance(1, &["long run"]);
            for cell in workshop.chart().unwrap().iter().step_by(97) {
                let mut shares = Vec::new();
                for _ in 0..4000 {
                    let counts = workshop.coil(cell, 40, &mut source);
                    assert_eq!(counts.sum(), 40);
                    let rings = 40 - counts.entry_lost - counts.stop_lost;
                    if rings > 0 {
                        shares.push(f64::from(counts.good) / f64::from(rings));
                    }
                }
                let count = f64::from(u32::try_from(shares.len()).unwrap());
                let mean = shares.iter().sum::<f64>() / count;
                let variance = shares.iter().map(|s| (s - mean).powi(2)).sum::<f64>() / count;
                let off = mean - workshop.true_good_share(cell);
                // Four standard errors, and 1e-3 for five ages and nine nodes.
                assert!(off.abs() < 4.0 * (variance / count).sqrt() + 1e-3, "{off}");
            }
        }
    }

    #[test]
    fn poisson_counts_have_their_mean() {
        let mut source = chance(2, &["poisson"]);
        let sum: u32 = (0..4000).map(|_| poisson(1.5, &mut source)).sum();
        // Standard error of the sum: the root of 6000.
        assert!((f64::from(sum) - 6000.0).abs() < 310.0, "{sum}");
    }
}
