//! The jump-ring bench in formulas: one module per step of the wire, from the order to the plan.
//!
//! Read it in the order of the modules below. Nothing here reads a file, a clock or a random
//! number, and nothing here knows a file format: values come in as types and go out as types.

pub mod limits;

pub mod quantity;

pub mod basis;

pub mod wire;

pub mod gauge;

pub mod metal;

pub mod wind;

pub mod coil;

pub mod hold;

pub mod slit;

pub mod ring;

pub mod count;

pub mod cautions;

pub mod fault;

pub mod money;

pub mod plan;
