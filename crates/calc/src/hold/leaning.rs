//! Turns with room along the axis lean over like dominoes.

use super::HoldError;
use super::advice::at_least_one;
use crate::coil::{InsideDiameter, Pitch, RelaxedTurns, touching_pitch};
use crate::limits::{END_PLAY, FORCE, FRICTION};
use crate::quantity::{Force, Length};
use crate::wire::Wire;

/// What decides whether turns lean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeanQuery {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter of the coil.
    pub inside: InsideDiameter,
    /// Advance of the coil per turn.
    pub pitch: Pitch,
    /// Turns between the ends of the holder.
    pub turns: RelaxedTurns,
    /// Free play of the coil along the holder, both ends together.
    pub end_play: Length,
    /// Friction between wire and plates, a plain number; 0.15 to 0.2 for dry metal, from memory.
    pub friction: f64,
}

/// Whether turns lean, and how far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaning {
    /// Room each turn has beyond touching its neighbour; below nothing if turns press.
    pub slack_per_turn: Length,
    /// Room at which friction no longer holds a leaning turn.
    pub slack_allowed: Length,
    /// Lean that the room allows.
    pub lean_rad: f64,
    /// Friction, kept for [`Leaning::axial_push`].
    friction: f64,
}

/// How far turns can lean, and whether friction stops them.
///
/// `lean = acos(p_t / (p + end play / N))`; a leaning turn holds itself while `tan(lean) <= mu`,
/// so the room per turn must stay below `p_t (sqrt(1 + mu^2) - 1)`. `p_t` touching pitch.
///
/// # Units
/// Lengths and plain numbers in; lengths and radians out.
/// # Validity
/// Own criterion, untried at the bench: turns as stiff hoops, held at two rough contacts.
/// # Errors
/// - [`HoldError::Coil`] if the pitch is below the wire;
/// - [`HoldError::NoTurns`] for less than one turn;
/// - [`HoldError::Limit`] outside [`END_PLAY`] and [`FRICTION`].
/// # Source
/// Mechanics C9-C10; own derivation, `docs/theory/holding.md`, section 5.
///
/// ```
/// use linkwright_calc::coil::{InsideDiameter, RelaxedTurns, touching_pitch};
/// use linkwright_calc::hold::{LeanQuery, leaning};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
/// let held = |end_play_mm| leaning(&LeanQuery {
///     wire,
///     inside,
///     pitch: touching_pitch(wire, inside),
///     turns: RelaxedTurns::new(40.0),
///     end_play: Length::from_mm(end_play_mm),
///     friction: 0.2,
/// }).unwrap();
/// // 2 % of the wire a turn may be loose: 0.8 mm over 40 turns.
/// assert!((held(0.0).slack_allowed.mm() - 0.020).abs() < 0.0005);
/// assert!(!held(0.7).leans_over());
/// assert!(held(0.9).leans_over());
/// ```
pub fn leaning(query: &LeanQuery) -> Result<Leaning, HoldError> {
    let turns = at_least_one(query.turns)?;
    let friction = FRICTION.check(query.friction)?;
    let play_mm = END_PLAY.check(query.end_play.mm())? / turns;
    let room_mm = query.pitch.clearing(query.wire)?.advance().mm() + play_mm;
    let touching_mm = touching_pitch(query.wire, query.inside).advance().mm();
    Ok(Leaning {
        slack_per_turn: Length::from_mm(room_mm - touching_mm),
        slack_allowed: Length::from_mm(touching_mm * (1.0_f64.hypot(friction) - 1.0)),
        lean_rad: (touching_mm / room_mm).min(1.0).acos(),
        friction,
    })
}

impl Leaning {
    /// Whether the room lets turns lean further than friction holds, `tan(lean) > mu`.
    ///
    /// # Units
    /// Yes or no.
    /// # Validity
    /// As [`leaning`].
    /// # Source
    /// Mechanics C10.
    ///
    /// See [`leaning`] for an example.
    #[must_use]
    pub fn leans_over(self) -> bool {
        self.lean_rad.tan() > self.friction
    }

    /// Push along the axis that the top of one turn bears at a clamp force, `P (mu - tan(lean))`,
    /// none if it leans over by itself.
    ///
    /// # Units
    /// Clamp force per turn in, push per turn out.
    /// # Validity
    /// As [`leaning`]; the blade pushes with the tangential force of the cut.
    /// # Errors
    /// [`HoldError::Limit`] if the force is outside [`FORCE`].
    /// # Source
    /// Mechanics C11; own derivation, `docs/theory/holding.md`, section 5.
    ///
    /// ```
    /// use linkwright_calc::coil::{InsideDiameter, RelaxedTurns, touching_pitch};
    /// use linkwright_calc::hold::{LeanQuery, leaning};
    /// use linkwright_calc::{quantity::{Force, Length}, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
    /// let upright = leaning(&LeanQuery {
    ///     wire,
    ///     inside,
    ///     pitch: touching_pitch(wire, inside),
    ///     turns: RelaxedTurns::new(40.0),
    ///     end_play: Length::from_mm(0.0),
    ///     friction: 0.2,
    /// }).unwrap();
    /// assert!((upright.axial_push(Force::from_n(20.0)).unwrap().n() - 4.0).abs() < 1e-9);
    /// ```
    pub fn axial_push(self, clamp_force_per_turn: Force) -> Result<Force, HoldError> {
        let force_n = FORCE.check(clamp_force_per_turn.n())?;
        Ok(Force::from_n(force_n * (self.friction - self.lean_rad.tan()).max(0.0)))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

    use super::*;

    fn query(end_play_mm: f64, friction: f64) -> LeanQuery {
        let wire = Wire::new(Length::from_mm(1.0)).unwrap();
        let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
        LeanQuery {
            wire,
            inside,
            pitch: touching_pitch(wire, inside),
            turns: RelaxedTurns::new(40.0),
            end_play: Length::from_mm(end_play_mm),
            friction,
        }
    }

    proptest! {
        #[test]
        fn leaning_over_is_the_same_as_more_slack_than_allowed(
            end_play_mm in 0.0..4.0, friction in 0.05..0.5,
        ) {
            let leaning = leaning(&query(end_play_mm, friction)).unwrap();
            prop_assert_eq!(leaning.leans_over(), leaning.slack_per_turn > leaning.slack_allowed);
        }

        #[test]
        fn more_play_never_lets_a_turn_bear_more(end_play_mm in 0.0..4.0, more_mm in 0.0..1.0) {
            let push = |mm| {
                leaning(&query(mm, 0.2)).unwrap().axial_push(Force::from_n(10.0)).unwrap()
            };
            prop_assert!(push(end_play_mm + more_mm) <= push(end_play_mm));
        }
    }

    #[test]
    fn the_printed_slacks_are_two_and_one_per_cent_of_the_wire() {
        // Mechanics C9: 2.0 % of d at mu 0.2, 1.1 % at 0.15; half the last printed digit.
        for (friction, printed) in [(0.2, 0.020), (0.15, 0.011)] {
            let allowed_mm = leaning(&query(0.0, friction)).unwrap().slack_allowed.mm();
            assert!((allowed_mm - printed).abs() < 0.0005, "{allowed_mm}");
        }
    }

    #[test]
    fn turns_that_press_on_each_other_stand_upright() {
        let pressed =
            LeanQuery { pitch: Pitch::new(Length::from_mm(1.0)).unwrap(), ..query(0.0, 0.2) };
        let leaning = leaning(&pressed).unwrap();
        assert!(leaning.slack_per_turn.mm() < 0.0);
        assert_eq!(leaning.lean_rad.to_bits(), 0.0_f64.to_bits());
        assert!(!leaning.leans_over());
    }
}
