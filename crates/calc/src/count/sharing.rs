//! Whether coils spoil together or each for itself.

/// Whether the unknown rate is one for the whole job, or drawn anew for each coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RateSharing {
    /// One rate for all coils: a bad day spoils them all. The cautious choice.
    Shared,
    /// A rate of its own for each coil: bad coils and good ones even out.
    PerCoil,
}
