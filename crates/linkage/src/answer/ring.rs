//! The ring of a question: its wire and what it measures inside once closed.

use std::f64::consts::PI;

use linkwright_calc::limits::{INSIDE_DIAMETER, LimitError};
use linkwright_calc::quantity::{Density, Length, Mass};
use linkwright_calc::wire::Wire;

/// A round ring as closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClosedRing {
    wire: Wire,
    inside: Length,
}

impl ClosedRing {
    /// A ring of the wire with the inside diameter it has once closed.
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
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::ClosedRing;
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// assert_eq!(ClosedRing::new(wire, Length::from_mm(4.0)).unwrap().aspect_ratio(), 4.0);
    /// assert!(ClosedRing::new(wire, Length::from_mm(-4.0)).is_err());
    /// ```
    pub fn new(wire: Wire, inside: Length) -> Result<ClosedRing, LimitError> {
        INSIDE_DIAMETER.check(inside.mm())?;
        Ok(ClosedRing { wire, inside })
    }

    /// Its wire.
    pub const fn wire(self) -> Wire {
        self.wire
    }

    /// Inside diameter, closed.
    pub const fn inside(self) -> Length {
        self.inside
    }

    /// Inside diameter over wire diameter.
    pub fn aspect_ratio(self) -> f64 {
        self.inside.mm() / self.wire.diameter().mm()
    }

    /// Mass of the ring: a torus, which holds `pi (ID + d)` of its wire.
    ///
    /// # Units
    /// Grams.
    /// # Validity
    /// The seam closed.
    /// # Source
    /// Pappus's theorem.
    ///
    /// ```
    /// use linkwright_calc::{quantity::{Density, Length}, wire::Wire};
    /// use linkwright_linkage::answer::ClosedRing;
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// let ring = ClosedRing::new(wire, Length::from_mm(4.0)).unwrap();
    /// assert!((ring.mass(Density::from_g_cm3(10.4)).g() - 0.1283).abs() < 5e-5);
    /// ```
    pub fn mass(self, density: Density) -> Mass {
        let round = Length::from_mm(PI * (self.inside + self.wire.diameter()).mm());
        self.wire.mass(round, density)
    }

    pub(super) fn mean_radius_mm(self) -> f64 {
        0.5 * (self.inside.mm() + self.wire.diameter().mm())
    }
}
