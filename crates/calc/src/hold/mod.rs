//! Holding the coil between parallel plates: crushing, marking, pinching, leaning.

mod turn;

mod flattening;

mod as_wound;

mod slit_closing;

mod advice;

mod leaning;

mod error;

pub use advice::{ClampAdvice, ClampQuery, ClampStep, clamp_advice, clamp_step};
pub use as_wound::{AsWound, as_wound, reverse_yield_moment};
pub use error::HoldError;
pub use flattening::Flattening;
pub use leaning::{LeanQuery, Leaning, leaning};
pub use slit_closing::{CutTurn, SlitAt, cut_turn_under_force, slit_closes_between_locked_plates};
pub use turn::{HeldTurn, HeldTurnParts};
