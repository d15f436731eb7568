//! From the coil wanted back to the mandrel.

use super::mandrel::Mandrel;
use super::root::rising_root;
use super::spring::kept_curvature;
use super::stress::ElasticPlastic;
use crate::limits::{INSIDE_DIAMETER, LimitError, MANDREL_DIAMETER, NATURAL_CURVATURE};
use crate::metal::FlowLaw;
use crate::quantity::{Curvature, Length, Stress};
use crate::wire::Wire;

/// A coil wanted, before its mandrel is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilWanted {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter after the coil has sprung open.
    pub coil_inside_diameter: Length,
    /// Young's modulus of the wire.
    pub youngs_modulus: Stress,
    /// Flow law of the wire.
    pub flow: FlowLaw,
    /// Curvature with which the wire arrives, positive in the winding sense.
    pub natural_curvature: Curvature,
}

/// The mandrel that gives a wanted coil; none if no mandrel does.
///
/// Solves `kappa - M(kappa - kappa0)/(E I) = 2/(ID + d)` for `kappa`; `D = 2/kappa - d`. The left
/// side rises with `kappa` once the wire yields, so there is at most one; it is sought between the
/// bend that is wanted and the tightest mandrel of [`MANDREL_DIAMETER`]. A wire that already has
/// the wanted curvature wants a mandrel of the wanted diameter.
///
/// # Units
/// Lengths mm, stresses MPa.
/// # Validity
/// As [`wind`](super::wind).
/// # Errors
/// [`LimitError`] naming `coil_inside_diameter_mm`, a parameter of the metal, or
/// `natural_curvature_per_mm`.
/// # Source
/// Inverse of [`wind`](super::wind).
///
/// ```
/// use linkwright_calc::metal::FlowLaw;
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::{CoilWanted, mandrel_for};
/// use linkwright_calc::wire::Wire;
/// let mut wanted = CoilWanted {
///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
///     coil_inside_diameter: Length::from_mm(5.0),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     flow: FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) },
///     natural_curvature: Curvature::from_per_mm(0.0),
/// };
/// let mandrel = mandrel_for(&wanted).unwrap().unwrap();
/// assert!((mandrel.diameter().mm() - 4.794103).abs() < 1e-6);
/// // So strong a wire would have to be wound on less than nothing.
/// wanted.flow = FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(60_000.0) };
/// assert_eq!(mandrel_for(&wanted).unwrap(), None);
/// ```
pub fn mandrel_for(wanted: &CoilWanted) -> Result<Option<Mandrel>, LimitError> {
    let metal = ElasticPlastic::new(wanted.youngs_modulus, wanted.flow)?;
    let kappa0 = NATURAL_CURVATURE.check(wanted.natural_curvature.per_mm())?;
    let inside_mm =
        INSIDE_DIAMETER.named("coil_inside_diameter_mm").check(wanted.coil_inside_diameter.mm())?;
    let d_mm = wanted.wire.diameter().mm();
    let curvature_on = |mandrel_mm: f64| 2.0 / (mandrel_mm + d_mm);

    let set = curvature_on(inside_mm) - kappa0;
    // Measured in the sense of the bend: a wire that arrives too tight is opened on a larger rod.
    let sense = if set < 0.0 { -1.0 } else { 1.0 };
    let tightest = if set < 0.0 {
        curvature_on(MANDREL_DIAMETER.high)
    } else {
        curvature_on(MANDREL_DIAMETER.low)
    };
    let most = (tightest - kappa0) * sense;
    let off = |change: f64| kept_curvature(wanted.wire, &metal, change) - set.abs();
    let least = set.abs();
    if most < least || off(most) < 0.0 {
        return Ok(None);
    }
    let change = if least > 0.0 { rising_root(least, most, off) } else { 0.0 };
    let mandrel_mm = 2.0 / (kappa0 + sense * change) - d_mm;
    Ok(Mandrel::new(Length::from_mm(mandrel_mm)).ok())
}
