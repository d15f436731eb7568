//! What can be wrong with a trial as written down.

use linkwright_calc::limits::LimitError;
use thiserror::Error;

/// What can be wrong with a trial as written down.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum TrialError {
    /// A value outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// The counts do not account for every turn.
    #[error(
        "the counts add up to {counted} turns but turns is {turns}; every turn is lost at an end, \
         crushed, uncut, bent or good, and counted once"
    )]
    CountsDoNotAddUp {
        /// Sum of the six counts.
        counted: u64,
        /// Turns of the coil.
        turns: u32,
    },
}
