//! Chains and sheets of linked rings: rigid round bodies that may touch and may not overlap.
//!
//! Read it in the order of the modules below. Nothing here reads a file, a clock or an unseeded
//! random number. The mathematics is told in `docs/theory/chain.md`.

pub mod vector;

pub mod circle;

pub mod pattern;

pub mod pose;

pub mod solve;

pub mod extent;

pub mod opening;

pub mod closed_form;

pub mod table;

pub mod answer;
