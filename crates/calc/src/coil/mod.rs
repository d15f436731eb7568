//! The coil once it is off the mandrel: pitch, turn length, what fits, what it weighs.

mod turns;

mod inside;

mod pitch;

mod turn;

mod wire_needed;

mod error;

pub use error::CoilError;
pub use inside::InsideDiameter;
pub use pitch::{Pitch, touching_pitch};
pub use turn::{Coil, coil_length, gap_fraction, turns_in_length};
pub use turns::{GoodRings, RelaxedTurns, WoundTurns};
pub use wire_needed::wire_to_wind;
