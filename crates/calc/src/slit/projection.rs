//! How deep the blade reaches, and the axis height every blade's depth follows from.

use super::{Blade, SlitError};
use crate::limits::{LimitError, PROJECTION};
use crate::quantity::Length;

/// How far the blade's lowest point lies below the top of the coil.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Projection {
    depth: Length,
}

impl Projection {
    /// A projection of the given depth.
    ///
    /// # Units
    /// A length, measured down from the plane that the top of the coil touches.
    /// # Validity
    /// Within [`PROJECTION`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::Projection};
    /// assert_eq!(Projection::new(Length::from_mm(2.2)).unwrap().depth().mm(), 2.2);
    /// assert!(Projection::new(Length::from_mm(-0.1)).is_err());
    /// ```
    pub fn new(depth: Length) -> Result<Projection, LimitError> {
        PROJECTION.check(depth.mm())?;
        Ok(Projection { depth })
    }

    /// The depth.
    pub const fn depth(self) -> Length {
        self.depth
    }
}

/// Height of the blade's axis over the coil's top: the workshop's own constant of one holder.
///
/// It stays the same whichever blade is fitted, so one measured projection gives all others.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct AxisHeight {
    height: Length,
}

impl AxisHeight {
    /// From one blade and the projection measured with it: `h = Db / 2 - c`.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// As long as holder, packing and axis stay as they were.
    /// # Errors
    /// [`SlitError::PastBladeCentre`] if the projection exceeds the blade's radius.
    /// # Source
    /// Own derivation, `docs/theory/slitting.md`, section 2.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{AxisHeight, Blade, BladeParts, Kerf, Projection}};
    /// let kerf = Kerf::new(Length::from_mm(0.3)).unwrap();
    /// let blade = |inches| Blade::new(BladeParts {
    ///     diameter: Length::from_inches(inches), kerf, teeth: None, hub_diameter: None,
    /// }).unwrap();
    /// let measured = Projection::new(Length::from_mm(2.2)).unwrap();
    /// let axis = AxisHeight::from_measured(blade(1.25), measured).unwrap();
    /// // 6.35 mm more of diameter reach 3.175 mm deeper.
    /// let other = axis.projection_with(blade(1.5)).unwrap();
    /// assert!((other.depth().mm() - 5.375).abs() < 1e-12);
    /// assert!(axis.projection_with(blade(1.0)).is_err()); // ends above the coil
    /// ```
    pub fn from_measured(blade: Blade, projection: Projection) -> Result<AxisHeight, SlitError> {
        let c_mm = blade.reaching(projection.depth.mm())?;
        Ok(AxisHeight { height: Length::from_mm(blade.diameter().mm() / 2.0 - c_mm) })
    }

    /// An axis at a height that was measured itself.
    ///
    /// # Units
    /// A length, from the top of the coil up to the blade's axis.
    /// # Validity
    /// Within [`PROJECTION`], the range of what it is compared with.
    /// # Errors
    /// [`LimitError`] naming `axis_height_mm`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::AxisHeight};
    /// assert_eq!(AxisHeight::new(Length::from_mm(14.35)).unwrap().height().mm(), 14.35);
    /// assert!(AxisHeight::new(Length::from_mm(-1.0)).is_err());
    /// ```
    pub fn new(height: Length) -> Result<AxisHeight, LimitError> {
        PROJECTION.named("axis_height_mm").check(height.mm())?;
        Ok(AxisHeight { height })
    }

    /// Depth of a blade's lowest point below the coil's top; negative where it ends above the coil.
    ///
    /// `Db / 2 - h`, as [`AxisHeight::projection_with`] but without refusing a blade too small.
    ///
    /// # Units
    /// A length with a sign.
    /// # Validity
    /// As [`AxisHeight::from_measured`].
    /// # Source
    /// Own derivation, `docs/theory/slitting.md`, section 2.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{AxisHeight, Blade, BladeParts, Kerf}};
    /// let kerf = Kerf::new(Length::from_mm(0.3)).unwrap();
    /// let blade = Blade::new(BladeParts {
    ///     diameter: Length::from_mm(22.0), kerf, teeth: None, hub_diameter: None,
    /// }).unwrap();
    /// let axis = AxisHeight::new(Length::from_mm(12.5)).unwrap();
    /// assert_eq!(axis.depth_with(blade).mm(), -1.5);
    /// ```
    pub fn depth_with(self, blade: Blade) -> Length {
        Length::from_mm(self.signed_projection_mm(blade))
    }

    /// The height of the axis over the coil's top.
    pub const fn height(self) -> Length {
        self.height
    }

    /// Projection of another blade on the same axis: `c = Db / 2 - h`, which is
    /// `c_measured + (Db - Db_measured) / 2`.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// As [`AxisHeight::from_measured`].
    /// # Errors
    /// - [`SlitError::BladeAboveCoil`] if the blade does not come down to the coil;
    /// - [`SlitError::Limit`] beyond [`PROJECTION`].
    /// # Source
    /// Own derivation, `docs/theory/slitting.md`, section 2.
    ///
    /// See [`AxisHeight::from_measured`] for an example.
    pub fn projection_with(self, blade: Blade) -> Result<Projection, SlitError> {
        let c_mm = self.signed_projection_mm(blade);
        if c_mm < 0.0 {
            return Err(SlitError::BladeAboveCoil {
                blade_diameter_mm: blade.diameter().mm(),
                above_coil_mm: -c_mm,
            });
        }
        Ok(Projection::new(Length::from_mm(c_mm))?)
    }

    /// Projection, below nothing where the blade ends above the coil.
    fn signed_projection_mm(self, blade: Blade) -> f64 {
        blade.diameter().mm() / 2.0 - self.height.mm()
    }
}

/// How the depth of a blade is known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum DepthSetting {
    /// Measured or set with this very blade.
    Projection(Projection),
    /// Follows from the axis of the holder, whatever the blade.
    AxisHeight(AxisHeight),
}

impl DepthSetting {
    /// Projection of the blade, below nothing where it ends above the coil.
    pub(super) fn signed_projection_mm(self, blade: Blade) -> f64 {
        match self {
            DepthSetting::Projection(projection) => projection.depth.mm(),
            DepthSetting::AxisHeight(axis) => axis.signed_projection_mm(blade),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::slit::{BladeParts, Kerf};

    fn blade(diameter_mm: f64) -> Blade {
        Blade::new(BladeParts {
            diameter: Length::from_mm(diameter_mm),
            kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
            teeth: None,
            hub_diameter: None,
        })
        .unwrap()
    }

    proptest! {
        #[test]
        fn every_blade_gives_the_same_axis_back(
            measured_mm in 20.0..60.0, other_mm in 20.0..60.0, c_mm in 0.0..9.0,
        ) {
            let measured = Projection::new(Length::from_mm(c_mm)).unwrap();
            let axis = AxisHeight::from_measured(blade(measured_mm), measured).unwrap();
            if let Ok(projection) = axis.projection_with(blade(other_mm))
                && let Ok(again) = AxisHeight::from_measured(blade(other_mm), projection)
            {
                let off_mm = (again.height() - axis.height()).mm();
                prop_assert!(off_mm.abs() < 1e-12); // rounding of two sums of tens of mm
                let by_rule_mm = c_mm + (other_mm - measured_mm) / 2.0;
                prop_assert!((projection.depth().mm() - by_rule_mm).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_blade_too_small_for_the_axis_says_how_far_it_ends_above_the_coil() {
        let measured = Projection::new(Length::from_mm(2.0)).unwrap();
        let axis = AxisHeight::from_measured(blade(30.0), measured).unwrap();
        assert_eq!(
            axis.projection_with(blade(24.0)),
            Err(SlitError::BladeAboveCoil { blade_diameter_mm: 24.0, above_coil_mm: 1.0 })
        );
    }

    #[test]
    fn a_projection_beyond_the_blade_s_radius_is_refused() {
        let too_deep = Projection::new(Length::from_mm(12.0)).unwrap();
        assert_eq!(
            AxisHeight::from_measured(blade(22.0), too_deep),
            Err(SlitError::PastBladeCentre { projection_mm: 12.0, blade_radius_mm: 11.0 })
        );
    }
}
