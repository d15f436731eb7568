//! Winding under pull: less moment, less springback, longer wire.

use std::f64::consts::FRAC_2_PI;

use super::root::rising_root;
use crate::limits::{LimitError, SHARE, TENSION, YIELD_STRENGTH};
use crate::quantity::{Force, Stress};
use crate::wire::Wire;

/// Share of the plastic moment left to a section that also carries a pull.
///
/// The neutral axis moves by `q a`: `N/Np = (2/pi)(asin q + q sqrt(1-q^2))`,
/// `M/Mp = (1-q^2)^1.5`; for small pulls `1 - 0.925 (N/Np)^2`.
///
/// # Units
/// Plain numbers; `pull_share` is `N/Np`, nothing to one.
/// # Validity
/// Round wire, plastic all through, no hardening.
/// # Errors
/// [`LimitError`] naming `pull_share`.
/// # Source
/// Own derivation, `docs/theory/winding.md`.
///
/// ```
/// use linkwright_calc::wind::plastic_moment_under_pull;
/// // 1 - 0.925 x 0.01, short of terms in the fourth power of the pull.
/// assert!((plastic_moment_under_pull(0.1).unwrap() - 0.99075).abs() < 2e-5);
/// ```
pub fn plastic_moment_under_pull(pull_share: f64) -> Result<f64, LimitError> {
    let eta = SHARE.named("pull_share").check(pull_share)?;
    let q = rising_root(0.0, 1.0, |q| FRAC_2_PI * (q.asin() + q * (1.0 - q * q).sqrt()) - eta);
    Ok((1.0 - q * q).powf(1.5))
}

/// What the pull while winding does to the springback.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullEffect {
    /// The pull over the pull that stretches the whole section, `eta = T / (sy A)`.
    pub pull_share: f64,
    /// Factor on the springback if bend and pull are let go together.
    pub growth_factor_together: f64,
    /// Factor if the pull is let off while the turns are still held to the mandrel.
    pub growth_factor_pull_first: f64,
}

/// How far a pull lowers the springback: `1 - 0.93 eta^2`, or `1 - 0.97 eta` if the pull goes first.
///
/// # Units
/// Force N, stress MPa, factors plain numbers.
/// # Validity
/// `eta` up to some 0.2 (the fits were made to 0.1). A hand pull of 5-15 N on 1 mm hard wire is
/// 0.01-0.05, so the effect is below the spread of the flow stress.
/// # Errors
/// [`LimitError`] naming `tension_n` or `yield_strength_mpa`; a pull above `sy A` stretches the
/// wire to no end and is refused as `tension_n`.
/// # Source
/// Fits to a layered section, own, from the reference of this project; that pull lowers the held
/// moment and its release lowers it further is also in ASME J. Eng. Ind. 113(2), p. 214 (abstract).
///
/// ```
/// use linkwright_calc::quantity::{Force, Length, Stress};
/// use linkwright_calc::wind::pull_effect;
/// use linkwright_calc::wire::Wire;
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let effect = pull_effect(wire, Stress::from_mpa(450.0), Force::from_n(10.0)).unwrap();
/// assert!((effect.pull_share - 0.0283).abs() < 0.0001);
/// assert!(effect.growth_factor_together > 0.999 && effect.growth_factor_pull_first < 0.975);
/// ```
pub fn pull_effect(wire: Wire, flow: Stress, tension: Force) -> Result<PullEffect, LimitError> {
    let flow_mpa = YIELD_STRENGTH.check(flow.mpa())?;
    let section_n = flow_mpa * wire.section().mm2();
    let mut limit = TENSION;
    (limit.high, limit.why) =
        (section_n, "a stronger pull stretches the wire instead of winding it");
    let eta = limit.check(tension.n())? / section_n;
    Ok(PullEffect {
        pull_share: eta,
        growth_factor_together: 1.0 - 0.93 * eta * eta,
        growth_factor_pull_first: 1.0 - 0.97 * eta,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A section cut into strips, each at `+sy` or `-sy` on its side of the neutral axis.
    fn strips(axis: f64) -> (f64, f64) {
        let strips = 200_000;
        let (mut pull, mut moment, mut area) = (0.0, 0.0, 0.0);
        for i in 0..strips {
            let y = (f64::from(i) + 0.5) / f64::from(strips) * 2.0 - 1.0;
            let strip = (1.0 - y * y).sqrt();
            let sign = if y > -axis { 1.0 } else { -1.0 };
            pull += sign * strip;
            moment += sign * strip * y;
            area += strip;
        }
        // Mp/(sy) of a unit circle is 4/3 against an area of pi.
        (pull / area, moment / area * std::f64::consts::PI / (4.0 / 3.0))
    }

    #[test]
    fn pull_and_moment_agree_with_a_section_of_strips() {
        for axis in [0.1, 0.35, 0.7] {
            let (pull, moment) = strips(axis);
            let exact = plastic_moment_under_pull(pull).unwrap();
            // A strip that straddles the axis: 1e-5 of the section.
            assert!((exact - moment).abs() < 2e-5, "{exact} {moment}");
        }
    }

    #[test]
    fn no_pull_leaves_the_whole_moment_and_all_the_pull_leaves_none() {
        assert!((plastic_moment_under_pull(0.0).unwrap() - 1.0).abs() < 1e-12);
        assert!(plastic_moment_under_pull(1.0).unwrap() < 1e-9);
        assert_eq!(plastic_moment_under_pull(1.1).unwrap_err().limit.field, "pull_share");
    }

    #[test]
    fn a_pull_that_stretches_the_wire_is_refused() {
        let wire = Wire::new(crate::quantity::Length::from_mm(1.0)).unwrap();
        let error = pull_effect(wire, Stress::from_mpa(100.0), Force::from_n(80.0)).unwrap_err();
        assert_eq!(error.limit.field, "tension_n");
    }

    #[test]
    fn letting_the_pull_off_first_lowers_springback_as_the_reference_says() {
        // eta 0.1: 0.991 or 0.903, as printed to three digits.
        let wire = Wire::new(crate::quantity::Length::from_mm(1.0)).unwrap();
        let tenth_n = 450.0 * wire.section().mm2() / 10.0;
        let effect = pull_effect(wire, Stress::from_mpa(450.0), Force::from_n(tenth_n)).unwrap();
        assert!((effect.growth_factor_together - 0.991).abs() < 5e-4);
        assert!((effect.growth_factor_pull_first - 0.903).abs() < 5e-4);
    }
}
