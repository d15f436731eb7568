//! The kinds of record, one file for each place at the bench.

mod bench;

mod blade;

mod every;

mod fault;

mod linked;

mod orders;

mod others;

mod own_pattern;

mod paper;

mod rings;

mod trial;

mod workshop;

pub use bench::{Coil, FrozenSheet, Reading, Run, Tick};
pub use blade::{Blade, Holder};
pub(crate) use every::{EachKind, every_kind};
pub use fault::Fault;
pub use linked::{MeasuredPiece, RingOfPiece};
pub use orders::{FurtherRing, LineKind, OrderLine, RingOrder};
pub use others::OtherWorkshop;
pub use own_pattern::KeptPattern;
pub use paper::{Handout, HandoutGiven, Image, Photo};
pub use rings::Batch;
pub use trial::{BladeEvent, Outcome, Trial, TrialSource};
pub use workshop::{MetalOverlay, Rod, WireLot, Workshop};
