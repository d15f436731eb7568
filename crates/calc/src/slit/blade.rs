//! The slitting blade: a thin toothed disc on a hub.

use super::{Kerf, SlitError};
use crate::limits::{BLADE_DIAMETER, HUB_DIAMETER, TEETH};
use crate::quantity::Length;

/// What describes a blade, before it is checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeParts {
    /// Over the teeth.
    pub diameter: Length,
    /// Width of the slot it leaves.
    pub kerf: Kerf,
    /// Number of teeth, if counted.
    pub teeth: Option<u32>,
    /// Diameter of the hub, flange or screw head beside the blade, if measured.
    pub hub_diameter: Option<Length>,
}

/// A slitting blade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blade {
    parts: BladeParts,
}

impl Blade {
    /// A blade of the given parts.
    ///
    /// # Units
    /// Lengths, a count.
    /// # Validity
    /// Within [`BLADE_DIAMETER`], [`TEETH`], [`HUB_DIAMETER`].
    /// # Errors
    /// - [`SlitError::Limit`] outside those ranges;
    /// - [`SlitError::HubNotInsideBlade`] if the hub is not smaller than the blade.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, Kerf}};
    /// let parts = BladeParts {
    ///     diameter: Length::from_inches(1.25),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     teeth: None,
    ///     hub_diameter: Some(Length::from_mm(12.0)),
    /// };
    /// assert_eq!(Blade::new(parts).unwrap().diameter().mm(), 31.75);
    /// assert!(Blade::new(BladeParts { hub_diameter: Some(parts.diameter), ..parts }).is_err());
    /// ```
    pub fn new(parts: BladeParts) -> Result<Blade, SlitError> {
        let blade_diameter_mm = BLADE_DIAMETER.check(parts.diameter.mm())?;
        if let Some(teeth) = parts.teeth {
            TEETH.check(f64::from(teeth))?;
        }
        if let Some(hub_diameter) = parts.hub_diameter {
            let hub_diameter_mm = HUB_DIAMETER.check(hub_diameter.mm())?;
            if hub_diameter_mm >= blade_diameter_mm {
                return Err(SlitError::HubNotInsideBlade { hub_diameter_mm, blade_diameter_mm });
            }
        }
        Ok(Blade { parts })
    }

    /// Diameter over the teeth.
    pub const fn diameter(self) -> Length {
        self.parts.diameter
    }

    /// Width of the slot it leaves.
    pub const fn kerf(self) -> Kerf {
        self.parts.kerf
    }

    /// Number of teeth, if counted.
    pub const fn teeth(self) -> Option<u32> {
        self.parts.teeth
    }

    /// Diameter of the hub, if measured.
    pub const fn hub_diameter(self) -> Option<Length> {
        self.parts.hub_diameter
    }

    /// Deepest projection before the hub comes down on what lies over the coil:
    /// `(Db - hub) / 2`, and `Db / 2` where the hub is not measured.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Take off the thickness of holder or plate above the coil, and a little air.
    /// # Source
    /// Mechanics D4.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, Kerf}};
    /// let blade = Blade::new(BladeParts {
    ///     diameter: Length::from_mm(22.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     teeth: Some(72),
    ///     hub_diameter: Some(Length::from_mm(12.0)),
    /// }).unwrap();
    /// assert_eq!(blade.deepest_projection().mm(), 5.0);
    /// ```
    pub fn deepest_projection(self) -> Length {
        let hub_mm = self.parts.hub_diameter.map_or(0.0, Length::mm);
        Length::from_mm((self.parts.diameter.mm() - hub_mm) / 2.0)
    }

    /// The projection if the blade's centre stays above the coil's top.
    pub(super) fn reaching(self, projection_mm: f64) -> Result<f64, SlitError> {
        let blade_radius_mm = self.parts.diameter.mm() / 2.0;
        if projection_mm > blade_radius_mm {
            return Err(SlitError::PastBladeCentre { projection_mm, blade_radius_mm });
        }
        Ok(projection_mm)
    }
}
