//! The model before any trial: terms of the log odds, what is believed of each, and the columns
//! they make.

mod term;

mod prior;

mod smooth;

mod layout;

mod design;

pub(crate) use design::{Design, GateDesign, Sites, add_name};
pub(crate) use layout::{Layout, Names};
pub(crate) use prior::QUIRK_OF_DEPARTURE;
pub use prior::{Bell, EndPrior, GatePrior, Prior, TermPrior};
pub use smooth::{SMOOTH_TERMS, smooth_basis};
pub use term::{Lean, Term};
