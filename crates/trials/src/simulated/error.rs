//! What can be wrong with an invented workshop.

use linkwright_calc::limits::LimitError;
use linkwright_calc::slit::SlitError;
use thiserror::Error;

use crate::trial::TrialError;

/// What can be wrong with an invented workshop: a number outside the limits of what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SimulatedError {
    /// A wire, a mandrel or a holder.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// A blade.
    #[error(transparent)]
    Slit(#[from] SlitError),
    /// A cell or a trial.
    #[error(transparent)]
    Trial(#[from] TrialError),
}
