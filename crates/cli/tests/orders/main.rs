//! Orders through the built program: the worked tasks, what sheets say, files that cannot be used.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test says what is wrong by panicking"
)]

mod malformed;
mod needs;
mod page;
mod pins;
mod program;
mod run_sheet;
