//! Patterns that the workshop describes itself.

use crate::record::record;

record! {
    /// A pattern of one's own, with what was solved of it when it was checked.
    KeptPattern in "own_pattern", a "own pattern" {
        /// Its key, by which orders name it.
        name: String,
        /// One line a reader understands.
        title: String,
        /// The pattern file, as docs/pattern-file.md describes it.
        text: String,
        /// Where a search found its rings to lie; nothing where the file has rough places.
        start: Option<String>,
        /// Where they lie pulled taut, mm; nothing if the file's rings do not go together.
        shown: Option<String>,
        /// Smallest aspect ratio, all sizes in the file's own proportions.
        aspect_ratio_min: f64,
        /// Day it was brought in.
        added_on: String,
    }
}
