//! What the set-up takes from the window of projections: offset, squash, margin, hub clearance.

use crate::limits::{BLADE_OFFSET, CLEARANCE, LimitError, MARGIN, SQUASH};
use crate::quantity::Length;

/// Allowances before they are checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AllowanceParts {
    /// How far the blade's plane passes beside the coil's axis.
    pub blade_offset: Length,
    /// How much the plates flatten the coil.
    pub squash: Length,
    /// How far the blade is to stay from the far wall.
    pub margin: Length,
    /// Thickness of whatever lies over the coil under the hub, and the air wanted there.
    pub hub_clearance: Length,
}

/// What the set-up takes from the window of projections.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowances {
    parts: AllowanceParts,
}

impl Allowances {
    /// Nothing allowed for: a blade on the axis, a round coil, no margin.
    pub const NONE: Allowances = Allowances {
        parts: AllowanceParts {
            blade_offset: Length::from_mm(0.0),
            squash: Length::from_mm(0.0),
            margin: Length::from_mm(0.0),
            hub_clearance: Length::from_mm(0.0),
        },
    };

    /// Allowances of the given parts.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// Within [`BLADE_OFFSET`], [`SQUASH`], [`MARGIN`], [`CLEARANCE`]; the offset may be to either side.
    /// # Errors
    /// [`LimitError`] outside those ranges.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{AllowanceParts, Allowances}};
    /// let parts = AllowanceParts {
    ///     blade_offset: Length::from_mm(0.2),
    ///     squash: Length::from_mm(0.1),
    ///     margin: Length::from_mm(0.3),
    ///     hub_clearance: Length::from_mm(1.0),
    /// };
    /// assert_eq!(Allowances::new(parts).unwrap().margin().mm(), 0.3);
    /// assert!(Allowances::new(AllowanceParts { margin: Length::from_mm(-0.3), ..parts }).is_err());
    /// ```
    pub fn new(parts: AllowanceParts) -> Result<Allowances, LimitError> {
        BLADE_OFFSET.check(parts.blade_offset.mm())?;
        SQUASH.check(parts.squash.mm())?;
        MARGIN.check(parts.margin.mm())?;
        CLEARANCE.check(parts.hub_clearance.mm())?;
        Ok(Allowances { parts })
    }

    /// How far the blade's plane passes beside the coil's axis.
    pub const fn blade_offset(self) -> Length {
        self.parts.blade_offset
    }

    /// How much the plates flatten the coil.
    pub const fn squash(self) -> Length {
        self.parts.squash
    }

    /// How far the blade is to stay from the far wall.
    pub const fn margin(self) -> Length {
        self.parts.margin
    }

    /// What must stay free under the hub.
    pub const fn hub_clearance(self) -> Length {
        self.parts.hub_clearance
    }
}
