//! The door: what people type, what is made of it, what is asked back.

mod as_typed;
mod asked;
mod never_panics;
mod refused;
mod round_trip;
