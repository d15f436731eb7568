//! How likely it is that enough rings are good.

use super::CountError;
use crate::limits::{BETA, LimitError, TURNS};

/// Belief about the share of good rings: a beta distribution.
///
/// `a` and `b` read as rings seen good and spoiled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GoodRate {
    a: f64,
    b: f64,
}

impl GoodRate {
    /// Nothing seen yet: Jeffreys' prior, a = b = 1/2, the usual start for counts.
    ///
    /// Spoiled rings are rare, and next to nought it speaks sooner than the flat prior a = b = 1:
    /// after 100 good rings and none spoiled it expects 0.5 % spoiled, the flat one 1 %. It is no
    /// plan by itself: nothing seen is an even bet that all rings are good or all spoiled. Where a
    /// habit is known, start from [`worth`](GoodRate::worth) instead.
    pub const UNSEEN: GoodRate = GoodRate { a: 0.5, b: 0.5 };

    /// A belief worth `a` good and `b` spoiled rings.
    ///
    /// # Units
    /// Rings, not whole in general.
    /// # Validity
    /// Within [`BETA`].
    /// # Errors
    /// [`LimitError`] naming `beta_a` or `beta_b`.
    /// # Source
    /// Beta distribution.
    ///
    /// ```
    /// use linkwright_calc::count::GoodRate;
    /// assert_eq!(GoodRate::new(95.0, 5.0).unwrap().mean(), 0.95);
    /// assert!(GoodRate::new(95.0, 0.0).is_err());
    /// ```
    pub fn new(a: f64, b: f64) -> Result<GoodRate, LimitError> {
        Ok(GoodRate { a: BETA.check(a)?, b: BETA.named("beta_b").check(b)? })
    }

    /// A belief in a share of good rings, held as firmly as if `rings` had been counted.
    ///
    /// # Units
    /// A share of one, and rings.
    /// # Validity
    /// The share strictly between none and all.
    /// # Errors
    /// [`LimitError`] naming `beta_a` or `beta_b` if one of the two weights comes out as nought.
    /// # Source
    /// Mean and weight of a beta distribution: `a = share rings`, `b = (1 - share) rings`.
    ///
    /// ```
    /// use linkwright_calc::count::GoodRate;
    /// assert_eq!(GoodRate::worth(0.75, 8.0).unwrap(), GoodRate::new(6.0, 2.0).unwrap());
    /// assert!(GoodRate::worth(1.0, 8.0).is_err());
    /// ```
    pub fn worth(share: f64, rings: f64) -> Result<GoodRate, LimitError> {
        GoodRate::new(share * rings, (1.0 - share) * rings)
    }

    /// The belief after counting more rings: `a + good`, `b + bad`.
    ///
    /// # Units
    /// Rings.
    /// # Validity
    /// Rings spoiled at random, not those lost at the ends or the stop.
    /// # Source
    /// Bayes' rule for a beta belief and counted rings; `docs/theory/counting.md`, section 3.
    ///
    /// ```
    /// use linkwright_calc::count::GoodRate;
    /// let rate = GoodRate::UNSEEN.after(812, 9);
    /// assert_eq!(rate.mean(), 812.5 / 822.0);
    /// ```
    #[must_use]
    pub fn after(self, good: u32, bad: u32) -> GoodRate {
        GoodRate { a: self.a + f64::from(good), b: self.b + f64::from(bad) }
    }

    /// Mean share of good rings.
    ///
    /// # Units
    /// A share of one.
    /// # Validity
    /// Any belief.
    /// # Source
    /// Mean of a beta distribution, `a/(a + b)`.
    ///
    /// ```
    /// use linkwright_calc::count::GoodRate;
    /// assert_eq!(GoodRate::UNSEEN.mean(), 0.5);
    /// ```
    pub fn mean(self) -> f64 {
        self.a / (self.a + self.b)
    }

    /// Chance that exactly `good` of `turns` rings are good, one entry per count from 0 to
    /// `turns`.
    pub(super) fn chances(self, turns: u32) -> Vec<f64> {
        let mut chances = vec![0.0; turns as usize + 1];
        self.for_each_weight(turns, |good, weight| chances[good as usize] = weight);
        let whole: f64 = chances.iter().sum();
        chances.iter_mut().for_each(|chance| *chance /= whole);
        chances
    }

    /// Visits every count with a weight in proportion to its chance, the likeliest first with
    /// weight one, then upwards, then downwards.
    ///
    /// `P(i+1)/P(i) = (n-i)(i+a) / ((i+1)(n-i-1+b))`, so no factorial is ever formed; sums of
    /// log-gamma lose nine digits at a million turns, these ratios lose about three.
    fn for_each_weight(self, turns: u32, mut visit: impl FnMut(u32, f64)) {
        let n = f64::from(turns);
        let ratio = |count: u32| {
            let i = f64::from(count);
            (n - i) * (i + self.a) / ((i + 1.0) * (n - i - 1.0 + self.b))
        };
        let start = self.likeliest(turns);
        visit(start, 1.0);
        let mut weight = 1.0;
        for count in start..turns {
            weight *= ratio(count);
            visit(count + 1, weight);
        }
        weight = 1.0;
        for count in (0..start).rev() {
            weight /= ratio(count);
            visit(count, weight);
        }
    }

    /// The likeliest count; for a belief weaker than two rings, whose chances are highest at the
    /// two ends or nearly even, the lower end.
    fn likeliest(self, turns: u32) -> u32 {
        let strength = self.a + self.b - 2.0;
        if strength <= 0.0 {
            return 0;
        }
        // The ratio of neighbours falls through one here.
        let at = (f64::from(turns) * (self.a - 1.0) + 1.0 - self.b) / strength;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped between nought and a u32"
        )]
        let count = (at.floor() + 1.0).clamp(0.0, f64::from(turns)) as u32;
        count
    }
}

/// Chance that at least `good_rings` of `turns` slit turns are good.
///
/// `P(X >= j) = sum_{i=j}^{n} C(n,i) B(i+a, n-i+b) / B(a,b)`, the terms each from its neighbour by
/// their exact ratio.
///
/// # Units
/// Rings in, a share of one out.
/// # Validity
/// One unknown rate for all turns, up to the limit of [`TURNS`].
/// # Errors
/// [`CountError::MoreThanTurns`] if more are asked for than there are; [`CountError::Limit`] naming
/// `turns`.
/// # Source
/// Beta-binomial distribution; `docs/theory/counting.md`, section 3.
///
/// ```
/// use linkwright_calc::count::{GoodRate, chance_of_at_least};
/// let chance = chance_of_at_least(50, 55, GoodRate::new(95.0, 5.0).unwrap()).unwrap();
/// assert!((chance - 0.903_836_498_5).abs() < 1e-9);
/// ```
pub fn chance_of_at_least(good_rings: u32, turns: u32, rate: GoodRate) -> Result<f64, CountError> {
    TURNS.check(f64::from(turns))?;
    if good_rings > turns {
        return Err(CountError::MoreThanTurns { good_rings, turns });
    }
    let (mut enough, mut too_few) = (0.0, 0.0);
    rate.for_each_weight(turns, |good, weight| {
        if good >= good_rings { enough += weight } else { too_few += weight }
    });
    Ok(enough / (enough + too_few))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_flat_belief_makes_every_count_as_likely() {
        // a = b = 1 gives P(X >= j) = (n + 1 - j)/(n + 1).
        let flat = GoodRate::new(1.0, 1.0).unwrap();
        for j in 0..=55_u32 {
            let chance = chance_of_at_least(j, 55, flat).unwrap();
            assert!((chance - f64::from(56 - j) / 56.0).abs() < 1e-12, "{j}: {chance}");
        }
    }

    #[test]
    fn more_good_rings_than_turns_are_refused() {
        assert_eq!(
            chance_of_at_least(56, 55, GoodRate::UNSEEN),
            Err(CountError::MoreThanTurns { good_rings: 56, turns: 55 })
        );
    }

    #[test]
    fn a_million_turns_still_add_up() {
        let rate = GoodRate::new(95.0, 5.0).unwrap();
        let chance = chance_of_at_least(950_000, 1_000_000, rate).unwrap();
        // For so many turns the count follows the rate itself: P(rate > 0.95) of Beta(95, 5), by
        // the incomplete beta function of statrs. The steps of a count add about 1/n of the density.
        let of_the_rate = 1.0 - statrs::function::beta::beta_reg(95.0, 5.0, 0.95);
        assert!((chance - of_the_rate).abs() < 1e-4, "{chance} against {of_the_rate}");
    }

    #[test]
    fn a_million_even_chances_stay_even_to_ten_digits() {
        let flat = GoodRate::new(1.0, 1.0).unwrap();
        let chance = chance_of_at_least(950_000, 1_000_000, flat).unwrap();
        // Half a million ratios of relative error 2e-16 each, at worst all one way.
        assert!((chance - 50_001.0 / 1_000_001.0).abs() < 1e-10 * chance, "{chance}");
    }

    #[test]
    fn a_turn_count_beyond_the_limit_is_refused_by_name() {
        let error = chance_of_at_least(1, 1_000_001, GoodRate::UNSEEN).unwrap_err().to_string();
        assert!(error.starts_with("turns is 1000001"), "{error}");
    }

    proptest! {
        #[test]
        fn chances_of_all_counts_add_up_to_one(
            turns in 0_u32..300, a in 0.1..200.0, b in 0.1..50.0,
        ) {
            let sum: f64 = GoodRate::new(a, b).unwrap().chances(turns).iter().sum();
            prop_assert!((sum - 1.0).abs() < 1e-13, "{sum}"); // 300 additions
        }

        #[test]
        fn good_and_spoiled_are_mirror_images(
            turns in 1_u32..300, a in 0.01..200.0, b in 0.01..50.0,
        ) {
            let mut mirrored = GoodRate::new(b, a).unwrap().chances(turns);
            mirrored.reverse();
            let chances = GoodRate::new(a, b).unwrap().chances(turns);
            for (one, other) in chances.iter().zip(mirrored) {
                prop_assert!((one - other).abs() < 1e-12); // 300 ratios from either end
            }
        }

        #[test]
        fn asking_for_more_is_never_likelier(
            turns in 2_u32..300, a in 0.1..200.0, b in 0.1..50.0, at in any::<prop::sample::Index>(),
        ) {
            let rate = GoodRate::new(a, b).unwrap();
            let j = u32::try_from(at.index(turns as usize)).unwrap();
            let chance = |j| chance_of_at_least(j, turns, rate).unwrap();
            prop_assert!(chance(j + 1) <= chance(j) + 1e-12);
        }
    }
}
