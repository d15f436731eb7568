//! The inside diameter of a coil or of an open ring.

use crate::limits::{INSIDE_DIAMETER, LimitError};
use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wire::Wire;

/// Inside diameter of a coil after it has sprung open, which is that of its open rings.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct InsideDiameter {
    diameter: Length,
}

impl InsideDiameter {
    /// An inside diameter as measured.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Within [`INSIDE_DIAMETER`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{coil::InsideDiameter, quantity::Length};
    /// assert_eq!(InsideDiameter::new(Length::from_mm(4.14)).unwrap().diameter().mm(), 4.14);
    /// assert!(InsideDiameter::new(Length::from_mm(0.0)).is_err());
    /// ```
    pub fn new(diameter: Length) -> Result<InsideDiameter, LimitError> {
        INSIDE_DIAMETER.check(diameter.mm())?;
        Ok(InsideDiameter { diameter })
    }

    /// Inside diameter of a coil that is still held on its mandrel: the mandrel's diameter.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Wire wound tight on the rod and not yet let go.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{coil::InsideDiameter, quantity::Length, wind::Mandrel};
    /// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
    /// assert_eq!(InsideDiameter::on_mandrel(mandrel).diameter().mm(), 4.0);
    /// ```
    pub const fn on_mandrel(mandrel: Mandrel) -> InsideDiameter {
        InsideDiameter { diameter: mandrel.diameter() }
    }

    /// The diameter.
    pub const fn diameter(self) -> Length {
        self.diameter
    }

    /// Radius of the wire's centre line, `rho = (ID + d) / 2`.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Round coil of round wire.
    /// # Source
    /// Definition; mechanics A1.
    ///
    /// ```
    /// use linkwright_calc::{coil::InsideDiameter, quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
    /// assert_eq!(inside.mean_radius(wire).mm(), 3.0);
    /// ```
    pub const fn mean_radius(self, wire: Wire) -> Length {
        Length::from_mm((self.diameter.mm() + wire.diameter().mm()) / 2.0)
    }

    /// Aspect ratio `AR = ID / d` as a plain number.
    ///
    /// # Units
    /// Plain number.
    /// # Validity
    /// Of the open coil; the closed ring's is a little smaller.
    /// # Source
    /// Definition, the trade's own.
    ///
    /// ```
    /// use linkwright_calc::{coil::InsideDiameter, quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.25)).unwrap();
    /// let inside = InsideDiameter::new(Length::from_mm(5.0)).unwrap();
    /// assert_eq!(inside.aspect_ratio(wire), 4.0);
    /// ```
    pub const fn aspect_ratio(self, wire: Wire) -> f64 {
        self.diameter.mm() / wire.diameter().mm()
    }
}
