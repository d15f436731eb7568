//! What can be wrong with a coil as it is held.

use thiserror::Error;

use crate::coil::CoilError;
use crate::limits::LimitError;

/// What can be wrong with a coil as it is held.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum HoldError {
    /// A value outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// Wire and pitch do not go together.
    #[error(transparent)]
    Coil(#[from] CoilError),
    /// The plates would have laid the turn flat.
    #[error(
        "squeeze_mm is {squeeze_mm} mm but the hole is only {inside_diameter_mm} mm across; \
         the turn is flat by then"
    )]
    SqueezedFlat {
        /// How far the plates come together.
        squeeze_mm: f64,
        /// Inside diameter of the turn.
        inside_diameter_mm: f64,
    },
    /// The winding moment is more than a wire of this yield can spring back from.
    #[error(
        "a winding moment of {winding_moment_n_mm} N mm is more than twice the moment of first \
         yield, {yield_moment_n_mm} N mm: the wire would yield again as it springs open; give the \
         stress its surface reached in winding as the yield"
    )]
    YieldsOnRelease {
        /// Moment that held the wire on the mandrel.
        winding_moment_n_mm: f64,
        /// Moment of first yield.
        yield_moment_n_mm: f64,
    },
    /// The wire springs back straight, so there is no coil to hold.
    #[error(
        "on a mandrel of {mandrel_diameter_mm} mm this wire of {wire_diameter_mm} mm keeps no coil; \
         take a thinner mandrel"
    )]
    KeepsNoCoil {
        /// The mandrel.
        mandrel_diameter_mm: f64,
        /// The wire.
        wire_diameter_mm: f64,
    },
    /// Less than one turn shares the load or the play.
    #[error("turns is {turns}; at least one turn must lie between the plates")]
    NoTurns {
        /// Number of turns given.
        turns: f64,
    },
}
