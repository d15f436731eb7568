//! Good rings of many coils as a bell curve: an estimate to search with, and the answer where coils
//! are so many that the exact sum would say the same.

use std::f64::consts::{PI, SQRT_2};

use statrs::function::erf::erfc;

use super::beta_binomial::BetaBinomial;
use super::total::Play;
use crate::number::mean;

/// Mean, variance and third central moment of good rings.
#[derive(Clone, Copy, Debug, Default)]
struct Moments {
    mean: f64,
    variance: f64,
    third: f64,
}

/// What one coil gives in one play: an ordinary one, and one that is written off.
#[derive(Clone, Copy, Debug)]
struct CoilMoments {
    ordinary: Moments,
    written_off: Moments,
    share: f64,
}

/// Coils of one length in every play, by their moments.
#[derive(Clone, Debug)]
pub(super) struct Bells {
    plays: Vec<CoilMoments>,
}

/// Write-offs so unlikely together are no longer followed.
const NEGLIGIBLE: f64 = 1e-6;

impl Bells {
    /// Coils of so many turns.
    pub(super) fn of(plays: &[Play], turns: u32) -> Bells {
        let of_play = |play: &Play| {
            let left = left_of(&play.ends, turns);
            let (share, spoiled) = play.law.write_off.unwrap_or((0.0, play.law.rings));
            CoilMoments {
                ordinary: good(play.law.rings, left),
                written_off: good(spoiled, left),
                share,
            }
        };
        Bells { plays: plays.iter().map(of_play).collect() }
    }

    /// Chance that some of these coils, and one of another length, give so many good rings.
    ///
    /// In every play the ordinary coils and each number of write-offs make one bell curve with a
    /// lean (Edgeworth's first term); the last coil is taken as an ordinary one.
    pub(super) fn chance(&self, coils: u32, last: &Bells, rings: u32) -> f64 {
        let plays = self.plays.iter().zip(&last.plays);
        mean(plays.map(|(coil, last)| coil.chance(coils, last, f64::from(rings))))
    }

    /// Good rings to expect of one coil.
    pub(super) fn mean(&self) -> f64 {
        mean(self.plays.iter().map(|coil| {
            let [ordinary, off] = [coil.ordinary.mean, coil.written_off.mean];
            ordinary + coil.share * (off - ordinary)
        }))
    }
}

impl CoilMoments {
    fn chance(&self, coils: u32, last: &CoilMoments, rings: f64) -> f64 {
        let odds = self.share / (1.0 - self.share);
        let mut weight = (1.0 - self.share).powf(f64::from(coils));
        let (mut seen, mut chance) = (0.0, 0.0);
        for off in 0..=coils {
            let off_f64 = f64::from(off);
            let of = |moment: fn(&Moments) -> f64| {
                (f64::from(coils) - off_f64) * moment(&self.ordinary)
                    + off_f64 * moment(&self.written_off)
                    + moment(&last.ordinary)
            };
            let sum = Moments {
                mean: of(|m| m.mean),
                variance: of(|m| m.variance),
                third: of(|m| m.third),
            };
            chance += weight * sum.at_least(rings);
            seen += weight;
            if seen > 1.0 - NEGLIGIBLE {
                break;
            }
            weight *= odds * (f64::from(coils) - off_f64) / (off_f64 + 1.0);
        }
        chance / seen
    }
}

impl Moments {
    /// Chance of `rings` or more, half a ring allowed for the step from one count to the next.
    fn at_least(self, rings: f64) -> f64 {
        let away = rings - 0.5 - self.mean;
        if self.variance < 1e-12 {
            return if away <= 0.0 { 1.0 } else { 0.0 };
        }
        let sd = self.variance.sqrt();
        let z = away / sd;
        let lean = self.third / (sd * sd * sd);
        let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
        (0.5 * erfc(z / SQRT_2) + lean / 6.0 * (z * z - 1.0) * density).clamp(0.0, 1.0)
    }
}

/// Mean of `m`, `m (m - 1)` and `m (m - 1) (m - 2)` of the turns that are not lost at an end.
fn left_of(ends: &[f64], turns: u32) -> [f64; 3] {
    let mut sums = [0.0; 3];
    for (lost, chance) in (0..=turns).zip(ends) {
        let left = f64::from(turns - lost);
        let pairs = left * (left - 1.0);
        sums[0] += chance * left;
        sums[1] += chance * pairs;
        sums[2] += chance * pairs * (left - 2.0);
    }
    sums
}

/// Good rings among those turns.
fn good(rings: BetaBinomial, [left, pairs, triples]: [f64; 3]) -> Moments {
    let BetaBinomial { a, b } = rings;
    let one = a / (a + b);
    let two = one * (a + 1.0) / (a + b + 1.0);
    let three = two * (a + 2.0) / (a + b + 2.0);
    let (mean, second, third) = (one * left, two * pairs, three * triples);
    let square = second + mean;
    let cube = third + 3.0 * second + mean;
    Moments {
        mean,
        variance: (square - mean * mean).max(0.0),
        third: cube - 3.0 * mean * square + 2.0 * mean * mean * mean,
    }
}

#[cfg(test)]
mod tests {
    use crate::number::real;

    use super::*;
    use crate::play::{CellPlay, EndLoss};
    use crate::promise::law::CoilLaw;
    use crate::promise::total::Missing;

    fn play(severed: f64) -> Play {
        let law = CoilLaw::of(&CellPlay {
            log_odds: [4.0, severed, 3.5],
            coil_scatter: [0.5; 3],
            entry: EndLoss { mean: 1.2, size: 3.0 },
            stop: EndLoss { mean: 2.0, size: 4.0 },
        });
        Play { ends: law.ends(1000), law }
    }

    #[test]
    fn moments_are_those_of_the_law() {
        let play = Play { law: CoilLaw { write_off: None, ..play(2.0).law }, ..play(2.0) };
        let coil = Missing::of_coil(std::slice::from_ref(&play), 47);
        let bells = Bells::of(std::slice::from_ref(&play), 47);
        assert!((bells.mean() - (47.0 - coil.mean())).abs() < 1e-9);
        let good = play.law.coil(47);
        let counts = || (good.from..).zip(&good.chances);
        let moment = |power: i32| -> f64 {
            counts().map(|(c, p)| (real(c) - bells.mean()).powi(power) * p).sum()
        };
        assert!((bells.plays[0].ordinary.variance - moment(2)).abs() < 1e-8);
        assert!((bells.plays[0].ordinary.third - moment(3)).abs() < 1e-6);
    }

    #[test]
    fn nine_coils_and_more_are_as_likely_enough_as_the_exact_sum_has_it() {
        // Four plays from poor to good; the plays of one belief are as many as a hundred times that.
        let plays: Vec<Play> = [1.0, 2.0, 3.0, 4.0].map(play).into();
        let coil = Missing::of_coil(&plays, 47);
        let bells = Bells::of(&plays, 47);
        let mut furthest: f64 = 0.0;
        for coils in [9, 16, 24] {
            for share in [0.55, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9] {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "small"
                )]
                let rings = (f64::from(coils * 47) * share) as u32;
                let exact = coil.times(coils, 2000).at_most(coils * 47 - rings);
                let bell = bells.chance(coils - 1, &bells, rings);
                furthest = furthest.max((exact - bell).abs());
            }
        }
        assert!(furthest < 0.004, "{furthest}");
    }
}
