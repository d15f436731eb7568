//! What can be wrong when something goes wrong, how likely each cause is, and which to check first.

mod cause;

mod chance;

mod evidence;

mod order;

mod table;

pub use cause::{Cause, Effort, Symptom, symptom, symptoms};
pub use chance::{Chance, PRIOR_CASES, chances};
pub use evidence::{Evidence, Ground, KnownOfRun, evidence};
pub use order::{expected_minutes, order_to_check};
