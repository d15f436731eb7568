//! What can be wrong with a coil.

use thiserror::Error;

/// What can be wrong with a coil.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum CoilError {
    /// Neighbouring turns would lie inside each other.
    #[error(
        "pitch_mm is {pitch_mm} mm, less than the wire of {wire_diameter_mm} mm; \
         turns that touch advance at least the wire diameter"
    )]
    PitchBelowWire {
        /// The pitch given.
        pitch_mm: f64,
        /// The wire it was given with.
        wire_diameter_mm: f64,
    },
}
