//! What the cutting trials taught: geometry corrected by the workshop's own trials, how sure that is, and what to try next.

mod play;

pub use play::{CellPlay, EndLoss, GATES, Gate};
