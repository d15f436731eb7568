//! How large a lot can be counted to the ring, how large a sample that takes, and what a kit shows.

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
/// Lots up to ten million rings.
/// # Errors
/// [`CountError::Limit`] naming the field.
/// # Source
/// Mechanics F4.
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
/// Mechanics F2, solved for the sample.
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
/// // 850 rings within +-10 at two standard uncertainties: a sample of 16 is enough.
/// let query = SampleQuery { weighing, k: 2.0, limit: 10.0 };
/// let sample = sample_needed(&query, 850).unwrap().unwrap();
/// assert!((10..30).contains(&sample), "{sample}");
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

/// What a scale shows of a kit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KitCheck {
    /// Mass of the full kit.
    pub mass: Mass,
    /// Share of it that one ring weighs.
    pub one_ring_share: f64,
    /// Whether a missing ring shows on the display.
    pub shows_a_missing_ring: bool,
}

/// Whether a scale of a given step shows one missing ring in a kit.
///
/// A reading may be half a step off on either side, so a ring shows for certain when it weighs
/// more than one step: `m > q`.
///
/// # Units
/// Masses, a share of one.
/// # Validity
/// Rings alike; the spread of a hundred rings' masses is below one ring for a `cv` under 10 %.
/// # Source
/// Own rule.
///
/// ```
/// use linkwright_calc::{count::kit_check, quantity::Mass};
/// // 102 copper rings of 0.2345 g: 23.92 g.
/// let check = |step_g| kit_check(102, Mass::from_g(0.2345), Mass::from_g(step_g));
/// assert!((check(0.1).mass.g() - 23.919).abs() < 1e-9);
/// assert!(check(0.1).shows_a_missing_ring);
/// assert!(!check(1.0).shows_a_missing_ring);
/// ```
pub fn kit_check(rings: u32, ring: Mass, step: Mass) -> KitCheck {
    let mass = Mass::from_g(f64::from(rings) * ring.g());
    KitCheck {
        mass,
        one_ring_share: 1.0 / f64::from(rings.max(1)),
        shows_a_missing_ring: ring > step,
    }
}
