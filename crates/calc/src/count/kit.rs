//! Whether a scale shows that a ring is missing from a kit.

use super::CountError;
use crate::limits::{COVERAGE, Limit, MASS, RING_MASS_CV, RINGS};
use crate::quantity::Mass;

/// A kit of rings and the scale it is checked on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KitQuery {
    /// Rings in a full kit.
    pub rings: u32,
    /// Mean mass of one ring.
    pub ring: Mass,
    /// Standard deviation of the mass from ring to ring, over its mean.
    pub ring_mass_cv: f64,
    /// Step of the scale's display.
    pub scale_step: Mass,
    /// How many standard uncertainties must fit; 1.96 for 95 %.
    pub k: f64,
}

/// What a scale shows of a kit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KitCheck {
    /// Mass of the full kit.
    pub mass: Mass,
    /// Share of it that one ring weighs.
    pub one_ring_share: f64,
    /// Whether a missing ring shows.
    pub shows_a_missing_ring: bool,
    /// Coarsest step that shows it; none if the rings themselves differ too much.
    pub scale_step_max: Option<Mass>,
}

/// Whether a scale of a given step tells a full kit from one with a ring missing.
///
/// The limit is drawn half a ring below the full kit: `k sqrt(q^2/12 + n cv^2 m^2) <= m/2`, with
/// `m` the mass of a ring, `n` the rings, `q` the step.
///
/// # Units
/// Masses, a share of one.
/// # Validity
/// The mean mass of a ring is known well: from a counted full kit, not from a table. The scale is
/// set to zero with the empty bag on it.
/// # Errors
/// [`CountError::Limit`] naming the field.
/// # Source
/// Own rule; `docs/theory/counting.md`, section 2.
///
/// ```
/// use linkwright_calc::{count::{KitQuery, kit_check}, quantity::Mass};
/// // 102 copper rings of 0.2345 g: 23.92 g.
/// let check = |step_g| kit_check(&KitQuery {
///     rings: 102,
///     ring: Mass::from_g(0.2345),
///     ring_mass_cv: 0.01,
///     scale_step: Mass::from_g(step_g),
///     k: 1.96,
/// }).unwrap();
/// assert!((check(0.1).mass.g() - 23.919).abs() < 1e-9);
/// assert!(check(0.1).shows_a_missing_ring);
/// assert!(!check(1.0).shows_a_missing_ring);
/// ```
pub fn kit_check(query: &KitQuery) -> Result<KitCheck, CountError> {
    let n = Limit { low: 1.0, ..RINGS }.check(f64::from(query.rings))?;
    let m_g = Limit { field: "ring_mass_g", low: 1e-6, ..MASS }.check(query.ring.g())?;
    let q_g = MASS.named("scale_step_g").check(query.scale_step.g())?;
    let cv = RING_MASS_CV.check(query.ring_mass_cv)?;
    let k = COVERAGE.check(query.k)?;
    // Variance left for the reading once the rings have had theirs.
    let left_g2 = (m_g / (2.0 * k)).powi(2) - n * (cv * m_g).powi(2);
    Ok(KitCheck {
        mass: Mass::from_g(n * m_g),
        one_ring_share: 1.0 / n,
        shows_a_missing_ring: q_g * q_g / 12.0 <= left_g2,
        scale_step_max: (left_g2 > 0.0).then(|| Mass::from_g((12.0 * left_g2).sqrt())),
    })
}

#[cfg(test)]
mod tests {
    use super::{KitCheck, KitQuery, kit_check};
    use crate::quantity::Mass;

    fn check(rings: u32, cv: f64, step_g: f64) -> KitCheck {
        let (ring, scale_step) = (Mass::from_g(0.2), Mass::from_g(step_g));
        kit_check(&KitQuery { rings, ring, ring_mass_cv: cv, scale_step, k: 1.96 }).unwrap()
    }

    #[test]
    fn the_coarsest_step_is_where_the_answer_turns() {
        let step_g = check(100, 0.01, 0.01).scale_step_max.unwrap().g();
        assert!(check(100, 0.01, step_g * 0.999).shows_a_missing_ring);
        assert!(!check(100, 0.01, step_g * 1.001).shows_a_missing_ring);
    }

    #[test]
    fn no_scale_shows_a_ring_missing_from_a_large_kit_of_uneven_rings() {
        // Spread of the kit 2 % * sqrt(1000) = 0.63 ring.
        assert_eq!(check(1000, 0.02, 0.001).scale_step_max, None);
        assert!(!check(1000, 0.02, 0.0).shows_a_missing_ring);
    }
}
