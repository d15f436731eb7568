//! How far a coil advances along its axis in one turn.

use crate::limits::{LimitError, PITCH};
use crate::quantity::Length;

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
}
