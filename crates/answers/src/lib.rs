//! Questions as people and programs write them, answers as they read them.

pub mod batch;

pub mod chain;

pub mod chart;

pub mod coils;

pub mod files;

pub mod pattern;

pub mod pool;

pub mod published;

pub mod printout;

pub mod refusal;

pub mod run_sheet;
