//! An old table of trials becomes records: columns matched, rows read, all or what was chosen kept.

mod columns;

mod matching;

mod preview;

mod staging;

pub use columns::{Guess, IMPORT_FIELDS, guess};
pub use matching::{ColumnMatch, CommaMeans, Matching, UNITS, heading_row, is_size};
pub use preview::{BadRow, GoodRow, Preview, preview};
pub use staging::Staged;
