//! How far a coil advances along its axis in one turn.

use std::f64::consts::PI;

use super::{CoilError, InsideDiameter};
use crate::limits::{LimitError, PITCH};
use crate::quantity::Length;
use crate::wire::Wire;

/// Advance of the coil per turn along its axis.
///
/// Touching turns advance a little more than the wire diameter, since the wires lean.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Pitch {
    advance: Length,
}

impl Pitch {
    /// A pitch of the given advance per turn.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Within [`PITCH`]; whether it clears the wire is asked where wire and pitch meet.
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{coil::Pitch, quantity::Length};
    /// assert_eq!(Pitch::new(Length::from_mm(1.03)).unwrap().advance().mm(), 1.03);
    /// assert!(Pitch::new(Length::from_mm(0.0)).is_err());
    /// ```
    pub fn new(advance: Length) -> Result<Pitch, LimitError> {
        PITCH.check(advance.mm())?;
        Ok(Pitch { advance })
    }

    /// The advance per turn.
    pub const fn advance(self) -> Length {
        self.advance
    }

    /// Gives the pitch back if turns of this wire have room in it, `p >= d`.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// A pitch between `d` and [`touching_pitch`] passes: it is that of a nominal "turns touch",
    /// and the difference is below 0.4 % from an aspect ratio of 3 upwards.
    /// # Errors
    /// [`CoilError::PitchBelowWire`] if `p < d`.
    /// # Source
    /// Two wires cannot share one place.
    ///
    /// ```
    /// use linkwright_calc::{coil::Pitch, quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let error = Pitch::new(Length::from_mm(0.4)).unwrap().clearing(wire).unwrap_err();
    /// assert_eq!(error.to_string(), "pitch_mm is 0.4 mm, less than the wire of 1.02 mm; \
    ///     turns that touch advance at least the wire diameter");
    /// ```
    pub fn clearing(self, wire: Wire) -> Result<Pitch, CoilError> {
        let (pitch_mm, wire_diameter_mm) = (self.advance.mm(), wire.diameter().mm());
        if pitch_mm < wire_diameter_mm {
            return Err(CoilError::PitchBelowWire { pitch_mm, wire_diameter_mm });
        }
        Ok(self)
    }
}

/// Pitch of a coil whose turns touch.
///
/// `p_t = d / sqrt(1 - (d / (2 pi rho))^2)`: `d` wire diameter, `rho` mean radius. The wires meet
/// at right angles to the wire and not to the axis, so the coil advances a little more than `d`.
///
/// # Units
/// Lengths.
/// # Validity
/// Every round coil; the root never comes near zero since `rho > d / 2`.
/// # Source
/// Mechanics B1; own derivation, `docs/theory/coil.md`, section 1.
///
/// ```
/// use linkwright_calc::{coil::{InsideDiameter, touching_pitch}, quantity::Length, wire::Wire};
/// // Aspect ratio 3: 1.0032 d.
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let inside = InsideDiameter::new(Length::from_mm(3.0)).unwrap();
/// assert!((touching_pitch(wire, inside).advance().mm() - 1.0032).abs() < 0.00005);
/// ```
pub fn touching_pitch(wire: Wire, inside: InsideDiameter) -> Pitch {
    let d_mm = wire.diameter().mm();
    let sin_lead = d_mm / (2.0 * PI * inside.mean_radius(wire).mm());
    Pitch { advance: Length::from_mm(d_mm / (1.0 - sin_lead * sin_lead).sqrt()) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn touching_turns_sit_one_wire_diameter_apart_at_right_angles_to_the_wire(
            d_mm in 0.1..4.0, aspect_ratio in 1.5..50.0,
        ) {
            let wire = Wire::new(Length::from_mm(d_mm)).unwrap();
            let inside = InsideDiameter::new(Length::from_mm(aspect_ratio * d_mm)).unwrap();
            let pitch_mm = touching_pitch(wire, inside).advance().mm();
            // Unrolled, the helix is a straight line; the distance between two runs of it is
            // pitch times the cosine of the lead angle.
            let round_mm = 2.0 * PI * inside.mean_radius(wire).mm();
            let apart_mm = pitch_mm * round_mm / round_mm.hypot(pitch_mm);
            prop_assert!((apart_mm - d_mm).abs() <= 1e-12 * d_mm); // rounding of three operations
        }
    }
}
