//! What other workshops shared.

use crate::record::record;

record! {
    /// The condensed trials of another workshop.
    OtherWorkshop in "other_workshop", a "file of another workshop" {
        /// What this workshop calls it, such as the name of its file.
        name: String,
        /// Day it was loaded.
        loaded_on: String,
        /// Trials it was learned from, coils.
        trials: u32,
        /// Cells those trials were of.
        cells: u32,
        /// Whether this workshop learns from it.
        in_use: bool,
        /// The file, as docs/pooling-file.md describes it.
        content: String,
    }
}
