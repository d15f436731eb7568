//! The width of the slot a blade leaves.

use crate::limits::{KERF, LimitError};
use crate::quantity::Length;

/// Width of the slot a blade leaves, set of the teeth included.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Kerf {
    width: Length,
}

impl Kerf {
    /// A kerf of the given width.
    ///
    /// # Units
    /// A length, as measured in the slot and not as marked on the blade.
    /// # Validity
    /// Within [`KERF`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::Kerf};
    /// assert_eq!(Kerf::new(Length::from_mm(0.25)).unwrap().width().mm(), 0.25);
    /// assert!(Kerf::new(Length::from_mm(0.0)).is_err());
    /// ```
    pub fn new(width: Length) -> Result<Kerf, LimitError> {
        KERF.check(width.mm())?;
        Ok(Kerf { width })
    }

    /// The width.
    pub const fn width(self) -> Length {
        self.width
    }
}
