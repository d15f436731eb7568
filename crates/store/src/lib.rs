//! One data file: schema steps, records with their history, backup, import and export.

mod act;

mod error;

mod history;

mod id;

mod moment;

mod planning;

mod record;

pub mod records;

mod rings;

mod rows;

mod runs;

mod schema;

mod store;

mod view;

pub use act::Act;
pub use error::{Conflict, OpenError, StoreError};
pub use history::{ActionDone, ChangeKind, FormerValue};
pub use id::Id;
pub use moment::Moment;
pub use planning::{Bench, LotOnShelf, RingsCounted, RunMeasured};
pub use record::{Record, Saved};
pub use rings::{BatchClue, BatchSearch};
pub use rows::record_tables;
pub use runs::{RingCount, RunAtBench, RunListed, RunMade};
pub use store::Store;
pub use view::View;
