//! The whole distribution of good rings of a plan of coils, each with its own turns.

use super::odds::GoodRate;
use super::{CountError, RateSharing};
use crate::limits::{SHARE, TURNS};

/// One coil of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coil {
    /// Relaxed turns, whole.
    pub turns: u32,
    /// Turns lost at its ends and at the stop.
    pub lost: u32,
}

impl Coil {
    /// Turns left to become rings.
    ///
    /// # Units
    /// Turns.
    /// # Validity
    /// None left where more are lost than there are.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::count::Coil;
    /// assert_eq!(Coil { turns: 45, lost: 5 }.left(), 40);
    /// assert_eq!(Coil { turns: 4, lost: 5 }.left(), 0);
    /// ```
    pub const fn left(self) -> u32 {
        self.turns.saturating_sub(self.lost)
    }
}

/// How many good rings a plan gives: a chance for every count.
#[derive(Clone, Debug, PartialEq)]
pub struct GoodRingsLaw {
    /// One entry per count of good rings, from none.
    chances: Vec<f64>,
}

impl GoodRingsLaw {
    /// The distribution of good rings of these coils.
    ///
    /// One shared rate: beta-binomial of all turns left together. A rate for each coil: the sum of
    /// independent beta-binomials, one per coil.
    ///
    /// # Units
    /// Turns in, chances out.
    /// # Validity
    /// Losses at the ends are fixed, not random. A shared rate for up to a million turns left, a
    /// rate for each coil for up to 25,000.
    /// # Errors
    /// [`CountError::TooManyTurns`] beyond that.
    /// # Source
    /// `docs/theory/counting.md`, section 4.
    ///
    /// ```
    /// use linkwright_calc::count::{Coil, GoodRate, GoodRingsLaw, RateSharing};
    /// // Two full coils and a shorter last one; five turns lost on each.
    /// let coils = [45, 45, 30].map(|turns| Coil { turns, lost: 5 });
    /// let rate = GoodRate::new(95.0, 5.0).unwrap();
    /// let law = GoodRingsLaw::of_coils(&coils, rate, RateSharing::Shared).unwrap();
    /// assert!((law.expected() - 0.95 * 105.0).abs() < 1e-9);
    /// assert!(law.at_least(95) > 0.9 && law.at_least(106) == 0.0);
    /// assert!(law.at_least(law.with_chance(0.95).unwrap()) >= 0.95);
    /// ```
    pub fn of_coils(
        coils: &[Coil],
        rate: GoodRate,
        sharing: RateSharing,
    ) -> Result<GoodRingsLaw, CountError> {
        let turns: u64 = coils.iter().map(|coil| u64::from(coil.left())).sum();
        let turns_max = match sharing {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "the limit is the whole number 1,000,000"
            )]
            RateSharing::Shared => TURNS.high as u32,
            RateSharing::PerCoil => PER_COIL_TURNS_MOST,
        };
        let Some(turns) = u32::try_from(turns).ok().filter(|turns| *turns <= turns_max) else {
            return Err(CountError::TooManyTurns { turns, turns_max });
        };
        let chances = match sharing {
            RateSharing::Shared => rate.chances(turns),
            RateSharing::PerCoil => coils.iter().fold(vec![1.0], |so_far, coil| {
                convolved(&so_far, &rate.chances(coil.left()), turns as usize)
            }),
        };
        Ok(GoodRingsLaw { chances })
    }

    /// Chance of at least so many good rings.
    ///
    /// # Units
    /// Rings in, a share of one out.
    /// # Validity
    /// Nought where more are asked for than there are turns.
    /// # Source
    /// Sum of the chances.
    ///
    /// ```
    /// use linkwright_calc::count::{Coil, GoodRate, GoodRingsLaw, RateSharing};
    /// let flat = GoodRate::new(1.0, 1.0).unwrap();
    /// let coil = [Coil { turns: 9, lost: 0 }];
    /// let law = GoodRingsLaw::of_coils(&coil, flat, RateSharing::Shared).unwrap();
    /// assert!((law.at_least(8) - 0.2).abs() < 1e-15);
    /// ```
    pub fn at_least(&self, good_rings: u32) -> f64 {
        let from = (good_rings as usize).min(self.chances.len());
        let enough: f64 = self.chances[from..].iter().rev().sum();
        enough.min(1.0)
    }

    /// Good rings to expect, not whole in general: turns left times the mean rate.
    ///
    /// # Units
    /// Rings.
    /// # Validity
    /// The same for a shared rate and for a rate for each coil.
    /// # Source
    /// Mean of the distribution.
    ///
    /// ```
    /// use linkwright_calc::count::{Coil, GoodRate, GoodRingsLaw, RateSharing};
    /// let rate = GoodRate::new(95.0, 5.0).unwrap();
    /// let coil = [Coil { turns: 45, lost: 5 }];
    /// let law = GoodRingsLaw::of_coils(&coil, rate, RateSharing::PerCoil).unwrap();
    /// assert!((law.expected() - 38.0).abs() < 1e-12);
    /// ```
    pub fn expected(&self) -> f64 {
        (0_u32..).zip(&self.chances).map(|(good, chance)| f64::from(good) * chance).sum()
    }

    /// Most good rings that can be promised with that chance: the largest `r` with
    /// `P(X >= r) >= chance`.
    ///
    /// # Units
    /// A share of one in, rings out.
    /// # Validity
    /// A chance of one promises none.
    /// # Errors
    /// [`CountError::Limit`] naming `confidence`.
    /// # Source
    /// Definition of a quantile.
    ///
    /// ```
    /// use linkwright_calc::count::{Coil, GoodRate, GoodRingsLaw, RateSharing};
    /// let flat = GoodRate::new(1.0, 1.0).unwrap();
    /// let coil = [Coil { turns: 9, lost: 0 }];
    /// let law = GoodRingsLaw::of_coils(&coil, flat, RateSharing::Shared).unwrap();
    /// assert_eq!(law.with_chance(0.75).unwrap(), 2); // at least 2 of 0..=9 even chances: 0.8
    /// ```
    pub fn with_chance(&self, chance: f64) -> Result<u32, CountError> {
        let chance = SHARE.named("confidence").check(chance)?;
        let mut so_far = 0.0;
        let most = (0_u32..).zip(&self.chances).collect::<Vec<_>>();
        for (good, of_this) in most.into_iter().rev() {
            so_far += of_this;
            if so_far >= chance {
                return Ok(good);
            }
        }
        Ok(0)
    }
}

/// Beyond this many turns a rate for each coil is not worked out: at worst a second's work.
pub(super) const PER_COIL_TURNS_MOST: u32 = 25_000;

/// Distribution of the sum of two counts; counts above `most` are kept in one last entry.
pub(super) fn convolved(one: &[f64], other: &[f64], most: usize) -> Vec<f64> {
    let mut sum = vec![0.0; (one.len() + other.len() - 1).min(most + 1)];
    let last = sum.len() - 1;
    for (good, chance) in one.iter().enumerate().filter(|(_, chance)| **chance > NEGLIGIBLE) {
        for (more, chance_more) in other.iter().enumerate() {
            sum[(good + more).min(last)] += chance * chance_more;
        }
    }
    sum
}

/// A chance so small that twenty-five thousand of them together change no digit of a double.
const NEGLIGIBLE: f64 = 1e-25;

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::{Coil, GoodRingsLaw};
    use crate::count::{CountError, GoodRate, RateSharing, chance_of_at_least};

    fn rate() -> GoodRate {
        GoodRate::new(95.0, 5.0).unwrap()
    }

    #[test]
    fn a_plan_beyond_the_limit_is_refused_with_the_limit() {
        let coils = vec![Coil { turns: 1000, lost: 0 }; 26];
        assert_eq!(
            GoodRingsLaw::of_coils(&coils, rate(), RateSharing::PerCoil),
            Err(CountError::TooManyTurns { turns: 26_000, turns_max: 25_000 })
        );
        assert!(GoodRingsLaw::of_coils(&coils, rate(), RateSharing::Shared).is_ok());
    }

    #[test]
    fn a_plan_of_no_coils_gives_no_rings_for_certain() {
        for sharing in [RateSharing::Shared, RateSharing::PerCoil] {
            let law = GoodRingsLaw::of_coils(&[], rate(), sharing).unwrap();
            assert_eq!((law.at_least(0), law.at_least(1)), (1.0, 0.0));
        }
    }

    proptest! {
        #[test]
        fn a_shared_rate_sees_only_the_total(
            first in 0_u32..60, second in 0_u32..60, lost in 0_u32..8, share in 0.0..1.0,
        ) {
            let coils = [Coil { turns: first, lost }, Coil { turns: second, lost }];
            let law = GoodRingsLaw::of_coils(&coils, rate(), RateSharing::Shared).unwrap();
            let total = first.saturating_sub(lost) + second.saturating_sub(lost);
            let good = law.with_chance(share).unwrap();
            let chance = chance_of_at_least(good, total, rate()).unwrap();
            prop_assert!((law.at_least(good) - chance).abs() < 1e-13); // rounding of 120 terms
        }

        #[test]
        fn both_sharings_expect_the_same_and_the_shared_one_spreads_more(
            turns in 10_u32..60, coils in 2_usize..8,
        ) {
            let plan = vec![Coil { turns, lost: 3 }; coils];
            let law = |sharing| GoodRingsLaw::of_coils(&plan, rate(), sharing).unwrap();
            let (shared, per_coil) = (law(RateSharing::Shared), law(RateSharing::PerCoil));
            prop_assert!((shared.expected() - per_coil.expected()).abs() < 1e-10);
            prop_assert!(
                shared.with_chance(0.95).unwrap() <= per_coil.with_chance(0.95).unwrap()
            );
        }
    }
}
