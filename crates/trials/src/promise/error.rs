//! What can be wrong with a question about coils and rings.

use thiserror::Error;

/// A question that has no answer.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PromiseError {
    /// A confidence that is none.
    #[error("confidence is {given}; it must lie between 0.5 and 0.9999, such as 0.95")]
    Confidence {
        /// As it was asked.
        given: f64,
    },
    /// A coil without turns, or longer than any holder takes.
    #[error("turns is {given}; it must be between 1 and {most}")]
    Turns {
        /// As it was asked.
        given: u32,
        /// The most there may be.
        most: u32,
    },
    /// Rings out of bounds.
    #[error("rings is {given}; it must be between 1 and {most}")]
    Rings {
        /// As it was asked.
        given: u32,
        /// The most there may be.
        most: u32,
    },
    /// So many coils would be needed that the set-up is wrong, not the count.
    #[error(
        "{most} coils of {turns} turns do not give {rings} good rings with this confidence; try another set-up first"
    )]
    OutOfReach {
        /// Coils that were tried.
        most: u32,
        /// Turns of each.
        turns: u32,
        /// Good rings wanted.
        rings: u32,
    },
}
