//! How large a lot can be counted to the ring, and how large a sample that takes.

use super::CountError;
use super::weigh::{Weighing, checked};
use crate::limits::{COVERAGE, Limit, RINGS};
use crate::quantity::Mass;

/// No lot larger than this is looked at.
const RINGS_MOST: u32 = 10_000_000;

/// What a sample is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SampleQuery {
    /// The weighing; its net mass is not used, the mass of a ring comes from the sample.
    pub weighing: Weighing,
    /// How many standard uncertainties must fit; 1.96 for 95 %.
    pub k: f64,
    /// Rings the count may be off: one half to count to the ring.
    pub limit: f64,
}

impl SampleQuery {
    fn check(&self) -> Result<(), CountError> {
        checked(&self.weighing)?;
        COVERAGE.check(self.k)?;
        Limit { field: "limit", low: 1e-6, ..RINGS }.check(self.limit)?;
        Ok(())
    }

    /// Whether a lot of so many rings is counted closely enough.
    fn close_enough(&self, rings: u32) -> bool {
        let rings = f64::from(rings);
        let ring_g = self.weighing.sample.g() / f64::from(self.weighing.sample_rings);
        let relative = self.weighing.relative_uncertainty(rings, rings * ring_g);
        self.k * rings * relative <= self.limit
    }
}

/// Largest lot whose count is off by no more than the limit; none if not even one ring is.
///
/// The largest `n` with `k u(n) <= limit`, where the lot weighs `n ws/ns`. The uncertainty rises
/// with `n`, so the answer is found by halving.
///
/// # Units
/// Rings.
/// # Validity
/// Lots up to ten million rings, which is also the answer where there is no limit.
/// # Errors
/// [`CountError::Limit`] naming the field.
/// # Source
/// Inverse of the uncertainty; `docs/theory/counting.md`, section 2.
///
/// ```
/// use linkwright_calc::{count::{SampleQuery, Weighing, exact_count_limit}, quantity::Mass};
/// let weighing = Weighing {
///     net: Mass::from_g(1.0),
///     net_uncertainty: Mass::from_g(0.006),
///     sample_rings: 50,
///     sample: Mass::from_g(6.07),
///     sample_uncertainty: Mass::from_g(0.006),
///     ring_mass_cv: 0.012,
/// };
/// let query = SampleQuery { weighing, k: 1.96, limit: 0.5 };
/// assert_eq!(exact_count_limit(&query).unwrap(), Some(110));
/// ```
pub fn exact_count_limit(query: &SampleQuery) -> Result<Option<u32>, CountError> {
    query.check()?;
    if !query.close_enough(1) {
        return Ok(None);
    }
    if query.close_enough(RINGS_MOST) {
        return Ok(Some(RINGS_MOST));
    }
    let (mut enough, mut too_many) = (1, RINGS_MOST);
    while too_many - enough > 1 {
        let middle = enough + (too_many - enough) / 2;
        if query.close_enough(middle) { enough = middle } else { too_many = middle }
    }
    Ok(Some(enough))
}

/// Fewest sample rings with which a lot of `lot_rings` is counted within the limit; none if no
/// sample up to the size of the lot does it.
///
/// The sample's mass grows with it, its reading uncertainty does not.
///
/// # Units
/// Rings.
/// # Validity
/// As [`exact_count_limit`].
/// # Errors
/// [`CountError::Limit`] naming the field.
/// # Source
/// Inverse of the uncertainty; `docs/theory/counting.md`, section 2.
///
/// ```
/// use linkwright_calc::{count::{SampleQuery, Weighing, sample_needed}, quantity::Mass};
/// let weighing = Weighing {
///     net: Mass::from_g(1.0),
///     net_uncertainty: Mass::from_g(0.006),
///     sample_rings: 50,
///     sample: Mass::from_g(6.07),
///     sample_uncertainty: Mass::from_g(0.006),
///     ring_mass_cv: 0.012,
/// };
/// // 850 rings within +-10 at two standard uncertainties: a sample of 11 is enough.
/// let query = SampleQuery { weighing, k: 2.0, limit: 10.0 };
/// let sample = sample_needed(&query, 850).unwrap().unwrap();
/// assert_eq!(sample, 11);
/// ```
pub fn sample_needed(query: &SampleQuery, lot_rings: u32) -> Result<Option<u32>, CountError> {
    query.check()?;
    let ring_g = query.weighing.sample.g() / f64::from(query.weighing.sample_rings);
    let with_sample = |sample_rings: u32| {
        let sample = Mass::from_g(ring_g * f64::from(sample_rings));
        let weighing = Weighing { sample_rings, sample, ..query.weighing };
        SampleQuery { weighing, ..*query }.close_enough(lot_rings)
    };
    if lot_rings == 0 || !with_sample(lot_rings) {
        return Ok(None);
    }
    let (mut too_few, mut enough) = (0, lot_rings);
    while enough - too_few > 1 {
        let middle = too_few + (enough - too_few) / 2;
        if with_sample(middle) { enough = middle } else { too_few = middle }
    }
    Ok(Some(enough))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::{RINGS_MOST, SampleQuery, exact_count_limit, sample_needed};
    use crate::count::{Weighing, count_by_weight};
    use crate::quantity::Mass;

    fn query(step_g: f64, cv: f64, sample_rings: u32, limit: f64) -> SampleQuery {
        let uncertainty = Mass::from_g(step_g / 12.0_f64.sqrt());
        SampleQuery {
            weighing: Weighing {
                net: Mass::from_g(1.0),
                net_uncertainty: uncertainty,
                sample_rings,
                sample: Mass::from_g(0.12 * f64::from(sample_rings)),
                sample_uncertainty: uncertainty,
                ring_mass_cv: cv,
            },
            k: 2.0,
            limit,
        }
    }

    /// Twice the uncertainty of a lot of so many rings, by the count itself.
    fn two_sigma(query: &SampleQuery, rings: u32) -> f64 {
        let ring_g = query.weighing.sample.g() / f64::from(query.weighing.sample_rings);
        let net = Mass::from_g(ring_g * f64::from(rings));
        count_by_weight(&Weighing { net, ..query.weighing }).unwrap().two_sigma()
    }

    #[test]
    fn a_scale_too_coarse_for_one_ring_counts_none() {
        assert_eq!(exact_count_limit(&query(1.0, 0.01, 50, 0.5)).unwrap(), None);
    }

    #[test]
    fn rings_all_alike_on_a_perfect_scale_have_no_limit() {
        assert_eq!(exact_count_limit(&query(0.0, 0.0, 50, 0.5)).unwrap(), Some(RINGS_MOST));
    }

    #[test]
    fn spread_within_the_lot_itself_cannot_be_sampled_away() {
        // sqrt(10000) * 2 % = 2 rings, whatever the sample.
        assert_eq!(sample_needed(&query(0.0, 0.02, 50, 3.0), 10_000).unwrap(), None);
    }

    proptest! {
        #[test]
        fn the_largest_lot_is_within_the_limit_and_one_more_ring_is_not(
            step_g in 0.001..0.01, cv in 0.002..0.03, sample_rings in 20_u32..200,
        ) {
            let query = query(step_g, cv, sample_rings, 1.0);
            let Some(most) = exact_count_limit(&query).unwrap() else { return Ok(()) };
            prop_assert!(two_sigma(&query, most) <= 1.0 + 1e-12); // rounding at the very limit
            prop_assert!(two_sigma(&query, most + 1) > 1.0 - 1e-12);
        }

        #[test]
        fn a_surer_count_takes_a_larger_sample(cv in 0.005..0.02, limit in 20.0..60.0) {
            let sample = |limit| sample_needed(&query(0.01, cv, 50, limit), 1000).unwrap().unwrap();
            prop_assert!(sample(limit / 2.0) >= sample(limit));
        }
    }
}
