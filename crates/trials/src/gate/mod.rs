//! How a coil's counts at one gate bear on the gate's log odds.

mod hermite;

mod lanes;

mod coil;

mod share;

pub use coil::{CoilCount, CoilTerm, WRITE_OFF_SHARE, coil_term};
pub(crate) use hermite::{NODES_3, NODES_9};
pub use share::{ShareTable, share_passing, share_passing_twice};
