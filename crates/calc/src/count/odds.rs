//! How likely it is that enough rings are good.

use statrs::function::gamma::ln_gamma;

use super::CountError;
use crate::limits::{BETA, Limit, LimitError};

/// Belief about the share of good rings: a beta distribution.
///
/// `a` and `b` read as rings seen good and spoiled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GoodRate {
    a: f64,
    b: f64,
}

impl GoodRate {
    /// Nothing seen yet, every rate as likely as any other on the scale where its uncertainty is
    /// even: Jeffreys' prior, a = b = 1/2. It lets counts speak soonest; after ten rings it weighs
    /// next to nothing.
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
        Ok(GoodRate { a: BETA.check(a)?, b: Limit { field: "beta_b", ..BETA }.check(b)? })
    }

    /// The belief after counting more rings: `a + good`, `b + bad`.
    ///
    /// # Units
    /// Rings.
    /// # Validity
    /// Rings spoiled at random, not those lost at the ends or the stop.
    /// # Source
    /// Beta-binomial updating, mechanics F5.
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
    pub fn mean(self) -> f64 {
        self.a / (self.a + self.b)
    }

    /// Chance that exactly `good` of `turns` rings are good, one entry per count from 0 to
    /// `turns`.
    pub(super) fn chances(self, turns: u32) -> Vec<f64> {
        (0..=turns).map(|good| self.log_chance(good, turns).exp()).collect()
    }

    /// `ln [C(n, i) B(i + a, n - i + b) / B(a, b)]`.
    fn log_chance(self, good: u32, turns: u32) -> f64 {
        let (n, i) = (f64::from(turns), f64::from(good));
        let ln_choose = ln_gamma(n + 1.0) - ln_gamma(i + 1.0) - ln_gamma(n - i + 1.0);
        ln_choose + ln_beta(i + self.a, n - i + self.b) - ln_beta(self.a, self.b)
    }
}

fn ln_beta(a: f64, b: f64) -> f64 {
    ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b)
}

/// Chance that at least `good_rings` of `turns` slit turns are good.
///
/// `P(X >= j) = sum_{i=j}^{n} C(n,i) B(i+a, n-i+b) / B(a,b)`. The terms are summed from the
/// shorter tail, each from the one before by its exact ratio.
///
/// # Units
/// Rings in, a share of one out.
/// # Validity
/// One unknown rate for all turns.
/// # Errors
/// [`CountError::MoreThanTurns`] if more are asked for than there are.
/// # Source
/// Mechanics F5; beta-binomial distribution.
///
/// ```
/// use linkwright_calc::count::{GoodRate, chance_of_at_least};
/// let chance = chance_of_at_least(50, 55, GoodRate::new(95.0, 5.0).unwrap()).unwrap();
/// assert!((chance - 0.903_836_498_5).abs() < 1e-9);
/// ```
pub fn chance_of_at_least(good_rings: u32, turns: u32, rate: GoodRate) -> Result<f64, CountError> {
    if good_rings > turns {
        return Err(CountError::MoreThanTurns { good_rings, turns });
    }
    if good_rings == 0 {
        return Ok(1.0);
    }
    // Both tails are added up smallest term first; the larger one is taken as the rest.
    let upper_is_longer = f64::from(good_rings) < rate.mean() * f64::from(turns);
    let chance = if upper_is_longer {
        1.0 - tail(rate, turns, 0..=good_rings - 1)
    } else {
        tail(rate, turns, good_rings..=turns)
    };
    Ok(chance.clamp(0.0, 1.0))
}

/// Sum of the chances of a range of counts.
fn tail(rate: GoodRate, turns: u32, counts: std::ops::RangeInclusive<u32>) -> f64 {
    let (n, first) = (f64::from(turns), *counts.start());
    // P(i+1)/P(i) = (n-i)(i+a) / ((i+1)(n-i-1+b)).
    let mut log_chance = rate.log_chance(first, turns);
    let mut sum = 0.0;
    for count in counts {
        sum += log_chance.exp();
        let i = f64::from(count);
        if count < turns {
            let ratio = (n - i) / (i + 1.0) * (i + rate.a) / (n - i - 1.0 + rate.b);
            log_chance += ratio.ln();
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_flat_belief_makes_every_count_as_likely() {
        // Mechanics P9: a = b = 1 gives P(X >= j) = (n + 1 - j)/(n + 1).
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

    proptest! {
        #[test]
        fn chances_of_all_counts_add_up_to_one(
            turns in 0_u32..300, a in 0.1..200.0, b in 0.1..50.0,
        ) {
            let sum: f64 = GoodRate::new(a, b).unwrap().chances(turns).iter().sum();
            prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}"); // log-gamma carries about 1e-12 a term
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
