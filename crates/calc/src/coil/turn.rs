//! One turn of the coil, the coil's length, and how many turns a length holds.

use std::f64::consts::PI;

use super::{CoilError, InsideDiameter, Pitch, RelaxedTurns};
use crate::quantity::Length;
use crate::wire::Wire;

/// A share of a turn this small is taken for rounding: a length that holds 58 turns to within a
/// thousand-millionth of a turn holds 58.
const TURN_ROUNDING: f64 = 1e-9;

/// A close coil: wire, inside diameter and a pitch that clears the wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    wire: Wire,
    inside: InsideDiameter,
    pitch: Pitch,
}

impl Coil {
    /// A coil of the given wire, inside diameter and pitch.
    ///
    /// # Units
    /// Roles.
    /// # Validity
    /// Either the coil on its mandrel or the coil after release; say which by the inside diameter.
    /// # Errors
    /// [`CoilError::PitchBelowWire`] if `p < d`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::coil::{Coil, InsideDiameter, Pitch};
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let inside = InsideDiameter::new(Length::from_mm(4.14)).unwrap();
    /// let pitch = |mm| Pitch::new(Length::from_mm(mm)).unwrap();
    /// assert!(Coil::new(wire, inside, pitch(1.03)).is_ok());
    /// assert!(Coil::new(wire, inside, pitch(1.01)).is_err());
    /// ```
    pub fn new(wire: Wire, inside: InsideDiameter, pitch: Pitch) -> Result<Coil, CoilError> {
        let pitch = pitch.clearing(wire)?;
        Ok(Coil { wire, inside, pitch })
    }

    /// The wire.
    pub const fn wire(self) -> Wire {
        self.wire
    }

    /// The inside diameter.
    pub const fn inside(self) -> InsideDiameter {
        self.inside
    }

    /// The pitch.
    pub const fn pitch(self) -> Pitch {
        self.pitch
    }

    /// Wire in one turn, along its centre line.
    ///
    /// `L = sqrt((2 pi rho)^2 + p^2)`: `rho` mean radius, `p` pitch.
    ///
    /// # Units
    /// Length.
    /// # Validity
    /// Centre line of a round helix; bending moves the unstretched line inwards by less than
    /// 0.5 % of the turn at an aspect ratio of 3.
    /// # Source
    /// Circular helix unrolled to a straight line; mechanics B2.
    ///
    /// ```
    /// use linkwright_calc::coil::{Coil, InsideDiameter, Pitch};
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(2.0)).unwrap();
    /// let inside = InsideDiameter::new(Length::from_mm(8.0)).unwrap();
    /// let coil = Coil::new(wire, inside, Pitch::new(Length::from_mm(3.0)).unwrap()).unwrap();
    /// let by_hand_mm = (31.41592653589793_f64.powi(2) + 9.0).sqrt();
    /// assert!((coil.turn_length().mm() - by_hand_mm).abs() < 1e-12);
    /// ```
    pub fn turn_length(self) -> Length {
        let round_mm = 2.0 * PI * self.inside.mean_radius(self.wire).mm();
        Length::from_mm(round_mm.hypot(self.pitch.advance().mm()))
    }
}

/// Outside length of a coil of so many turns, `N p + d`.
///
/// # Units
/// Turns after release, and lengths.
/// # Validity
/// Turns evenly spaced; the ends are plain cut ends.
/// # Errors
/// [`CoilError::PitchBelowWire`] if `p < d`.
/// # Source
/// Mechanics B3: the centre lines span `N p` and half a wire stands out at each end.
///
/// ```
/// use linkwright_calc::coil::{Pitch, RelaxedTurns, coil_length};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let pitch = Pitch::new(Length::from_mm(1.25)).unwrap();
/// assert_eq!(coil_length(wire, pitch, RelaxedTurns::new(40.0)).unwrap().mm(), 51.0);
/// ```
pub fn coil_length(wire: Wire, pitch: Pitch, turns: RelaxedTurns) -> Result<Length, CoilError> {
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    Ok(Length::from_mm(turns.get() * pitch_mm + wire.diameter().mm()))
}

/// Whole turns a length along the axis has room for, `floor((X - d) / p)`, not below none.
///
/// # Units
/// A length along the axis, such as the holder less the head start; turns after release out.
/// # Validity
/// A length short of a whole turn by less than a thousand-millionth of a turn holds that turn.
/// # Errors
/// [`CoilError::PitchBelowWire`] if `p < d`.
/// # Source
/// Mechanics B4, the inverse of [`coil_length`].
///
/// ```
/// use linkwright_calc::coil::{Pitch, turns_in_length};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let pitch = Pitch::new(Length::from_mm(1.25)).unwrap();
/// let turns = |mm| turns_in_length(wire, pitch, Length::from_mm(mm)).unwrap().get();
/// assert_eq!((turns(51.0), turns(50.9), turns(0.5)), (40.0, 39.0, 0.0));
/// ```
pub fn turns_in_length(
    wire: Wire,
    pitch: Pitch,
    length: Length,
) -> Result<RelaxedTurns, CoilError> {
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    let exact = (length.mm() - wire.diameter().mm()) / pitch_mm;
    Ok(RelaxedTurns::new((exact + TURN_ROUNDING).floor().max(0.0)))
}

/// Share of the pitch that is gap, `(p - d) / p`.
///
/// # Units
/// Plain number.
/// # Validity
/// Touching turns have about 0.002, not nothing: see [`touching_pitch`](super::touching_pitch).
/// # Errors
/// [`CoilError::PitchBelowWire`] if `p < d`.
/// # Source
/// Mechanics B5.
///
/// ```
/// use linkwright_calc::coil::{Pitch, gap_fraction};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// assert_eq!(gap_fraction(wire, Pitch::new(Length::from_mm(1.25)).unwrap()).unwrap(), 0.2);
/// ```
pub fn gap_fraction(wire: Wire, pitch: Pitch) -> Result<f64, CoilError> {
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    Ok((pitch_mm - wire.diameter().mm()) / pitch_mm)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn wire(d_mm: f64) -> Wire {
        Wire::new(Length::from_mm(d_mm)).unwrap()
    }

    fn pitch(pitch_mm: f64) -> Pitch {
        Pitch::new(Length::from_mm(pitch_mm)).unwrap()
    }

    #[test]
    fn a_pitch_below_the_wire_is_refused_wherever_the_two_meet() {
        let refused = CoilError::PitchBelowWire { pitch_mm: 0.9, wire_diameter_mm: 1.0 };
        let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
        let (wire, pitch) = (wire(1.0), pitch(0.9));
        assert_eq!(Coil::new(wire, inside, pitch), Err(refused));
        assert_eq!(gap_fraction(wire, pitch), Err(refused));
        assert_eq!(coil_length(wire, pitch, RelaxedTurns::new(3.0)), Err(refused));
        assert_eq!(turns_in_length(wire, pitch, Length::from_mm(60.0)), Err(refused));
    }

    proptest! {
        #[test]
        fn a_coil_of_whole_turns_fits_the_length_it_makes(
            d_mm in 0.2..3.0, spread in 1.0..3.0, turns in 0_u32..500,
        ) {
            let (wire, pitch) = (wire(d_mm), pitch(d_mm * spread));
            let turns = RelaxedTurns::new(f64::from(turns));
            let length = coil_length(wire, pitch, turns).unwrap();
            prop_assert_eq!(turns_in_length(wire, pitch, length).unwrap(), turns);
        }

        #[test]
        fn turn_length_scales_as_a_length(k in 0.2..5.0) {
            let at = |k: f64| {
                let inside = InsideDiameter::new(Length::from_mm(5.0 * k)).unwrap();
                Coil::new(wire(k), inside, pitch(1.1 * k)).unwrap().turn_length().mm()
            };
            prop_assert!((at(k) - k * at(1.0)).abs() <= 1e-12 * at(k)); // rounding
        }
    }
}
