//! Wire a coil takes, with its tails.

use super::{Coil, CoilError, InsideDiameter, Pitch, RelaxedTurns, WoundTurns};
use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wire::Wire;

impl Coil {
    /// Wire in a released coil of so many turns, `N L + tails`.
    ///
    /// # Units
    /// Turns after release, lengths; `tails` is both ends together.
    /// # Validity
    /// As [`Coil::turn_length`].
    /// # Source
    /// Mechanics B6.
    ///
    /// ```
    /// use linkwright_calc::coil::{Coil, InsideDiameter, Pitch, RelaxedTurns};
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
    /// let coil = Coil::new(wire, inside, Pitch::new(Length::from_mm(1.1)).unwrap()).unwrap();
    /// let with_tails = coil.wire_length(RelaxedTurns::new(10.0), Length::from_mm(40.0));
    /// assert_eq!(with_tails.mm(), 10.0 * coil.turn_length().mm() + 40.0);
    /// ```
    pub fn wire_length(self, turns: RelaxedTurns, tails: Length) -> Length {
        Length::from_mm(turns.get() * self.turn_length().mm()) + tails
    }
}

/// Wire to cut for winding so many turns on a mandrel, tails included: `N L + tails` with the
/// turn length on the mandrel.
///
/// # Units
/// Turns wound, lengths; `tails` is both ends together, chuck end and held end.
/// # Validity
/// As [`Coil::turn_length`]; pulling stretches the wire by at most about 1 %.
/// # Errors
/// [`CoilError::PitchBelowWire`] if `p < d`.
/// # Source
/// Mechanics B6; wire bought is reckoned before release, wire in rings after, and `N rho` is the
/// same for both.
///
/// ```
/// use linkwright_calc::coil::{Pitch, WoundTurns, wire_to_wind};
/// use linkwright_calc::{quantity::Length, wind::Mandrel, wire::Wire};
/// // 47 turns of 1.02 wire on a 4.00 rod, 40 mm of tails: 782.8 mm.
/// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
/// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
/// let pitch = Pitch::new(Length::from_mm(1.01 * 1.02)).unwrap();
/// let tails = Length::from_mm(40.0);
/// let length = wire_to_wind(wire, mandrel, pitch, WoundTurns::new(47), tails).unwrap();
/// assert!((length.mm() - 782.8).abs() < 0.05);
/// ```
pub fn wire_to_wind(
    wire: Wire,
    mandrel: Mandrel,
    pitch: Pitch,
    turns: WoundTurns,
    tails: Length,
) -> Result<Length, CoilError> {
    let coil = Coil::new(wire, InsideDiameter::on_mandrel(mandrel), pitch)?;
    Ok(coil.wire_length(RelaxedTurns::new(f64::from(turns.get())), tails))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn release_neither_makes_nor_loses_wire(
            turns in 5_u32..80, mandrel_mm in 3.0..12.0, growth in 1.0..1.1,
        ) {
            let wire = Wire::new(Length::from_mm(1.0)).unwrap();
            let mandrel = Mandrel::new(Length::from_mm(mandrel_mm)).unwrap();
            let inside = Length::from_mm(mandrel_mm * growth);
            let pitch = Pitch::new(Length::from_mm(1.01)).unwrap();
            let none = Length::from_mm(0.0);
            let wound = WoundTurns::new(turns);
            let before_mm = wire_to_wind(wire, mandrel, pitch, wound, none).unwrap().mm();
            let coil = Coil::new(wire, InsideDiameter::new(inside).unwrap(), pitch).unwrap();
            let after_mm = coil.wire_length(wound.relaxed(wire, mandrel, inside), none).mm();
            // The helix term p^2 / (2 (2 pi rho)^2) is 0.32 % at most here and changes by a fifth of itself.
            prop_assert!((before_mm - after_mm).abs() <= 1e-3 * before_mm);
        }
    }
}
