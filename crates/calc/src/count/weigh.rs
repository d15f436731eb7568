//! How many rings lie on the scale, and how sure that is.

use super::CountError;
use crate::limits::{Limit, LimitError, MASS, RING_MASS_CV, RINGS};
use crate::quantity::Mass;

/// A lot on the scale and a counted sample of the same rings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighing {
    /// Mass of the lot, container taken off.
    pub net: Mass,
    /// Standard uncertainty of that mass.
    pub net_uncertainty: Mass,
    /// Rings counted into the sample.
    pub sample_rings: u32,
    /// Mass of the sample, container taken off.
    pub sample: Mass,
    /// Standard uncertainty of that mass.
    pub sample_uncertainty: Mass,
    /// Standard deviation of the mass from ring to ring, over its mean.
    pub ring_mass_cv: f64,
}

/// A count by weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counted {
    /// Rings, not rounded.
    pub rings: f64,
    /// Standard uncertainty, in rings; double it for about 95 %.
    pub uncertainty: f64,
}

impl Counted {
    /// Half width of the range that holds the count with about 95 %: two standard uncertainties.
    ///
    /// # Units
    /// Rings.
    /// # Validity
    /// Many rings, none of them odd ones out.
    /// # Source
    /// Normal distribution.
    ///
    /// ```
    /// use linkwright_calc::count::Counted;
    /// let counted = Counted { rings: 3050.0, uncertainty: 4.5 };
    /// assert_eq!(counted.two_sigma(), 9.0);
    /// ```
    pub fn two_sigma(self) -> f64 {
        2.0 * self.uncertainty
    }
}

impl Weighing {
    /// Checks every number of the weighing.
    fn check(&self) -> Result<(), LimitError> {
        let more_than_nothing = |field| Limit { field, low: 1e-6, ..MASS };
        more_than_nothing("net_mass_g").check(self.net.g())?;
        more_than_nothing("sample_mass_g").check(self.sample.g())?;
        MASS.named("net_mass_uncertainty_g").check(self.net_uncertainty.g())?;
        MASS.named("sample_mass_uncertainty_g").check(self.sample_uncertainty.g())?;
        Limit { field: "sample_rings", low: 1.0, ..RINGS }.check(f64::from(self.sample_rings))?;
        RING_MASS_CV.check(self.ring_mass_cv)?;
        Ok(())
    }

    /// Relative standard uncertainty of the count of `rings` rings that weigh `net_g`.
    pub(super) fn relative_uncertainty(&self, rings: f64, net_g: f64) -> f64 {
        let lot = self.net_uncertainty.g() / net_g;
        let sample = self.sample_uncertainty.g() / self.sample.g();
        let spread = 1.0 / rings + 1.0 / f64::from(self.sample_rings);
        (lot * lot + sample * sample + self.ring_mass_cv * self.ring_mass_cv * spread).sqrt()
    }
}

/// Rings in a lot by weight.
///
/// `n = W ns / ws`; `u(n) = n sqrt((uW/W)^2 + (us/ws)^2 + cv^2 (1/n + 1/ns))`: `W` lot, `ws` mass
/// of the `ns` sample rings, `u` their standard uncertainties, `cv` spread from ring to ring.
///
/// # Units
/// Masses in, rings out.
/// # Validity
/// Clean dry rings of one batch; the sample may or may not be part of the lot.
/// # Errors
/// [`CountError::Limit`] naming the field.
/// # Source
/// Propagation of uncertainty (GUM, from memory); `docs/theory/counting.md`, section 1.
///
/// ```
/// use linkwright_calc::{count::{Weighing, count_by_weight}, quantity::Mass};
/// let counted = count_by_weight(&Weighing {
///     net: Mass::from_g(103.2),
///     net_uncertainty: Mass::from_g(0.006),
///     sample_rings: 50,
///     sample: Mass::from_g(6.07),
///     sample_uncertainty: Mass::from_g(0.006),
///     ring_mass_cv: 0.012,
/// }).unwrap();
/// assert!((counted.rings - 850.082).abs() < 0.001);
/// assert!((counted.uncertainty - 1.706).abs() < 0.001);
/// ```
pub fn count_by_weight(weighing: &Weighing) -> Result<Counted, CountError> {
    weighing.check()?;
    let rings = weighing.net.g() * f64::from(weighing.sample_rings) / weighing.sample.g();
    let relative = weighing.relative_uncertainty(rings, weighing.net.g());
    Ok(Counted { rings, uncertainty: rings * relative })
}

pub(super) fn checked(weighing: &Weighing) -> Result<(), CountError> {
    Ok(weighing.check()?)
}

/// Standard uncertainty of one reading of a display that rounds to a step, `q / sqrt 12`.
///
/// # Units
/// Masses.
/// # Validity
/// The scale itself is right; its own error comes on top.
/// # Source
/// Variance of a uniform distribution; `docs/theory/counting.md`, section 1.
///
/// ```
/// use linkwright_calc::{count::reading_uncertainty, quantity::Mass};
/// assert!((reading_uncertainty(Mass::from_g(0.01)).g() - 0.002_886_75).abs() < 1e-8);
/// ```
pub fn reading_uncertainty(step: Mass) -> Mass {
    Mass::from_g(step.g() / 12.0_f64.sqrt())
}

/// Standard uncertainty of a net mass, the difference of two readings, `q / sqrt 6`.
///
/// # Units
/// Masses.
/// # Validity
/// As [`reading_uncertainty`]; not for a scale that is set to zero with the container on it.
/// # Source
/// Two readings' variances added; `docs/theory/counting.md`, section 1.
///
/// ```
/// use linkwright_calc::{count::net_uncertainty, quantity::Mass};
/// assert!((net_uncertainty(Mass::from_g(0.01)).g() - 0.004_082_48).abs() < 1e-8);
/// ```
pub fn net_uncertainty(step: Mass) -> Mass {
    Mass::from_g(step.g() / 6.0_f64.sqrt())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_lot_of_nothing_is_refused() {
        let weighing = Weighing {
            net: Mass::from_g(0.0),
            net_uncertainty: Mass::from_g(0.01),
            sample_rings: 50,
            sample: Mass::from_g(6.0),
            sample_uncertainty: Mass::from_g(0.01),
            ring_mass_cv: 0.01,
        };
        let error = count_by_weight(&weighing).unwrap_err().to_string();
        assert!(error.starts_with("net_mass_g is 0 g"), "{error}");
    }

    proptest! {
        #[test]
        fn the_same_masses_in_another_unit_count_the_same(k in 0.01..100.0_f64) {
            let at = |k: f64| count_by_weight(&Weighing {
                net: Mass::from_g(103.2 * k),
                net_uncertainty: Mass::from_g(0.006 * k),
                sample_rings: 50,
                sample: Mass::from_g(6.07 * k),
                sample_uncertainty: Mass::from_g(0.006 * k),
                ring_mass_cv: 0.012,
            }).unwrap();
            prop_assert!((at(k).rings - at(1.0).rings).abs() < 1e-9); // rounding
            prop_assert!((at(k).uncertainty - at(1.0).uncertainty).abs() < 1e-9);
        }
    }
}
