//! The beta-binomial law: a count when the share itself differs from coil to coil.

/// A beta-binomial law: of `n` rings each is good with the coil's own share, and the shares of
/// coils are spread as a beta law with parameters `a` and `b`.
///
/// `P(k) = C(n, k) B(k + a, n - k + b) / B(a, b)`.
///
/// # Units
/// Counts of rings; `a` and `b` carry no unit.
/// # Validity
/// `a > 0`, `b > 0`; large `a + b` is the binomial law.
/// # Source
/// Skellam 1948, J. R. Stat. Soc. B 10:257, from memory, text not seen; checked against exact
/// fractions in `tests/references/trials_planning.rs`.
///
/// ```
/// use linkwright_trials::BetaBinomial;
/// let law = BetaBinomial { a: 2.0, b: 2.0 };
/// let pmf = law.pmf(3);
/// assert!((pmf[0] - 0.2).abs() < 1e-15 && (pmf[1] - 0.3).abs() < 1e-15);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BetaBinomial {
    /// Weight of good rings.
    pub a: f64,
    /// Weight of spoiled ones.
    pub b: f64,
}

/// Beyond this much weight the coils are alike for any count we meet.
const ALIKE: f64 = 1e9;

impl BetaBinomial {
    /// The law with this chance that a ring is good and this chance that two of one coil are.
    ///
    /// `M = (m1 - m2) / (m2 - m1^2)`, `a = m1 M`, `b = (1 - m1) M`.
    ///
    /// # Units
    /// Shares of one.
    /// # Validity
    /// `m1^2 <= m2 <= m1`; coils that do not differ give a law with a very large weight, coils
    /// that differ in full one with a very small weight.
    /// # Source
    /// Moments of the beta law.
    pub fn with_moments(once: f64, twice: f64) -> BetaBinomial {
        let weight = (once - twice) / (twice - once * once);
        let weight = if weight.is_finite() { weight.clamp(1e-9, ALIKE) } else { ALIKE };
        BetaBinomial { a: once * weight, b: (1.0 - once) * weight }
    }

    /// Chance that a ring is good.
    pub fn mean_share(self) -> f64 {
        self.a / (self.a + self.b)
    }

    /// How alike the rings of one coil are: 0 not at all, 1 all good or all spoiled.
    pub fn likeness(self) -> f64 {
        1.0 / (self.a + self.b + 1.0)
    }

    /// Chance of each count of good rings among `n`, from none to all: `n + 1` entries.
    pub fn pmf(self, n: u32) -> Vec<f64> {
        let mut pmf = Vec::new();
        self.pmf_into(n, &mut pmf);
        pmf
    }

    /// Chance of exactly `good` rings among `n`; nothing if `good` is more than there are.
    pub(crate) fn chance_of(self, good: u32, n: u32) -> f64 {
        if good > n {
            return 0.0;
        }
        let bad = n - good;
        let (mut chance, mut i) = (1.0, 0.0);
        let total = self.a + self.b;
        for g in 0..good {
            let g = f64::from(g);
            chance *= (self.a + g) / (total + i);
            i += 1.0;
        }
        for b in 0..bad {
            let b = f64::from(b);
            chance *= (self.b + b) / (total + i) * (i + 1.0) / (b + 1.0);
            i += 1.0;
        }
        chance
    }

    /// [`pmf`](BetaBinomial::pmf) into a vector that is used again.
    ///
    /// From the likelier end on, each chance follows from the one before by a ratio.
    pub(super) fn pmf_into(self, n: u32, pmf: &mut Vec<f64>) {
        let from_all = self.a >= self.b;
        // Counts of the likelier kind, all of them first.
        let (many, few) = if from_all { (self.a, self.b) } else { (self.b, self.a) };
        let total = f64::from(n);
        pmf.clear();
        let mut chance = 1.0;
        for i in 0..n {
            let i = f64::from(i);
            chance *= (many + i) / (many + few + i);
        }
        pmf.push(chance);
        for spoiled in 0..n {
            let j = f64::from(spoiled);
            let left = total - j;
            chance *= left / (j + 1.0) * (few + j) / (many + left - 1.0);
            pmf.push(chance);
        }
        if from_all {
            pmf.reverse();
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::BetaBinomial;

    proptest! {
        #[test]
        fn chances_add_up_and_keep_their_mean(n in 1_u32..200, a in 0.05..500.0, b in 0.05..500.0) {
            let law = BetaBinomial { a, b };
            let pmf = law.pmf(n);
            let sum: f64 = pmf.iter().sum();
            let mean: f64 = (0..=n).zip(&pmf).map(|(k, p)| f64::from(k) * p).sum();
            prop_assert!((sum - 1.0).abs() < 1e-11, "{sum}");
            prop_assert!((mean - f64::from(n) * law.mean_share()).abs() < 1e-9 * f64::from(n));
            for (k, p) in (0..=n).zip(&pmf) {
                // Some two hundred factors on either way.
                prop_assert!((law.chance_of(k, n) - p).abs() <= 1e-10 * p + 1e-300, "{k}");
            }
            prop_assert!(law.chance_of(n + 1, n).abs() < 1e-300);
        }

        #[test]
        fn moments_give_the_law_they_came_from(a in 0.1..300.0, b in 0.1..300.0) {
            let law = BetaBinomial { a, b };
            let once = law.mean_share();
            let twice = once * (a + 1.0) / (a + b + 1.0);
            let found = BetaBinomial::with_moments(once, twice);
            prop_assert!((found.a / a - 1.0).abs() < 1e-6 && (found.b / b - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn coils_that_are_alike_are_binomial() {
        let law = BetaBinomial::with_moments(0.5, 0.25);
        assert!((law.pmf(2)[1] - 0.5).abs() < 1e-8);
    }
}
