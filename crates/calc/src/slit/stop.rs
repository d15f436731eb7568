//! The stop end, where the blade halts short of the coil's end, and the head start before it.

use super::profile::{severed_reach_mm, touched_reach_mm};
use super::{Blade, Projection, SlitError, depth_at, severed_reach, touched_reach};
use crate::coil::Pitch;
use crate::limits::{LAST_TURN_FROM_BLADE_CENTRE, LimitError};
use crate::quantity::Length;
use crate::wire::Wire;

/// A turn this close outside the severed reach, in turns, counts as exactly at its limit: sums of
/// pitches do not come out even in floating point.
const TURN_ROUNDING: f64 = 1e-9;

/// How far short of the last turn's centre the blade's axis halts.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct LastTurn {
    from_blade_centre: Length,
}

impl LastTurn {
    /// The last turn's centre lies this far beyond the blade's axis at the stop; negative if the
    /// axis passes it.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// [`LAST_TURN_FROM_BLADE_CENTRE`].
    /// # Errors
    /// [`LimitError`] naming `last_turn_from_blade_centre_mm`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::LastTurn};
    /// let last = LastTurn::from_blade_centre(Length::from_mm(6.0)).unwrap();
    /// assert_eq!(last.distance().mm(), 6.0);
    /// ```
    pub fn from_blade_centre(distance: Length) -> Result<LastTurn, LimitError> {
        LAST_TURN_FROM_BLADE_CENTRE.check(distance.mm())?;
        Ok(LastTurn { from_blade_centre: distance })
    }

    /// The axis halts a setback short of the coil's end; the last turn's centre is half a wire in.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// As [`LastTurn::from_blade_centre`].
    /// # Errors
    /// [`LimitError`] naming `last_turn_from_blade_centre_mm`.
    /// # Source
    /// Geometry of the coil's end.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::LastTurn, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.6)).unwrap();
    /// let last = LastTurn::from_coil_end(Length::from_mm(6.0), wire).unwrap();
    /// assert!((last.distance().mm() - 5.2).abs() < 1e-12);
    /// ```
    pub fn from_coil_end(setback: Length, wire: Wire) -> Result<LastTurn, LimitError> {
        LastTurn::from_blade_centre(Length::from_mm(setback.mm() - wire.diameter().mm() / 2.0))
    }

    /// Distance from the blade's axis to the last turn's centre.
    pub const fn distance(self) -> Length {
        self.from_blade_centre
    }
}

/// What decides the stop end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopQuery {
    /// The blade.
    pub blade: Blade,
    /// How deep it works.
    pub projection: Projection,
    /// The wire.
    pub wire: Wire,
    /// Pitch of the coil.
    pub pitch: Pitch,
    /// Where the last turn lies when the blade halts.
    pub last_turn: LastTurn,
    /// Curve of the bore across the slot, taken off the depth; nothing to leave it out.
    pub sagitta: Length,
}

/// What the blade leaves when it halts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopEnd {
    /// Distance from the blade's axis within which a turn is severed.
    pub severed_reach: Length,
    /// Distance within which it is touched at all.
    pub touched_reach: Length,
    /// Depth of the blade at the last turn's centre.
    pub depth_at_last_turn: Length,
    /// Turns left uncut or half cut.
    pub turns_not_severed: u32,
    /// Of those, turns the blade has nicked.
    pub turns_nicked: u32,
    /// Of those, turns it has not touched.
    pub turns_untouched: u32,
}

/// Turns that are not severed when the blade's axis halts short of the last turn.
///
/// With `X` from the axis to the last turn's centre: none if `X <= s6`, else
/// `ceil((X - s6)/p)`; untouched likewise with `s7`; nicked is the difference. A turn exactly
/// at the limit counts as severed. `s6`, `s7` of [`severed_reach`] and [`touched_reach`].
///
/// # Units
/// Lengths in and out, whole turns out.
/// # Validity
/// A coil longer than what is left of it.
/// # Errors
/// - [`SlitError::DoesNotReach`] if the blade does not part the wire at all;
/// - [`SlitError::PastBladeCentre`] if it works past its own centre;
/// - [`SlitError::Coil`] if the pitch is below the wire.
/// # Source
/// Mechanics D8; own derivation, `docs/theory/slitting.md`, section 4.
///
/// ```
/// use linkwright_calc::coil::Pitch;
/// use linkwright_calc::quantity::Length;
/// use linkwright_calc::slit::{
///     Blade, BladeParts, Kerf, LastTurn, Projection, StopQuery, stop_end,
/// };
/// use linkwright_calc::wire::Wire;
/// let mm = Length::from_mm;
/// let blade = Blade::new(BladeParts {
///     diameter: mm(22.0), kerf: Kerf::new(mm(0.3)).unwrap(), teeth: None, hub_diameter: None,
/// }).unwrap();
/// let at = |depth| stop_end(StopQuery {
///     blade,
///     projection: Projection::new(mm(depth)).unwrap(),
///     wire: Wire::new(mm(1.29)).unwrap(),
///     pitch: Pitch::new(mm(1.31)).unwrap(),
///     last_turn: LastTurn::from_blade_centre(mm(6.0)).unwrap(),
///     sagitta: mm(0.0),
/// }).unwrap().turns_not_severed;
/// // Deeper is better.
/// assert_eq!([at(1.8), at(2.6), at(3.5)], [3, 1, 0]);
/// ```
pub fn stop_end(query: StopQuery) -> Result<StopEnd, SlitError> {
    let StopQuery { blade, projection, wire, pitch, last_turn, sagitta } = query;
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    let severed = severed_reach(blade, projection, wire, sagitta)?;
    let touched = touched_reach(blade, projection, wire)?;
    let left = |reach: Length| turns_beyond(last_turn, reach.mm(), pitch_mm);
    let turns_not_severed = left(severed);
    let turns_untouched = left(touched).min(turns_not_severed);
    Ok(StopEnd {
        severed_reach: severed,
        touched_reach: touched,
        depth_at_last_turn: depth_at(blade, projection, last_turn.distance())?,
        turns_not_severed,
        turns_nicked: turns_not_severed - turns_untouched,
        turns_untouched,
    })
}

/// Clear length the blade's axis needs before the centre of the first turn, so that it starts
/// without touching: `s7`.
///
/// # Units
/// A length.
/// # Validity
/// As [`touched_reach`]; add what the hand needs to start steadily.
/// # Errors
/// [`SlitError::PastBladeCentre`] if the projection exceeds the blade's radius.
/// # Source
/// Mechanics D9.
///
/// ```
/// use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection, head_start};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let mm = Length::from_mm;
/// let blade = Blade::new(BladeParts {
///     diameter: mm(38.1), kerf: Kerf::new(mm(0.3)).unwrap(), teeth: None, hub_diameter: None,
/// }).unwrap();
/// let needed = head_start(blade, Projection::new(mm(2.2)).unwrap(), Wire::new(mm(1.63)).unwrap());
/// assert!((needed.unwrap().mm() - 9.09).abs() < 0.005);
/// ```
pub fn head_start(blade: Blade, projection: Projection, wire: Wire) -> Result<Length, SlitError> {
    touched_reach(blade, projection, wire)
}

/// Turns whose centres lie beyond a reach.
pub(super) fn turns_beyond(last_turn: LastTurn, reach_mm: f64, pitch_mm: f64) -> u32 {
    let beyond = (last_turn.distance().mm() - reach_mm) / pitch_mm;
    if beyond <= TURN_ROUNDING {
        return 0;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "limits keep lengths over pitches below the range of u32; `as` saturates"
    )]
    let whole = (beyond - TURN_ROUNDING).floor().max(0.0) as u32;
    whole.saturating_add(1)
}

/// Both reaches in bare millimetres, for a blade that parts the wire.
pub(super) fn reaches_mm(blade_mm: f64, c_mm: f64, d_mm: f64) -> (f64, f64) {
    (severed_reach_mm(blade_mm, c_mm, d_mm), touched_reach_mm(blade_mm, c_mm, d_mm))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::slit::{BladeParts, Kerf};

    fn query(blade_mm: f64, c_mm: f64, d_mm: f64, p_mm: f64, x_mm: f64) -> StopQuery {
        let mm = Length::from_mm;
        StopQuery {
            blade: Blade::new(BladeParts {
                diameter: mm(blade_mm),
                kerf: Kerf::new(mm(0.3)).unwrap(),
                teeth: None,
                hub_diameter: None,
            })
            .unwrap(),
            projection: Projection::new(mm(c_mm)).unwrap(),
            wire: Wire::new(mm(d_mm)).unwrap(),
            pitch: Pitch::new(mm(p_mm)).unwrap(),
            last_turn: LastTurn::from_blade_centre(mm(x_mm)).unwrap(),
            sagitta: mm(0.0),
        }
    }

    #[test]
    fn a_turn_exactly_at_the_limit_counts_as_severed() {
        // 3-4-5: c = 2, d = 1, Db = 18 give a reach of exactly 4.
        let pitch = 1.1;
        for turns in 0_u32..40 {
            let x_mm = 4.0 + f64::from(turns) * pitch;
            let end = stop_end(query(18.0, 2.0, 1.0, pitch, x_mm)).unwrap();
            assert_eq!(end.turns_not_severed, turns, "last turn {turns} pitches beyond the reach");
        }
    }

    #[test]
    fn a_blade_whose_axis_passes_the_last_turn_leaves_none() {
        let end = stop_end(query(22.0, 2.0, 1.29, 1.31, -3.0)).unwrap();
        assert_eq!(end.turns_not_severed, 0);
    }

    proptest! {
        #[test]
        fn nicked_and_untouched_make_up_what_is_not_severed(
            blade_mm in 15.0..60.0, d_mm in 0.4..3.0, deeper in 0.0..3.0, x_mm in 0.0..40.0,
        ) {
            let end = stop_end(query(blade_mm, d_mm + deeper, d_mm, 1.01 * d_mm, x_mm)).unwrap();
            prop_assert_eq!(end.turns_nicked + end.turns_untouched, end.turns_not_severed);
            prop_assert!(end.severed_reach <= end.touched_reach);
        }

        #[test]
        fn going_deeper_never_leaves_more_turns(
            d_mm in 0.4..3.0, deeper in 0.0..2.0, more in 0.0..2.0, x_mm in 0.0..20.0,
        ) {
            let left = |c_mm| {
                stop_end(query(38.1, c_mm, d_mm, 1.01 * d_mm, x_mm)).unwrap().turns_not_severed
            };
            prop_assert!(left(d_mm + deeper + more) <= left(d_mm + deeper));
        }

        #[test]
        fn a_severed_turn_lies_whole_inside_the_blade(
            d_mm in 0.4..3.0, deeper in 0.01..2.0, share in 0.0..1.0_f64,
        ) {
            // Brute force: points round the section of a turn at a share of the reach.
            let (blade_mm, c_mm) = (31.75, d_mm + deeper);
            let end = stop_end(query(blade_mm, c_mm, d_mm, 1.01 * d_mm, 0.0)).unwrap();
            let s_mm = end.severed_reach.mm() * share;
            let centre_z_mm = blade_mm / 2.0 - c_mm;
            for step in 0..360 {
                let angle = f64::from(step).to_radians();
                let (x, z) = (s_mm + d_mm / 2.0 * angle.cos(), -d_mm / 2.0 + d_mm / 2.0 * angle.sin());
                // A millionth of a millimetre for rounding.
                prop_assert!(x.hypot(z - centre_z_mm) <= blade_mm / 2.0 + 1e-6);
            }
        }
    }
}
