//! What the cutting trials taught: geometry corrected by the workshop's own trials, how sure that is, and what to try next.

mod number;

mod trial;

mod geometry;

mod gate;

mod dense;

mod model;

mod fit;

mod learned;

mod pool;

mod play;

mod promise;

mod decide;

mod worth;

mod simulated;

mod calibration;

pub use calibration::{
    Called, Figure, Row as CalibrationRow, Sales, Scores, Testing, calibrate, learning_curve, score,
};
pub use decide::{BladeWorth, CoilMoney, Decision, decide};
pub use gate::{
    CoilCount, CoilTerm, ShareTable, WRITE_OFF_SHARE, coil_term, share_passing, share_passing_twice,
};
pub use geometry::{
    CRUSH_STEPS, FAR_STEPS, Fall, Features, NominalYield, SEVER_STEPS, STEPS, Steps, features,
};
pub use learned::{Belief, GateStory, Learned, Outcome, PLAYS};
pub use model::{
    Bell, EndPrior, GatePrior, Lean, Prior, SMOOTH_TERMS, Term, TermPrior, smooth_basis,
};
pub use play::{CellPlay, EndLoss, GATES, Gate};
pub use pool::{Condensed, CondensedGate, Pool, PoolError, pooled_from_trials, pooled_term};
pub use promise::{
    BetaBinomial, Cheapest, CoilCost, CoilLaw, CoilsNeeded, PromiseError, Promised, Spread, Yield,
};
pub use simulated::{Bench, SimulatedError, Workshop};
pub use trial::{Cell, CellKey, CellParts, Counts, TrialBlade, TrialError, TrialRow};
pub use worth::{Place, TestCoil, try_next};
