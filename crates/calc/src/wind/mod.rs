//! Winding: from mandrel to sprung coil, and back.

mod mandrel;

mod stress;

mod bend;

mod closed;

mod spring;

mod inverse;

mod crank;

mod pull;

mod second_order;

mod growth;

mod lot;

mod root;

#[cfg(test)]
mod properties;

pub use bend::{Bent, bend};
pub use closed::{
    PerfectlyPlastic, equivalent_flow_stress, perfectly_plastic_moment, power_law_moment,
};
pub use crank::{Crank, WindingTorque, hand_force, inside_diameter_from_turns, winding_torque};
pub use growth::springback;
pub use inverse::{CoilWanted, mandrel_for};
pub use lot::{
    Candidate, CoilTarget, Likely, LotError, LotFit, LotPrior, LotStates, MandrelChoice,
    PredictedRing, Reach, RingTrial, RodWanted, Verdict, WireState, choose_mandrel,
    flow_ratio_read_back,
};
pub use mandrel::Mandrel;
pub use pull::{PullEffect, plastic_moment_under_pull, pull_effect};
pub use second_order::{SecondOrder, cracking_limit, second_order};
pub use spring::{KickBack, Winding, Wound, wind};
pub use stress::ElasticPlastic;
