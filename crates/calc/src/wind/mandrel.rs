//! The rod the wire is wound on.

use crate::limits::{LimitError, MANDREL_DIAMETER};
use crate::quantity::Length;

/// A round rod of one measured diameter.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Mandrel {
    diameter: Length,
}

impl Mandrel {
    /// A mandrel of the given diameter.
    ///
    /// # Units
    /// A length, as measured and not as marked.
    /// # Validity
    /// Within [`MANDREL_DIAMETER`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wind::Mandrel};
    /// assert_eq!(Mandrel::new(Length::from_mm(4.0)).unwrap().diameter().mm(), 4.0);
    /// assert!(Mandrel::new(Length::from_mm(0.0)).is_err());
    /// ```
    pub fn new(diameter: Length) -> Result<Mandrel, LimitError> {
        MANDREL_DIAMETER.check(diameter.mm())?;
        Ok(Mandrel { diameter })
    }

    /// The diameter.
    pub const fn diameter(self) -> Length {
        self.diameter
    }
}
