//! Good rings of several coils of one job, play by play.

use super::law::CoilLaw;
use super::spread::Spread;

/// Good rings of some coils, one spread a play. The coils of a play share its cell, so they are
/// added within the play; only then is the mean taken over plays.
#[derive(Clone, Debug)]
pub(super) struct Total {
    plays: Vec<Spread>,
}

impl Total {
    /// No coil, no ring.
    pub(super) fn nothing(plays: usize) -> Total {
        Total { plays: vec![Spread::certain(0); plays] }
    }

    /// One coil.
    pub(super) fn coil(laws: &[CoilLaw], turns: u32) -> Total {
        Total { plays: laws.iter().map(|law| law.coil(turns)).collect() }
    }

    /// The coils of both.
    pub(super) fn and(&self, other: &Total) -> Total {
        let pairs = self.plays.iter().zip(&other.plays);
        Total { plays: pairs.map(|(one, two)| one.and(two)).collect() }
    }

    /// So many times the coils of this.
    pub(super) fn times(&self, count: u32) -> Total {
        let mut total = Total::nothing(self.plays.len());
        let (mut power, mut left) = (self.clone(), count);
        loop {
            if left & 1 == 1 {
                total = total.and(&power);
            }
            left >>= 1;
            if left == 0 {
                return total;
            }
            power = power.and(&power);
        }
    }

    /// Chance of `rings` or more.
    pub(super) fn at_least(&self, rings: u32) -> f64 {
        let rings = usize::try_from(rings).unwrap_or(usize::MAX);
        self.mean_over_plays(|spread| spread.at_least(rings))
    }

    /// Mean number of rings.
    pub(super) fn mean(&self) -> f64 {
        self.mean_over_plays(Spread::mean)
    }

    fn mean_over_plays(&self, of: impl Fn(&Spread) -> f64) -> f64 {
        let plays = f64::from(u32::try_from(self.plays.len()).unwrap_or(u32::MAX)).max(1.0);
        self.plays.iter().map(of).sum::<f64>() / plays
    }
}
