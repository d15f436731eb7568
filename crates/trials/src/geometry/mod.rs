//! What geometry alone says about a cell: margins of the cut, load of the clamp, and the bounded
//! numbers the gates weigh.

mod features;

mod nominal;

mod steps;

pub use features::{Features, features};
pub use nominal::NominalYield;
pub(crate) use steps::logistic;
pub use steps::{CRUSH_STEPS, FAR_STEPS, Fall, SEVER_STEPS, STEPS, Steps};
