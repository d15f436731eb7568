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

    /// Second moment of area `I = pi d^4 / 64`, in mm4.
    ///
    /// # Units
    /// Millimetres to the fourth power.
    /// # Validity
    /// Round wire, bent about a diameter.
    /// # Source
    /// Circle.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let i_mm4 = Wire::new(Length::from_mm(2.0)).unwrap().second_moment_mm4();
    /// assert!((i_mm4 - std::f64::consts::FRAC_PI_4).abs() < 1e-15);
    /// ```
    pub fn second_moment_mm4(self) -> f64 {
        PI * self.diameter.mm().powi(4) / 64.0
    }

    /// Elastic section modulus `Ze = pi d^3 / 32`, in mm3: first yield at the moment `sy Ze`.
    ///
    /// # Units
    /// Cubic millimetres.
    /// # Validity
    /// Round wire, straight or of large radius; small radii take a curved-beam factor besides.
    /// # Source
    /// Circle; the torque column of Machinery's Handbook 31, torsion springs, Table 14, rests on it.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let ze_mm3 = Wire::new(Length::from_mm(2.0)).unwrap().elastic_section_modulus_mm3();
    /// assert!((ze_mm3 - std::f64::consts::FRAC_PI_4).abs() < 1e-15);
    /// ```
    pub fn elastic_section_modulus_mm3(self) -> f64 {
        PI * self.diameter.mm().powi(3) / 32.0
    }

    /// Plastic section modulus `Zp = d^3 / 6`, in mm3: the section is a hinge at the moment `sy Zp`.
    ///
    /// # Units
    /// Cubic millimetres.
    /// # Validity
    /// Round wire of a metal that flows at one stress.
    /// # Source
    /// Circle; the shape factor `Zp / Ze = 16 / (3 pi)` is the textbook 1.698.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(2.0)).unwrap();
    /// let shape = wire.plastic_section_modulus_mm3() / wire.elastic_section_modulus_mm3();
    /// assert!((shape - 1.6977).abs() < 0.00005);
    /// ```
    pub fn plastic_section_modulus_mm3(self) -> f64 {
        self.diameter.mm().powi(3) / 6.0
    }

    /// Mass of a length of this wire, `m = L A rho / 1000`.
    ///
    /// # Units
    /// Length and density in, mass out; the 1000 turns mm3 into cm3.
    /// # Validity
    /// Solid wire; for clad wire pass the mean density of [`clad_wire`](crate::metal::clad_wire).
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
