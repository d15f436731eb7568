//! Springback as one plain number, and the ring that goes with it.

use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wind::bend::{ALL_ELASTIC, core_moment};
use crate::wind::root::rising_root;
use crate::wire::Wire;

/// Outer-fibre strain at which a lot's flow-stress ratio is stated, as in the metals table.
pub(super) const REFERENCE_STRAIN: f64 = 0.20;

/// A wire on a mandrel, reduced to what springback needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bend {
    /// Wire diameter, mm.
    pub d_mm: f64,
    /// Mean diameter on the mandrel `D + d`, mm.
    pub mean_mm: f64,
}

impl Bend {
    pub(super) fn new(wire: Wire, mandrel: Mandrel) -> Bend {
        let d_mm = wire.diameter().mm();
        Bend { d_mm, mean_mm: mandrel.diameter().mm() + d_mm }
    }

    /// Outer-fibre strain.
    pub(super) fn strain(self) -> f64 {
        self.d_mm / self.mean_mm
    }

    /// Logarithm of the strain over the reference strain: how far hardening has gone.
    pub(super) fn log_strain(self) -> f64 {
        (self.strain() / REFERENCE_STRAIN).ln()
    }

    /// Springback share `A = (3 pi/16)(1 - (D+d)/(ID+d))` of an inside diameter.
    pub(super) fn share_of(self, inside_mm: f64) -> f64 {
        ALL_ELASTIC * (1.0 - self.mean_mm / (inside_mm + self.d_mm))
    }

    /// Slope of that share on the inside diameter, per mm.
    pub(super) fn share_slope(self, inside_mm: f64) -> f64 {
        ALL_ELASTIC * self.mean_mm / (inside_mm + self.d_mm).powi(2)
    }

    /// Inside diameter at a logarithm of the flow-stress ratio; none if the wire takes no set.
    pub(super) fn inside_mm(self, log_ratio: f64) -> Option<f64> {
        let u = self.yield_share(log_ratio);
        let held = 1.0 - core_moment(u.min(1.0)) / ALL_ELASTIC;
        (u < 1.0 && held > 0.0).then(|| self.mean_mm / held - self.d_mm)
    }

    /// Logarithm of the flow-stress ratio that gives an inside diameter; none at or below the
    /// mandrel, which no ratio gives.
    pub(super) fn log_ratio(self, inside_mm: f64) -> Option<f64> {
        let share = self.share_of(inside_mm);
        (share > 0.0).then(|| {
            let u = rising_root(0.0, 1.0, |u| core_moment(u) - share);
            (u * self.strain()).ln()
        })
    }

    /// `u`, the depth share down to which the section yields; one and more is elastic.
    pub(super) fn yield_share(self, log_ratio: f64) -> f64 {
        log_ratio.exp() / self.strain()
    }

    /// Springback share at a logarithm of the ratio, and its slope on that logarithm.
    pub(super) fn share_at(self, log_ratio: f64) -> (f64, f64) {
        let u = self.yield_share(log_ratio);
        if u >= 1.0 {
            return (ALL_ELASTIC, 0.0);
        }
        (core_moment(u), u * (1.0 - u * u).powf(1.5))
    }
}

/// Flow stress over Young's modulus that one measured coil implies.
///
/// `s_eq/E = (3 pi/32)(1 - rho/rho_f)(d/rho)`, with `rho = (D+d)/2`, `rho_f = (ID+d)/2`; nothing if
/// the coil did not grow, below nothing if it reads smaller than its mandrel.
///
/// # Units
/// Lengths mm; the ratio is a plain number.
/// # Validity
/// `s_eq = 6 M/d^3` is the stress of a fully plastic section of the same moment: exact in the
/// moment, whatever the flow law.
/// # Source
/// Elastic unloading solved for the moment; own derivation, `docs/theory/springback-from-trials.md`.
///
/// ```
/// use linkwright_calc::quantity::Length;
/// use linkwright_calc::wind::{Mandrel, flow_ratio_read_back};
/// use linkwright_calc::wire::Wire;
/// let wire = Wire::new(Length::from_mm(0.81)).unwrap();
/// let mandrel = Mandrel::new(Length::from_mm(3.0)).unwrap();
/// let ratio = flow_ratio_read_back(wire, mandrel, Length::from_mm(3.17));
/// assert!((ratio - 0.00535).abs() < 0.000005);
/// ```
pub fn flow_ratio_read_back(wire: Wire, mandrel: Mandrel, coil_inside_diameter: Length) -> f64 {
    let bend = Bend::new(wire, mandrel);
    bend.strain() * bend.share_of(coil_inside_diameter.mm())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;

    proptest! {
        #[test]
        fn ring_and_ratio_are_inverse(log in -8.0..-4.0, mandrel_over_wire in 1.0..20.0) {
            let bend = Bend { d_mm: 1.0, mean_mm: mandrel_over_wire + 1.0 };
            if let Some(inside_mm) = bend.inside_mm(log) {
                // The ring holds growth to 1e-16 of itself; the least growth here is 1e-3 of it.
                // Near the elastic limit the curve is flat and the ratio less sharply held.
                let u = bend.yield_share(log);
                let tolerance = 1e-10 / (1.0 - u * u).powf(1.5);
                prop_assert!((bend.log_ratio(inside_mm).unwrap() - log).abs() < tolerance);
            }
        }

        #[test]
        fn the_slope_of_the_share_is_the_difference_quotient(log in -8.0..-2.0, mean_mm in 2.0..20.0) {
            let bend = Bend { d_mm: 1.0, mean_mm };
            let h = 1e-6;
            let quotient = (bend.share_at(log + h).0 - bend.share_at(log - h).0) / (2.0 * h);
            // The step's square times the curvature, and rounding over the step: 1e-9.
            prop_assert!((bend.share_at(log).1 - quotient).abs() < 1e-8);
        }
    }
}
