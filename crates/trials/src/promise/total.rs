//! Turns of several coils of one job that give no good ring, play by play.

use super::law::CoilLaw;
use crate::fit::in_parallel;
use crate::number::mean;

/// Plays that one processor takes at a time.
const PLAYS_AT_A_TIME: usize = 100;

/// One play: the law of its coils, and what they lose at their ends.
#[derive(Clone, Debug)]
pub(super) struct Play {
    pub law: CoilLaw,
    /// Chance of each number of turns lost at both ends of a long coil.
    pub ends: Vec<f64>,
}

/// How likely each number of turns without a good ring is in every play, from none on; numbers
/// beyond those that matter are left out.
///
/// What is missing is followed instead of what is there, since an order forgives but little of it.
/// The coils of a play share its cell, so they are added within the play; only then is the mean
/// taken over plays.
#[derive(Clone, Debug)]
pub(super) struct Missing {
    plays: Vec<Vec<f64>>,
}

impl Missing {
    /// Of one coil, every number.
    pub(super) fn of_coil(plays: &[Play], turns: u32) -> Missing {
        let each = |play: &Play| play.law.missing(&play.ends, turns);
        let parts: Vec<&[Play]> = plays.chunks(PLAYS_AT_A_TIME).collect();
        let done = in_parallel(&parts, |plays| plays.iter().map(each).collect::<Vec<Vec<f64>>>());
        Missing { plays: done.concat() }
    }

    /// Of so many coils like this one, numbers up to `most`.
    pub(super) fn times(&self, coils: u32, most: usize) -> Missing {
        let each = |coil: &Vec<f64>| power(coil, coils, most);
        let parts: Vec<&[Vec<f64>]> = self.plays.chunks(PLAYS_AT_A_TIME).collect();
        let done = in_parallel(&parts, |plays| plays.iter().map(each).collect::<Vec<Vec<f64>>>());
        Missing { plays: done.concat() }
    }

    /// Chance that at most so many are missing.
    pub(super) fn at_most(&self, missing: u32) -> f64 {
        let counted = index(missing).saturating_add(1);
        mean(self.plays.iter().map(|chances| chances.iter().take(counted).sum()))
    }

    /// Mean number missing, if none was left out.
    pub(super) fn mean(&self) -> f64 {
        mean(self.plays.iter().map(|chances| {
            (0_u32..).zip(chances).map(|(count, chance)| f64::from(count) * chance).sum()
        }))
    }

    /// To be asked many times together with other coils.
    pub(super) fn added_up(mut self) -> AddedUp {
        for chances in &mut self.plays {
            let mut sum = 0.0;
            for chance in chances {
                sum += *chance;
                *chance = sum;
            }
        }
        AddedUp { plays: self.plays }
    }
}

/// Chance of at most each number missing, in every play.
#[derive(Clone, Debug)]
pub(super) struct AddedUp {
    plays: Vec<Vec<f64>>,
}

impl AddedUp {
    /// Chance that at most so many are missing of these coils and another together; numbers beyond
    /// those that were kept must not be asked for.
    pub(super) fn at_most_with(&self, coil: &Missing, missing: u32) -> f64 {
        let missing = index(missing);
        mean(self.plays.iter().zip(&coil.plays).map(|(sums, coil)| {
            let of_coil = coil.iter().take(missing + 1).enumerate();
            // The last sum holds for every larger number: nothing more can be missing.
            of_coil.map(|(own, chance)| chance * sums[(missing - own).min(sums.len() - 1)]).sum()
        }))
    }

    /// Chance that at most so many are missing of these coils alone.
    pub(super) fn at_most(&self, missing: u32) -> f64 {
        mean(self.plays.iter().map(|sums| sums[index(missing).min(sums.len() - 1)]))
    }
}

fn index(count: u32) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX)
}

/// The sum of so many independent counts, by doubling; numbers beyond `most` are left out.
fn power(one: &[f64], count: u32, most: usize) -> Vec<f64> {
    let mut total = vec![1.0];
    let (mut doubled, mut left) = (one[..one.len().min(most + 1)].to_vec(), count);
    loop {
        if left & 1 == 1 {
            total = sum(&total, &doubled, most);
        }
        left >>= 1;
        if left == 0 {
            return total;
        }
        doubled = sum(&doubled, &doubled, most);
    }
}

/// The sum of two independent counts; numbers beyond `most` are left out.
fn sum(one: &[f64], other: &[f64], most: usize) -> Vec<f64> {
    let (long, short) = if one.len() >= other.len() { (one, other) } else { (other, one) };
    let mut chances = vec![0.0; (long.len() + short.len() - 1).min(most + 1)];
    for (i, p) in short.iter().enumerate() {
        for (sum, q) in chances[i..].iter_mut().zip(long) {
            *sum += p * q;
        }
    }
    chances
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_cut_off_does_not_change_what_is_kept() {
        let coil = [0.5, 0.3, 0.15, 0.05];
        let all = power(&coil, 5, 100);
        assert_eq!(all.len(), 16);
        assert!((all.iter().sum::<f64>() - 1.0).abs() < 1e-14);
        let some = power(&coil, 5, 6);
        assert_eq!(some.len(), 7);
        assert!(all.iter().zip(&some).all(|(a, b)| (a - b).abs() < 1e-16));
    }
}
