//! Trials: looked for by what somebody remembers, read from what was typed, counted for a chart.

mod search;

mod entry;

mod dates;

mod best;

mod export;

pub mod import;

pub use best::{BestCell, BestTried, BladeRecord, FEW_TRIALS};
pub use dates::{DateError, DateOrder, read_date};
pub use entry::{FieldWrong, TrialEntry, TrialReader};
pub use export::{COLUMNS, TrialsForm};
pub use search::{Length, SizeClue, TrialFilter, TrialKey};
