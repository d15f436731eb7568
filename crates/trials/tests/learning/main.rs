//! What must hold of learning whatever the trials: honest where nothing was tried, moved by what
//! was, and the same whichever way it is asked.

#![allow(clippy::unwrap_used, reason = "a test says what is wrong by panicking")]

mod workshop;

mod beliefs;

mod pooling;

mod calibration;
