//! What to try next: the coil whose counts are worth most for what it costs.

mod lines;

mod outlook;

mod proposal;

pub use proposal::{Place, TestCoil, try_next};
