//! Closed forms of the bending moment: no hardening, and a power law without an elastic core.

use statrs::function::beta::ln_beta;

use super::bend::core_moment;
use crate::limits::{HARDENING_EXPONENT, LimitError};
use crate::quantity::{Curvature, Stress, Torque};
use crate::wire::Wire;

/// A wire of a metal that flows at one stress, bent to a curvature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerfectlyPlastic {
    /// The wire.
    pub wire: Wire,
    /// `E`.
    pub youngs_modulus: Stress,
    /// `sy`.
    pub flow_stress: Stress,
    /// Bent from straight.
    pub curvature: Curvature,
}

/// Bending moment of a metal that does not harden.
///
/// `u = 2 sy / (E kappa d)`; `M = E I kappa` for `u >= 1`, else
/// `M = Mp [3 asin(u)/u + sqrt(1-u^2)(5 - 2u^2)] / 8` with `Mp = sy d^3 / 6`.
///
/// # Units
/// Stresses MPa, curvature 1/mm, moment N mm.
/// # Validity
/// Elastic, then perfectly plastic; stresses positive.
/// # Source
/// Own derivation, `docs/theory/winding.md`; limits `3 pi/16 Mp` at first yield and `Mp`.
///
/// ```
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::{PerfectlyPlastic, perfectly_plastic_moment};
/// use linkwright_calc::wire::Wire;
/// let moment = perfectly_plastic_moment(&PerfectlyPlastic {
///     wire: Wire::new(Length::from_mm(2.0)).unwrap(),
///     youngs_modulus: Stress::from_mpa(100_000.0),
///     flow_stress: Stress::from_mpa(300.0),
///     curvature: Curvature::from_per_mm(1e6),
/// });
/// assert!((moment.n_mm() - 400.0).abs() < 1e-6); // 300 x 8 / 6
/// ```
pub fn perfectly_plastic_moment(bent: &PerfectlyPlastic) -> Torque {
    let kappa_per_mm = bent.curvature.per_mm();
    let strain = kappa_per_mm.abs() * bent.wire.diameter().mm() / 2.0;
    let yield_strain = bent.flow_stress.mpa() / bent.youngs_modulus.mpa();
    let moment_n_mm = if strain <= yield_strain {
        bent.youngs_modulus.mpa() * bent.wire.second_moment_mm4() * kappa_per_mm.abs()
    } else {
        let u = yield_strain / strain;
        let hinge = bent.flow_stress.mpa() * bent.wire.plastic_section_modulus_mm3();
        // The integral over u is 1 in the limit of small u.
        if u > 0.0 { hinge * core_moment(u) / u } else { hinge }
    };
    Torque::from_n_mm(moment_n_mm.copysign(kappa_per_mm))
}

/// The one stress at which a power-law wire, yielding all through, would have the same moment.
///
/// `s_eq = 6 M / d^3 = 1.5 B((n+2)/2, 3/2) K e^n`, `B` Euler's beta function, `e` the strain of the
/// outer fibre: the flow stress at about 0.55 of that strain.
///
/// # Units
/// Stresses MPa; exponent and strain plain numbers.
/// # Validity
/// Strains far beyond yield, so that the elastic core does not count.
/// # Errors
/// [`LimitError`] for an exponent outside 0 to 1.
/// # Source
/// Own derivation, `docs/theory/winding.md`; the factors for n of 0.1 to 0.5 are 0.939, 0.885,
/// 0.835, 0.790, 0.749.
///
/// ```
/// use linkwright_calc::quantity::Stress;
/// use linkwright_calc::wind::equivalent_flow_stress;
/// // Annealed brass at 20 % outer strain: the 277 MPa of the metals table.
/// let s_eq = equivalent_flow_stress(Stress::from_mpa(810.0), 0.49, 0.20).unwrap();
/// assert!((s_eq.mpa() - 277.0).abs() < 0.5);
/// ```
pub fn equivalent_flow_stress(
    strength_coefficient: Stress,
    hardening_exponent: f64,
    outer_fibre_strain: f64,
) -> Result<Stress, LimitError> {
    let n = HARDENING_EXPONENT.check(hardening_exponent)?;
    let share = 1.5 * ln_beta((n + 2.0) / 2.0, 1.5).exp();
    Ok(Stress::from_mpa(share * strength_coefficient.mpa() * outer_fibre_strain.abs().powf(n)))
}

/// Fully plastic moment of a power-law wire, `M = 2 K kappa^n a^(n+3) B((n+2)/2, 3/2)`.
///
/// # Units
/// `K` in MPa, curvature 1/mm, moment N mm.
/// # Validity
/// Strains far beyond yield, so that the elastic core does not count.
/// # Errors
/// [`LimitError`] for an exponent outside 0 to 1.
/// # Source
/// As [`equivalent_flow_stress`].
///
/// ```
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::power_law_moment;
/// use linkwright_calc::wire::Wire;
/// let wire = Wire::new(Length::from_mm(2.0)).unwrap();
/// // No hardening: 300 x 8 / 6.
/// let moment = power_law_moment(
///     wire, Stress::from_mpa(300.0), 0.0, Curvature::from_per_mm(0.2)).unwrap();
/// assert!((moment.n_mm() - 400.0).abs() < 1e-9);
/// ```
pub fn power_law_moment(
    wire: Wire,
    strength_coefficient: Stress,
    hardening_exponent: f64,
    curvature: Curvature,
) -> Result<Torque, LimitError> {
    let strain = curvature.per_mm() * wire.diameter().mm() / 2.0;
    let flow = equivalent_flow_stress(strength_coefficient, hardening_exponent, strain)?;
    let moment_n_mm = flow.mpa() * wire.plastic_section_modulus_mm3();
    Ok(Torque::from_n_mm(moment_n_mm.copysign(strain)))
}
