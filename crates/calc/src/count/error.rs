//! What can be wrong with a count.

use thiserror::Error;

use crate::limits::LimitError;

/// Why a count or odds cannot be given.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum CountError {
    /// A value outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// More good rings are asked for than there are turns.
    #[error(
        "good_rings is {good_rings}, more than the {turns} turns there are; ask for at most {turns}"
    )]
    MoreThanTurns {
        /// Good rings asked for.
        good_rings: u32,
        /// Turns there are.
        turns: u32,
    },
    /// Every turn of a coil is lost.
    #[error(
        "lost_per_coil is {lost_per_coil}, and a coil has {turns_per_coil} turns: none is left for a ring"
    )]
    NothingLeft {
        /// Turns lost.
        lost_per_coil: u32,
        /// Turns of a coil.
        turns_per_coil: u32,
    },
    /// More turns than the odds are worked out for.
    #[error(
        "the coils have {turns} turns left for rings together; odds are worked out for up to \
         {turns_max}; split the job"
    )]
    TooManyTurns {
        /// Turns left of all coils.
        turns: u64,
        /// Most turns.
        turns_max: u32,
    },
    /// The wanted confidence needs more rings than are counted with.
    #[error(
        "no count up to {rings_most} rings gives {good_rings} good ones with a chance of {confidence}; \
         ask for less confidence or a better rate"
    )]
    OutOfReach {
        /// Good rings wanted.
        good_rings: u32,
        /// Chance wanted.
        confidence: f64,
        /// Most rings that are tried.
        rings_most: u32,
    },
}
