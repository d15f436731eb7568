//! Why a ring cannot be worked out.

use thiserror::Error;

use crate::limits::LimitError;

/// Why a ring cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum RingError {
    /// A value is outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// The slot is as wide as the hole of the ring.
    #[error(
        "a kerf of {kerf_mm} mm is not narrower than the inside diameter of {inside_diameter_mm} mm; \
         use a thinner blade or a larger ring"
    )]
    KerfAcrossRing {
        /// Width of the slot.
        kerf_mm: f64,
        /// Inside diameter of the coil.
        inside_diameter_mm: f64,
    },
    /// Turns cannot lie closer than one wire.
    #[error(
        "a pitch of {pitch_mm} mm is less than the wire of {wire_diameter_mm} mm; \
         touching turns advance a little more than one wire"
    )]
    PitchBelowWire {
        /// Advance per turn.
        pitch_mm: f64,
        /// Diameter of the wire.
        wire_diameter_mm: f64,
    },
    /// Every coil that can be slit with this kerf closes to more than the wanted ring.
    #[error(
        "no coil closes to an inside diameter of {closed_inside_diameter_mm} mm with this wire and \
         kerf; the smallest ring it gives is {closed_inside_diameter_mm_min:.3} mm"
    )]
    NoCoilCloses {
        /// Wanted inside diameter of the closed ring.
        closed_inside_diameter_mm: f64,
        /// Smallest inside diameter that any coil gives.
        closed_inside_diameter_mm_min: f64,
    },
}
