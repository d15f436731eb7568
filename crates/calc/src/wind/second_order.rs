//! What winding leaves out, how large it is, and when a wire cracks.

use std::f64::consts::PI;

use super::bend::bend;
use super::spring::Winding;
use super::stress::ElasticPlastic;
use crate::basis::Caution;
use crate::limits::{LimitError, REDUCTION_OF_AREA};
use crate::quantity::Curvature;

/// Above this share an effect that winding leaves out is said in words.
const STATED: f64 = 0.005;

/// Sizes of what [`wind`](super::wind) leaves out, each as a share of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondOrder {
    /// Hardening exponent that acts in this bend, `M kappa/w - 1`.
    pub acting_exponent: f64,
    /// Rise of the moment by logarithmic strain and the shift of the neutral axis.
    pub moment_rise: f64,
    /// Change of the wire in a turn, since the neutral axis moves inwards: below nothing.
    pub turn_length_change: f64,
    /// Change of the curvature since touching turns climb: below nothing.
    pub helix_curvature_change: f64,
    /// Change of the turn's length since touching turns climb.
    pub helix_length_change: f64,
}

/// Sizes of the effects that winding leaves out.
///
/// With `e` the outer strain and `n` the exponent of the power law that has the same moment and
/// work: moment rise `e^2 [n(n+2)/(3(n+5)) - n(1-n)/8 ((n+2)/(n+5) - n/(n+3))]`, wire of a turn
/// `-n e^2/(2(n+3))`, helix of touching turns `t = d/(2 pi rho)`: curvature `-t^2/(1+t^2)`, length
/// `sqrt(1+t^2) - 1`.
///
/// # Units
/// Shares, plain numbers.
/// # Validity
/// Second order in `e`; terms in its fourth power are below a tenth of these at `D/d` of 3.
/// # Errors
/// [`LimitError`] naming a parameter of the metal.
/// # Source
/// Series of the logarithmic strain about the middle of the section; own derivation,
/// `docs/theory/winding.md`.
///
/// ```
/// use linkwright_calc::metal::FlowLaw;
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::{Mandrel, Winding, second_order};
/// use linkwright_calc::wire::Wire;
/// let sizes = second_order(&Winding {
///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
///     mandrel: Mandrel::new(Length::from_mm(3.0)).unwrap(),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     flow: FlowLaw::Hollomon {
///         strength_coefficient: Stress::from_mpa(810.0),
///         hardening_exponent: 0.49,
///     },
///     natural_curvature: Curvature::from_per_mm(0.0),
/// }).unwrap();
/// assert!((sizes.moment_rise - 0.0040).abs() < 0.0001);
/// assert!((sizes.turn_length_change + 0.0044).abs() < 0.0001);
/// ```
pub fn second_order(winding: &Winding) -> Result<SecondOrder, LimitError> {
    let metal = ElasticPlastic::new(winding.youngs_modulus, winding.flow)?;
    let d_mm = winding.wire.diameter().mm();
    let rho_mm = (winding.mandrel.diameter().mm() + d_mm) / 2.0;
    let bent = bend(winding.wire, &metal, Curvature::from_per_mm(1.0 / rho_mm));
    // w = M kappa/(1+n) for a power law; an elastic wire has n = 1, a hinge n = 0.
    let n = (bent.moment.n_mm() / (rho_mm * bent.work_per_length.n()) - 1.0).clamp(0.0, 1.0);
    let e2 = (d_mm / (2.0 * rho_mm)).powi(2);
    let spread = (n + 2.0) / (n + 5.0) - n / (n + 3.0);
    let t2 = (d_mm / (2.0 * PI * rho_mm)).powi(2);
    Ok(SecondOrder {
        acting_exponent: n,
        moment_rise: e2 * (n * (n + 2.0) / (3.0 * (n + 5.0)) - n * (1.0 - n) / 8.0 * spread),
        turn_length_change: -n * e2 / (2.0 * (n + 3.0)),
        helix_curvature_change: -t2 / (1.0 + t2),
        helix_length_change: (1.0 + t2).sqrt() - 1.0,
    })
}

impl SecondOrder {
    /// The effects above half a per cent, in words.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// As [`second_order`].
    /// # Source
    /// Half a per cent is our choice: a tenth of the growth's usual spread or less.
    ///
    /// ```
    /// use linkwright_calc::wind::SecondOrder;
    /// let none = SecondOrder {
    ///     acting_exponent: 0.1, moment_rise: 0.001, turn_length_change: -0.001,
    ///     helix_curvature_change: -0.004, helix_length_change: 0.002,
    /// };
    /// assert!(none.cautions().is_empty());
    /// ```
    pub fn cautions(&self) -> Vec<Caution> {
        let effects = [
            ("the moment, by the metal's stretching unevenly", self.moment_rise),
            (
                "the wire in a turn, by the middle of the wire moving inwards",
                self.turn_length_change,
            ),
            ("the curvature, by the turns climbing", self.helix_curvature_change),
            ("the length of a turn, by its climbing", self.helix_length_change),
        ];
        effects
            .into_iter()
            .filter(|(_, share)| share.abs() > STATED)
            .map(|(what, share)| {
                Caution::Note(format!("tight coil: left out is {:+.1} % of {what}", 100.0 * share))
            })
            .collect()
    }
}

/// Smallest mandrel, over the wire's diameter, before the outer fibre reaches the strain at which
/// the metal breaks in a tensile test: `D/d = 100/r - 2`, not below nothing.
///
/// # Units
/// `r` the reduction of area in per cent; `D/d` a plain number.
/// # Validity
/// Sound wire without scratches. Metal that has been drawn hard may split along its length first.
/// # Errors
/// [`LimitError`] naming `reduction_of_area_percent`.
/// # Source
/// Outer strain `1/(D/d + 1)` set equal to `r/(100 - r)`; the sheet rule `R/T = 50/r - 1` of
/// Kalpakjian is the same (from memory).
///
/// ```
/// use linkwright_calc::wind::cracking_limit;
/// assert!((cracking_limit(25.0).unwrap() - 2.0).abs() < 1e-12);
/// assert_eq!(cracking_limit(70.0).unwrap(), 0.0);
/// ```
pub fn cracking_limit(reduction_of_area_percent: f64) -> Result<f64, LimitError> {
    let r = REDUCTION_OF_AREA.check(reduction_of_area_percent)?;
    Ok((100.0 / r - 2.0).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metal::FlowLaw;
    use crate::quantity::{Length, Stress};
    use crate::wind::Mandrel;
    use crate::wire::Wire;

    fn on(mandrel_mm: f64, flow: FlowLaw) -> SecondOrder {
        at_modulus(110_000.0, mandrel_mm, flow)
    }

    fn at_modulus(modulus_mpa: f64, mandrel_mm: f64, flow: FlowLaw) -> SecondOrder {
        second_order(&Winding {
            wire: Wire::new(Length::from_mm(1.0)).unwrap(),
            mandrel: Mandrel::new(Length::from_mm(mandrel_mm)).unwrap(),
            youngs_modulus: Stress::from_mpa(modulus_mpa),
            flow,
            natural_curvature: Curvature::from_per_mm(0.0),
        })
        .unwrap()
    }

    const fn annealed() -> FlowLaw {
        FlowLaw::Hollomon {
            strength_coefficient: Stress::from_mpa(810.0),
            hardening_exponent: 0.49,
        }
    }

    /// Moment and shift of the neutral axis of a power-law bar bent to `e`, by logarithmic strain,
    /// with the axis where the pulls balance; radius of the middle is 1/e, of the wire 1.
    fn by_logarithmic_strain(e: f64, n: f64) -> (f64, f64) {
        let layers = 20_000;
        let sum = |shift: f64, power: i32| -> f64 {
            (0..layers)
                .map(|i| {
                    let t = (f64::from(i) + 0.5) / f64::from(layers) * PI - PI / 2.0;
                    let (y, c) = t.sin_cos();
                    let eta = ((1.0 + e * y) / (1.0 - shift)).ln();
                    eta.abs().powf(n).copysign(eta) * y.powi(power) * c * c
                })
                .sum()
        };
        // The balance falls as the axis rises; halve.
        let (mut low, mut high) = (0.0, e * e);
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if sum(middle, 0) < 0.0 { low = middle } else { high = middle }
        }
        let plain: f64 = (0..layers)
            .map(|i| {
                let t = (f64::from(i) + 0.5) / f64::from(layers) * PI - PI / 2.0;
                let (y, c) = t.sin_cos();
                (e * y).abs().powf(n) * y.abs() * c * c
            })
            .sum();
        (sum(low, 1) / plain - 1.0, -low)
    }

    #[test]
    fn the_series_agrees_with_logarithmic_strain_summed_in_layers() {
        for n in [0.2, 0.49] {
            for e in [0.05, 0.15, 0.25] {
                let sizes = at_modulus(
                    1e6, // so stiff that its elastic core does not count
                    1.0 / e - 1.0,
                    FlowLaw::Hollomon {
                        strength_coefficient: Stress::from_mpa(810.0),
                        hardening_exponent: n,
                    },
                );
                let (rise, turn) = by_logarithmic_strain(e, n);
                // Fourth-power terms of a strain of a quarter, and what is left of the core: a tenth.
                assert!((sizes.moment_rise - rise).abs() < 0.1 * rise, "{n} {e} {rise} {sizes:?}");
                assert!(
                    (sizes.turn_length_change - turn).abs() < -0.1 * turn,
                    "{n} {e} {turn} {sizes:?}"
                );
            }
        }
    }

    #[test]
    fn the_helix_of_touching_turns_at_aspect_ratio_three_is_as_the_reference_says() {
        // Curvature -0.6 %, length +0.3 %, printed to one digit; AR 3 is D/d 3.
        let sizes = on(3.0, annealed());
        assert!((sizes.helix_curvature_change + 0.006).abs() < 5e-4);
        assert!((sizes.helix_length_change - 0.003).abs() < 5e-4);
        assert_eq!(sizes.cautions().len(), 1); // only the curvature passes half a per cent
    }

    #[test]
    fn a_metal_that_does_not_harden_has_no_second_order_and_an_elastic_one_has_exponent_one() {
        let hard = FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(300.0) };
        assert!(on(3.0, hard).moment_rise < 1e-3); // the small elastic core is a small exponent
        let elastic =
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(60_000.0) };
        assert!((on(3.0, elastic).acting_exponent - 1.0).abs() < 1e-12);
    }
}
