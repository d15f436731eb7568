//! The wire: round, of one diameter, and the section properties every later formula uses.

use std::f64::consts::PI;

use crate::limits::{LimitError, WIRE_DIAMETER};
use crate::quantity::{Area, Density, Length, Mass};

/// Round wire of one diameter.
///
/// A role, not a length: a mandrel cannot be passed where a wire is wanted.
///
/// ```compile_fail
/// use linkwright_calc::{quantity::Length, wind::Mandrel, wire::Wire};
/// fn strain(wire: Wire, mandrel: Mandrel) {}
/// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
/// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
/// strain(mandrel, wire); // swapped: does not compile
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Wire {
    diameter: Length,
}

impl Wire {
    /// Wire of the given diameter.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Within [`WIRE_DIAMETER`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// assert_eq!(Wire::new(Length::from_mm(1.02)).unwrap().diameter().mm(), 1.02);
    /// assert!(Wire::new(Length::from_mm(-1.02)).is_err());
    /// ```
    pub fn new(diameter: Length) -> Result<Wire, LimitError> {
        WIRE_DIAMETER.check(diameter.mm())?;
        Ok(Wire { diameter })
    }

    /// The diameter.
    pub const fn diameter(self) -> Length {
        self.diameter
    }

    /// Cross-section `A = pi d^2 / 4`.
    ///
    /// # Units
    /// Square millimetres.
    /// # Validity
    /// Round wire.
    /// # Source
    /// Circle.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let area_mm2 = Wire::new(Length::from_mm(2.0)).unwrap().section().mm2();
    /// assert!((area_mm2 - std::f64::consts::PI).abs() < 1e-15);
    /// ```
    pub fn section(self) -> Area {
        let d_mm = self.diameter.mm();
        Area::from_mm2(PI * d_mm * d_mm / 4.0)
    }

    /// Mass of a length of this wire, `m = L A rho / 1000`.
    ///
    /// # Units
    /// Length and density in, mass out; the 1000 turns mm3 into cm3.
    /// # Validity
    /// Solid wire; for clad wire pass the mean density of [`clad`](crate::metal).
    /// # Source
    /// Mass is density times volume.
    ///
    /// ```
    /// use linkwright_calc::{quantity::{Density, Length}, wire::Wire};
    /// // 18 AWG sterling, 10.36 g/cm3: 8.527 g a metre.
    /// let wire = Wire::new(Length::from_mm(1.02368)).unwrap();
    /// let mass_g = wire.mass(Length::from_mm(1000.0), Density::from_g_cm3(10.36)).g();
    /// assert!((mass_g - 8.527).abs() < 0.0005);
    /// ```
    pub fn mass(self, length: Length, density: Density) -> Mass {
        Mass::from_g(length.mm() * self.section().mm2() * density.g_cm3() / 1000.0)
    }
}
