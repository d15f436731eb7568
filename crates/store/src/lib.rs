//! One data file: schema steps, records with their history, backup, import and export.

mod act;

mod backup;

mod check;

mod durable;

mod afresh;

mod error;

pub mod export;

mod for_good;

mod further;

mod header;

mod history;

mod id;

mod lock;

mod look;

mod moment;

mod opening;

mod measured_pieces;

mod orders;

mod own_patterns;

mod order_lines;

mod photos;

mod planning;

mod record;

pub mod records;

mod restore;

mod faults;

mod handouts;

mod rings;

mod rows;

mod runs;

mod schema;

mod shelf;

mod store;

pub mod spreadsheet;

pub mod trials;

mod view;

mod words;

mod worked_out;

pub use act::Act;
pub use backup::{DAILY_BACKUPS_KEPT, back_up, backups_of, by_hand};
pub use check::{Report, Trouble, check};
pub use error::{Conflict, OpenError, StoreError};
pub use further::FurtherSize;
pub use history::{ActionDone, ChangeKind, FormerValue};
pub use id::Id;
pub use look::look;
pub use measured_pieces::PieceInFull;
pub use moment::Moment;
pub use order_lines::LineInFull;
pub use orders::{OrderClue, OrderOnList};

pub use photos::PhotoShown;
pub use planning::{Bench, LotOnShelf, RingsCounted, RunMeasured};
pub use record::{Record, Saved};
pub use restore::{RestoreError, Restored, restore};
pub use rings::{BatchClue, BatchSearch};
pub use rows::record_tables;
pub use runs::{RingCount, RunAtBench, RunListed, RunMade};
pub use shelf::BladeCut;
pub use store::Store;
pub use view::View;
