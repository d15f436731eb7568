//! Values from outside, each with its source beside it.

#![allow(clippy::unwrap_used, reason = "a test says what is wrong by panicking")]

mod crowder_1978;

mod saxon_families;

mod trials_coils;

mod trials_features;

mod example;

mod trials_basis;

mod trials_fit;

mod trials_planning;

mod numpyro_nuts;
