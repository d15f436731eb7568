//! Chains of linked rings, as pages, commands and paper show them.

pub mod figure;
