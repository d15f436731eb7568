//! Slitting: blade projection, stop end, head start, chips and speeds.

mod kerf;

pub use kerf::Kerf;
