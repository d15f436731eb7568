//! What can be wrong with a slit as set.

use thiserror::Error;

use crate::coil::CoilError;
use crate::limits::LimitError;

/// What can be wrong with a slit as set.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SlitError {
    /// A value outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// Wire and pitch do not go together.
    #[error(transparent)]
    Coil(#[from] CoilError),
    /// The hub is as large as the blade it carries.
    #[error(
        "hub_diameter_mm is {hub_diameter_mm} mm, not less than the blade of \
         {blade_diameter_mm} mm it carries; measure the hub, or leave it out"
    )]
    HubNotInsideBlade {
        /// The hub given.
        hub_diameter_mm: f64,
        /// The blade it was given with.
        blade_diameter_mm: f64,
    },
    /// The blade would have to work past its own centre.
    #[error(
        "projection_mm is {projection_mm} mm, more than the blade's radius of {blade_radius_mm} mm; \
         take a larger blade or raise it"
    )]
    PastBladeCentre {
        /// The projection given.
        projection_mm: f64,
        /// Half the blade's diameter.
        blade_radius_mm: f64,
    },
    /// The blade does not go through the wire, so no turn is severed.
    #[error(
        "projection_mm is {projection_mm} mm but {needed_mm} mm are needed to go through the wire; \
         lower the blade by {short_by_mm:.3} mm or more, or take a larger one"
    )]
    DoesNotReach {
        /// The projection given.
        projection_mm: f64,
        /// The least that severs.
        needed_mm: f64,
        /// The difference.
        short_by_mm: f64,
    },
    /// On this axis the blade does not come down to the coil at all.
    #[error(
        "a blade of {blade_diameter_mm} mm ends {above_coil_mm:.3} mm above the coil on this axis; \
         take a larger blade or lower the axis"
    )]
    BladeAboveCoil {
        /// The blade's diameter.
        blade_diameter_mm: f64,
        /// Gap between the blade's lowest point and the coil's top.
        above_coil_mm: f64,
    },
    /// The slot would be as wide as the hole in the ring, or lie beside it.
    #[error(
        "the slot's far edge lies {slot_edge_mm} mm from the coil's axis but the inside radius is \
         {inside_radius_mm} mm; take a thinner blade or centre it"
    )]
    SlotBesideBore {
        /// Offset of the blade plus half the kerf.
        slot_edge_mm: f64,
        /// Half the inside diameter.
        inside_radius_mm: f64,
    },
    /// The answer needs the number of teeth.
    #[error("the blade's teeth are not known; count them and give teeth")]
    TeethNotKnown,
}
