//! What the trials on record teach: read as coils, learned from, kept until a trial changes.

mod lessons;

mod newest;

mod kept;

mod others;

mod kind;

mod jobs;

mod pricing;

use linkwright_store::{StoreError, View};
use linkwright_trials::TrialRow;

pub(crate) use kept::{Kept, Taught};
pub(crate) use kind::{BladeKind, kind_of, kinds_in_use, trial_blade};
pub(crate) use others::prior_of;
pub(crate) use pricing::Pricing;

/// Seed of the plays: always the same, so that neither chart nor run sheet flickers.
pub(crate) const SEED: u64 = 20;

/// The trials on record as the model reads them, oldest first; those it cannot use are left out.
///
/// # Errors
/// If the file cannot be read.
pub fn trials(view: &View<'_>) -> Result<Vec<TrialRow>, StoreError> {
    Ok(lessons::lessons(view, usize::MAX)?.coils)
}
