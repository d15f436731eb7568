//! One play of what is known about one cell of the chart.

/// The three gates every ring passes that is not lost at an end of its coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gate {
    /// Not crushed or flung by the clamp.
    Kept,
    /// Cut right through.
    Severed,
    /// Not nicked or bent.
    Round,
}

/// The gates in the order a ring passes them; every array "one entry per gate" has this order.
pub const GATES: [Gate; 3] = [Gate::Kept, Gate::Severed, Gate::Round];

impl Gate {
    /// Place of this gate in an array with one entry per gate.
    pub const fn index(self) -> usize {
        match self {
            Gate::Kept => 0,
            Gate::Severed => 1,
            Gate::Round => 2,
        }
    }
}

/// Turns lost at one end of a coil: a negative binomial count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndLoss {
    /// Mean number of turns lost, per coil.
    pub mean: f64,
    /// Size of the negative binomial law; variance is `mean + mean^2 / size`.
    pub size: f64,
}

/// One draw from the posterior, as far as one cell (wire, mandrel, blade and circumstances) is concerned.
///
/// Entry `i` of two cells' plays belongs to the same draw, so that differences between cells may be
/// taken play by play.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CellPlay {
    /// Log odds of passing each gate on an ordinary coil, one entry per gate.
    pub log_odds: [f64; 3],
    /// Standard deviation of the coils' own log odds about it, one entry per gate.
    pub coil_scatter: [f64; 3],
    /// Turns lost where the blade enters.
    pub entry: EndLoss,
    /// Turns lost at the stop.
    pub stop: EndLoss,
}
