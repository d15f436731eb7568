//! What the hand feels: torque on the mandrel and force at the crank.

use super::mandrel::Mandrel;
use super::spring::Wound;
use crate::coil::{RelaxedTurns, WoundTurns};
use crate::limits::{CRANK_ARM, EFFICIENCY, LimitError, TENSION};
use crate::quantity::{Force, Length, Torque};
use crate::wire::Wire;

/// Torque to wind a coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindingTorque {
    /// By energy: what the hand puts in is what the pull takes out and what bends the wire.
    pub exact: Torque,
    /// The easy sum `M + T rho`, never less.
    pub upper_bound: Torque,
}

/// Torque on the mandrel while winding under a pull `T`.
///
/// `Tq = rho (T + w)` with `w` the bending work per length; upper bound `M + T rho`.
///
/// # Units
/// Force N, torque N mm.
/// # Validity
/// `T` is the pull on the wire far from the mandrel; friction in a guide adds to it. The bound is
/// 35-50 % too high for annealed metal, 2-5 % for hard.
/// # Errors
/// [`LimitError`] naming `tension_n`.
/// # Source
/// Energy balance of one turn; own derivation, `docs/theory/winding.md`.
///
/// ```
/// use linkwright_calc::metal::FlowLaw;
/// use linkwright_calc::quantity::{Curvature, Force, Length, Stress};
/// use linkwright_calc::wind::{Mandrel, Winding, wind, winding_torque};
/// use linkwright_calc::wire::Wire;
/// let wound = wind(&Winding {
///     wire: Wire::new(Length::from_mm(1.628)).unwrap(),
///     mandrel: Mandrel::new(Length::from_mm(6.0)).unwrap(),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     flow: FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) },
///     natural_curvature: Curvature::from_per_mm(0.0),
/// }).unwrap();
/// let torque = winding_torque(&wound, Force::from_n(20.0)).unwrap();
/// assert!((torque.exact.n_mm() - 392.6436).abs() < 1e-3);
/// ```
pub fn winding_torque(wound: &Wound, tension: Force) -> Result<WindingTorque, LimitError> {
    let pull_n = TENSION.check(tension.n())?;
    let rho_mm = wound.mean_radius.mm();
    Ok(WindingTorque {
        exact: Torque::from_n_mm(rho_mm * (pull_n + wound.work_per_length.n())),
        upper_bound: Torque::from_n_mm(wound.bending_moment.n_mm().abs() + pull_n * rho_mm),
    })
}

/// The crank a hand turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crank {
    /// From the axis to the grip.
    pub arm: Length,
    /// Share of the work that reaches the mandrel: one for a grip straight on the rod.
    pub efficiency: f64,
}

/// Force of the hand at a crank, `F = Tq / (arm efficiency)`.
///
/// # Units
/// Torque N mm, arm mm, force N.
/// # Validity
/// Steady turning; some 20-40 N is comfortable with one hand (from memory).
/// # Errors
/// [`LimitError`] naming `crank_arm_mm` or `efficiency`.
/// # Source
/// Lever.
///
/// ```
/// use linkwright_calc::quantity::{Length, Torque};
/// use linkwright_calc::wind::{Crank, hand_force};
/// let crank = Crank { arm: Length::from_mm(60.0), efficiency: 0.8 };
/// assert!((hand_force(Torque::from_n_mm(480.0), crank).unwrap().n() - 10.0).abs() < 1e-12);
/// ```
pub fn hand_force(torque: Torque, crank: Crank) -> Result<Force, LimitError> {
    let arm_mm = CRANK_ARM.check(crank.arm.mm())?;
    let efficiency = EFFICIENCY.check(crank.efficiency)?;
    Ok(Force::from_n(torque.n_mm() / (arm_mm * efficiency)))
}

/// Inside diameter of a coil read from its turns: `ID = N (D + d)/n - d`, `N` wound, `n` left.
///
/// Counting what is left of a coil is a springback reading without a caliper.
///
/// # Units
/// Turns and mm.
/// # Validity
/// More than nothing left; pitch small against the diameter.
/// # Source
/// Constant wire length, as [`Wound::kick_back`].
///
/// ```
/// use linkwright_calc::coil::{RelaxedTurns, WoundTurns};
/// use linkwright_calc::quantity::Length;
/// use linkwright_calc::wind::{Mandrel, inside_diameter_from_turns};
/// use linkwright_calc::wire::Wire;
/// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
/// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
/// let inside = inside_diameter_from_turns(
///     wire, mandrel, WoundTurns::new(47), RelaxedTurns::new(45.7)).unwrap();
/// assert!((inside.mm() - 4.143).abs() < 0.001);
/// ```
pub fn inside_diameter_from_turns(
    wire: Wire,
    mandrel: Mandrel,
    wound: WoundTurns,
    left: RelaxedTurns,
) -> Option<Length> {
    let d_mm = wire.diameter().mm();
    let inside_mm = f64::from(wound.get()) * (mandrel.diameter().mm() + d_mm) / left.get() - d_mm;
    (left.get() > 0.0 && inside_mm > 0.0).then(|| Length::from_mm(inside_mm))
}
