//! How hard to clamp: where no mark, a faint oval or collapse is to be expected, and what the
//! slit does meanwhile.

use super::{HeldTurn, HoldError, SlitAt, slit_closes_between_locked_plates};
use crate::coil::RelaxedTurns;
use crate::limits::{FORCE, TURNS};
use crate::quantity::{Force, Length, Torque};
use crate::slit::Kerf;

/// Share of the collapse force up to which a faint oval is all that is expected; own suggestion,
/// no test behind it.
const FAINT_OVAL_SHARE: f64 = 0.5;

/// Share of the kerf by which a slit may close before the blade is taken to be pinched; about the
/// side clearance of a hollow-ground blade; own suggestion, no test behind it.
const PINCH_SHARE_OF_KERF: f64 = 0.1;

/// What the advice on a clamp is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClampQuery {
    /// One turn of the coil.
    pub turn: HeldTurn,
    /// Moment of [`reverse_yield_moment`](super::reverse_yield_moment) for wire as wound; none
    /// for wire annealed since.
    pub reverse_yield_moment: Option<Torque>,
    /// Turns that lie under the plates and share the force.
    pub turns_under_plates: RelaxedTurns,
    /// Width of the slot the blade leaves.
    pub kerf: Kerf,
    /// Where the slit lies to the plates.
    pub slit_at: SlitAt,
}

/// What one clamp force does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClampStep {
    /// Force on each turn.
    pub force_per_turn: Force,
    /// Force on all turns under the plates: what the screw or spring must give.
    pub force_all_turns: Force,
    /// How far the plates come together, elastic part.
    pub squeeze: Length,
    /// How much a slit closes as its turn is cut, the plates being locked.
    pub slit_closes: Length,
    /// The same as a share of the kerf.
    pub share_of_kerf: f64,
    /// Whether the slit closes so much that a blade in it is taken to be pinched.
    pub pinches_blade: bool,
}

/// How hard to clamp.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClampAdvice {
    /// Up to here no mark is expected.
    pub no_mark: ClampStep,
    /// Up to here a faint oval is all that is expected.
    pub faint_oval: ClampStep,
    /// Here the turns fold.
    pub collapse: ClampStep,
}

/// How hard to clamp, in three steps.
///
/// No mark: first yield, as wound (`pi Mr / R`) or annealed (`pi My / R`). Faint oval: half of
/// collapse. Collapse: `4 Mp / R`.
///
/// # Units
/// Forces, lengths and a plain share out.
/// # Validity
/// As the formulas it gathers; the force shared evenly, plates parallel, no tape or packing, which
/// would soften all of it. Above first yield the squeeze is the elastic part only.
/// # Errors
/// As [`clamp_step`].
/// # Source
/// Mechanics C1-C8; the half, and the tenth of a kerf that counts as a pinch, are own suggestions.
///
/// ```
/// use linkwright_calc::coil::{InsideDiameter, RelaxedTurns};
/// use linkwright_calc::hold::{ClampQuery, HeldTurn, HeldTurnParts, SlitAt, clamp_advice};
/// use linkwright_calc::quantity::{Length, Stress};
/// use linkwright_calc::slit::Kerf;
/// use linkwright_calc::wire::Wire;
/// let turn = HeldTurn::new(HeldTurnParts {
///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
///     inside: InsideDiameter::new(Length::from_mm(5.164)).unwrap(),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     poisson_ratio: 0.34,
///     yield_strength: Stress::from_mpa(450.0),
/// }).unwrap();
/// let advice = clamp_advice(&ClampQuery {
///     turn,
///     reverse_yield_moment: None,
///     turns_under_plates: RelaxedTurns::new(40.0),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     slit_at: SlitAt::BesidePlates,
/// }).unwrap();
/// assert!((advice.collapse.force_per_turn.n() - 200.0).abs() < 0.05);
/// assert!((advice.collapse.force_all_turns.n() - 8000.0).abs() < 2.0);
/// assert!(advice.collapse.pinches_blade);
/// ```
pub fn clamp_advice(query: &ClampQuery) -> Result<ClampAdvice, HoldError> {
    let turn = query.turn;
    let no_mark = match query.reverse_yield_moment {
        Some(moment) => turn.first_yield_force_as_wound(moment)?,
        None => turn.first_yield_force(),
    };
    let collapse = turn.collapse_force();
    let faint_oval = Force::from_n(FAINT_OVAL_SHARE * collapse.n());
    Ok(ClampAdvice {
        no_mark: clamp_step(query, no_mark)?,
        faint_oval: clamp_step(query, faint_oval)?,
        collapse: clamp_step(query, collapse)?,
    })
}

/// What a force of one's own choice on each turn does.
///
/// # Units
/// Force per turn in; forces, lengths and a plain share out.
/// # Validity
/// As [`clamp_advice`].
/// # Errors
/// - [`HoldError::NoTurns`] if less than one turn lies under the plates;
/// - [`HoldError::Limit`] if the force or the squeeze is outside its limits.
/// # Source
/// Mechanics C8, with the squeeze of [`HeldTurn::curved_ring`].
///
/// ```
/// # use linkwright_calc::coil::{InsideDiameter, RelaxedTurns};
/// # use linkwright_calc::hold::{ClampQuery, HeldTurn, HeldTurnParts, SlitAt, clamp_step};
/// # use linkwright_calc::quantity::{Force, Length, Stress};
/// # use linkwright_calc::slit::Kerf;
/// # use linkwright_calc::wire::Wire;
/// # let turn = HeldTurn::new(HeldTurnParts {
/// #     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
/// #     inside: InsideDiameter::new(Length::from_mm(5.2)).unwrap(),
/// #     youngs_modulus: Stress::from_mpa(110_000.0),
/// #     poisson_ratio: 0.34,
/// #     yield_strength: Stress::from_mpa(450.0),
/// # }).unwrap();
/// let query = ClampQuery {
///     turn,
///     reverse_yield_moment: None,
///     turns_under_plates: RelaxedTurns::new(40.0),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     slit_at: SlitAt::BesidePlates,
/// };
/// let step = clamp_step(&query, Force::from_n(20.0)).unwrap();
/// assert_eq!(step.force_all_turns.n(), 800.0);
/// assert!(!step.pinches_blade);
/// ```
pub fn clamp_step(query: &ClampQuery, force_per_turn: Force) -> Result<ClampStep, HoldError> {
    let turns = at_least_one(query.turns_under_plates)?;
    let all_n = FORCE.named("clamp_force_n").check(turns * force_per_turn.n())?;
    let squeeze = query.turn.curved_ring(force_per_turn)?.shortening;
    let slit_closes = slit_closes_between_locked_plates(squeeze, query.slit_at)?;
    let share_of_kerf = slit_closes.mm() / query.kerf.width().mm();
    Ok(ClampStep {
        force_per_turn,
        force_all_turns: Force::from_n(all_n),
        squeeze,
        slit_closes,
        share_of_kerf,
        pinches_blade: share_of_kerf > PINCH_SHARE_OF_KERF,
    })
}

/// Turns that share a load or a play.
pub(super) fn at_least_one(turns: RelaxedTurns) -> Result<f64, HoldError> {
    let turns = TURNS.check(turns.get())?;
    if turns < 1.0 { Err(HoldError::NoTurns { turns }) } else { Ok(turns) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;
    use crate::coil::InsideDiameter;
    use crate::hold::{HeldTurnParts, reverse_yield_moment};
    use crate::quantity::Stress;
    use crate::wire::Wire;

    fn query(aspect_ratio: f64, kerf_mm: f64, turns: f64) -> ClampQuery {
        let wire = Wire::new(Length::from_mm(1.291)).unwrap();
        let yield_strength = Stress::from_mpa(450.0);
        let plastic = Torque::from_n_mm(450.0 * wire.plastic_section_modulus_mm3());
        ClampQuery {
            turn: HeldTurn::new(HeldTurnParts {
                wire,
                inside: InsideDiameter::new(Length::from_mm(1.291 * aspect_ratio)).unwrap(),
                youngs_modulus: Stress::from_mpa(110_000.0),
                poisson_ratio: 0.34,
                yield_strength,
            })
            .unwrap(),
            reverse_yield_moment: Some(
                reverse_yield_moment(wire, yield_strength, plastic).unwrap(),
            ),
            turns_under_plates: RelaxedTurns::new(turns),
            kerf: Kerf::new(Length::from_mm(kerf_mm)).unwrap(),
            slit_at: SlitAt::BesidePlates,
        }
    }

    proptest! {
        #[test]
        fn the_three_steps_come_in_order(aspect_ratio in 2.5..20.0, turns in 1.0..100.0) {
            let wound = query(aspect_ratio, 0.3, turns);
            let annealed = ClampQuery { reverse_yield_moment: None, ..wound };
            let (wound, annealed) = (clamp_advice(&wound).unwrap(), clamp_advice(&annealed).unwrap());
            for advice in [wound, annealed] {
                prop_assert!(advice.no_mark.force_per_turn < advice.faint_oval.force_per_turn);
                prop_assert!(advice.faint_oval.force_per_turn < advice.collapse.force_per_turn);
                prop_assert!(advice.no_mark.slit_closes < advice.collapse.slit_closes);
            }
            prop_assert!(wound.no_mark.force_per_turn < annealed.no_mark.force_per_turn);
        }
    }

    #[test]
    fn wire_as_wound_bears_a_seventh_of_collapse_without_a_mark() {
        let advice = clamp_advice(&query(4.0, 0.3, 40.0)).unwrap();
        let share = advice.no_mark.force_per_turn.n() / advice.collapse.force_per_turn.n();
        assert!((share - 0.14).abs() < 0.005, "{share}"); // mechanics C6: 14 %
        assert!(!advice.no_mark.pinches_blade);
        assert!(advice.collapse.pinches_blade);
    }

    #[test]
    fn the_same_clamp_pinches_a_thin_blade_and_not_a_thick_one() {
        let force = Force::from_n(50.0);
        assert!(clamp_step(&query(4.0, 0.2, 40.0), force).unwrap().pinches_blade);
        assert!(!clamp_step(&query(4.0, 1.0, 40.0), force).unwrap().pinches_blade);
    }

    #[test]
    fn less_than_one_turn_is_refused() {
        let refused = clamp_advice(&query(4.0, 0.3, 0.5));
        assert_eq!(refused, Err(HoldError::NoTurns { turns: 0.5 }));
    }
}
