//! From mandrel to coil: what is held, what springs back, what is kept.

use super::bend::bend;
use super::mandrel::Mandrel;
use super::stress::ElasticPlastic;
use crate::coil::{RelaxedTurns, WoundTurns};
use crate::limits::{LimitError, NATURAL_CURVATURE};
use crate::metal::FlowLaw;
use crate::quantity::{Curvature, Force, Length, Stress, Torque};
use crate::wire::Wire;

/// Less of the winding curvature than this is rounding, not set.
const LEAST_SET: f64 = 1e-12;

/// A wire about to be wound on a mandrel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winding {
    /// The wire.
    pub wire: Wire,
    /// The rod.
    pub mandrel: Mandrel,
    /// Young's modulus of the wire.
    pub youngs_modulus: Stress,
    /// Flow law of the wire.
    pub flow: FlowLaw,
    /// Curvature with which the wire arrives from the spool, positive in the winding sense;
    /// nothing for straight wire.
    pub natural_curvature: Curvature,
}

/// A coil: on the mandrel, and after it is let go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wound {
    /// Radius of the wire's centre line on the mandrel, `rho = (D + d)/2`.
    pub mean_radius: Length,
    /// Bending strain of the outer fibre, `e = d/(D + d)`.
    pub outer_fibre_strain: f64,
    /// Moment that holds the wire to the mandrel.
    pub bending_moment: Torque,
    /// Work that bent a length of wire, N mm per mm.
    pub work_per_length: Force,
    /// Curvature left after release.
    pub relaxed_curvature: Curvature,
    /// Whether the wire keeps any of the bend.
    pub takes_set: bool,
    /// Inside diameter after release; none if the wire takes no set or is not left a coil.
    pub coil_inside_diameter: Option<Length>,
    /// How much larger that is than the mandrel.
    pub growth: Option<Length>,
}

/// How many of the turns wound are left once the end is let go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KickBack {
    /// Turns left.
    pub left: RelaxedTurns,
    /// Turns that run back, all at once if the crank is let go: keep hands clear of it.
    pub run_back: f64,
}

/// Winds a wire on a mandrel and lets it go.
///
/// `kappa_f = kappa - M(kappa - kappa0)/(E I)`, `ID = 2/kappa_f - d`, growth `ID - D`, with
/// `kappa = 2/(D + d)` and `M` of [`bend`].
///
/// # Units
/// mm, N, MPa; strain a plain number.
/// # Validity
/// Unloading is elastic: always so for a metal that does not harden, whose surface swings by
/// 1.70 of its yield of the 2 that reverse yielding takes; a metal much softer in reverse springs
/// a few per cent more of the growth. Pull on the wire is left out: see
/// [`pull_effect`](super::pull_effect).
/// # Errors
/// [`LimitError`] naming the parameter of the metal, or `natural_curvature_per_mm`.
/// # Source
/// Elastic springback of a plastic hinge; own derivation, `docs/theory/winding.md`.
///
/// ```
/// use linkwright_calc::metal::FlowLaw;
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::{Mandrel, Winding, wind};
/// use linkwright_calc::wire::Wire;
/// let wound = wind(&Winding {
///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
///     mandrel: Mandrel::new(Length::from_mm(14.0)).unwrap(),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     flow: FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) },
///     natural_curvature: Curvature::from_per_mm(0.0),
/// }).unwrap();
/// assert!((wound.growth.unwrap().mm() - 0.92131).abs() < 1e-5);
/// ```
pub fn wind(winding: &Winding) -> Result<Wound, LimitError> {
    let metal = ElasticPlastic::new(winding.youngs_modulus, winding.flow)?;
    let kappa0 = NATURAL_CURVATURE.check(winding.natural_curvature.per_mm())?;
    let d_mm = winding.wire.diameter().mm();
    let mandrel_mm = winding.mandrel.diameter().mm();
    let kappa = 2.0 / (mandrel_mm + d_mm);

    let change = kappa - kappa0;
    let bent = bend(winding.wire, &metal, Curvature::from_per_mm(change));
    let kept = kept_curvature(winding.wire, &metal, change);
    let takes_set = kept.abs() > LEAST_SET * change.abs();
    let kappa_f = if takes_set { kappa0 + kept } else { kappa0 };
    let coil_mm = 2.0 / kappa_f - d_mm;
    let is_coil = takes_set && kappa_f > 0.0 && coil_mm > 0.0;
    let coil_inside_diameter = is_coil.then(|| Length::from_mm(coil_mm));
    Ok(Wound {
        mean_radius: Length::from_mm((mandrel_mm + d_mm) / 2.0),
        outer_fibre_strain: d_mm / (mandrel_mm + d_mm),
        bending_moment: bent.moment,
        work_per_length: bent.work_per_length,
        relaxed_curvature: Curvature::from_per_mm(kappa_f),
        takes_set,
        coil_inside_diameter,
        growth: coil_inside_diameter.map(|inside| inside - winding.mandrel.diameter()),
    })
}

/// Curvature that stays after bending by `change_per_mm` and letting go: `change - M/(E I)`.
pub(super) fn kept_curvature(wire: Wire, metal: &ElasticPlastic, change_per_mm: f64) -> f64 {
    let surface_strain = change_per_mm.abs() * wire.diameter().mm() / 2.0;
    if surface_strain <= metal.yield_strain() {
        return 0.0;
    }
    let stiffness = metal.youngs_modulus().mpa() * wire.second_moment_mm4();
    let moment = bend(wire, metal, Curvature::from_per_mm(change_per_mm)).moment;
    change_per_mm - moment.n_mm() / stiffness
}

impl Wound {
    /// Turns left and turns that run back when the end is let go; none if no coil is left.
    ///
    /// `N rho/rho_f` are left, since the wire keeps its length.
    ///
    /// # Units
    /// Turns.
    /// # Validity
    /// Pitch small against the diameter.
    /// # Source
    /// As [`WoundTurns::relaxed`].
    ///
    /// ```
    /// use linkwright_calc::coil::WoundTurns;
    /// use linkwright_calc::metal::FlowLaw;
    /// use linkwright_calc::quantity::{Curvature, Length, Stress};
    /// use linkwright_calc::wind::{Mandrel, Winding, wind};
    /// use linkwright_calc::wire::Wire;
    /// let wound = wind(&Winding {
    ///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
    ///     mandrel: Mandrel::new(Length::from_mm(5.0)).unwrap(),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     flow: FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) },
    ///     natural_curvature: Curvature::from_per_mm(0.0),
    /// }).unwrap();
    /// let kick = wound.kick_back(WoundTurns::new(60)).unwrap();
    /// assert!((kick.run_back - 2.03).abs() < 0.001);
    /// ```
    pub fn kick_back(&self, wound: WoundTurns) -> Option<KickBack> {
        self.coil_inside_diameter?;
        let turns = f64::from(wound.get());
        let left = turns * self.mean_radius.mm() * self.relaxed_curvature.per_mm();
        Some(KickBack { left: RelaxedTurns::new(left), run_back: turns - left })
    }
}
