//! Springback that learns: from measured rings of a wire lot to the ring on any other mandrel.

mod share;

mod prior;

mod trial;

mod fit;

mod predict;

mod choose;

mod verdict;

#[cfg(test)]
mod properties;

pub use choose::{Candidate, CoilTarget, LotStates, MandrelChoice, RodWanted, choose_mandrel};
pub use fit::{Likely, LotFit};
pub use predict::{PredictedRing, Reach};
pub use prior::{LotPrior, WireState};
pub use share::flow_ratio_read_back;
pub use trial::{LotError, RingTrial};
pub use verdict::Verdict;
