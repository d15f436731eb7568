//! What was tried: one coil of one wire on one mandrel under one blade, and what became of its turns.

mod cell;

mod row;

mod error;

pub use cell::{Cell, CellKey, CellParts, TrialBlade};
pub use error::TrialError;
pub use row::{Counts, TrialRow};

#[cfg(test)]
pub(crate) use cell::tests;
