//! Causes found at the bench.

use crate::id::Id;
use crate::record::record;
use crate::records::{Blade, Run};

record! {
    /// A cause found for something that went wrong.
    Fault in "fault", a "fault" {
        /// Code of the symptom.
        symptom: String,
        /// Code of the cause.
        cause: String,
        /// Day it was found.
        found_on: String,
        /// The run it befell.
        run_id: Option<Id<Run>>,
        /// The blade it befell.
        blade_id: Option<Id<Blade>>,
        /// Anything else.
        note: String,
    }
}
