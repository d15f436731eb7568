//! The coil once it is off the mandrel: pitch, turn length, what fits, what it weighs.

mod turns;

pub use turns::{GoodRings, RelaxedTurns, WoundTurns};
