//! Values from outside, each with its source beside it.

mod trials_coils;

mod trials_features;

mod example;

mod trials_basis;

mod trials_fit;
