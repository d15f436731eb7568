//! What the trials make of the model: the most likely weights, how sure they are, and the few
//! settings of scatter and departure that remain likely.

mod mode;

mod settings;

mod ends;

mod parallel;

pub(crate) use ends::{End, EndPosterior};
pub(crate) use mode::TIGHT;
pub(crate) use mode::{Mode, ModeQuery, find_mode};
pub(crate) use parallel::in_parallel;
pub(crate) use settings::{GateJob, GatePosterior, Point, Setting, reweigh, search, single};
