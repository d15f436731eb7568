//! Metals by alloy and temper: density, stiffness, strength, flow laws, annealing, what to watch.

mod flow;

pub use flow::FlowLaw;
