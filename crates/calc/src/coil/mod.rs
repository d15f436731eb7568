//! The coil once it is off the mandrel: pitch, turn length, what fits, what it weighs.

mod pitch;
mod turns;

pub use pitch::Pitch;
pub use turns::{GoodRings, RelaxedTurns, WoundTurns};
