//! What the trials on record teach: read as coils, learned from, kept until a trial changes.

mod lessons;

mod kept;

mod kind;

pub(crate) use kept::{Kept, Taught};
pub(crate) use kind::{BladeKind, kinds_in_use};
pub(crate) use lessons::{Lessons, lessons};
