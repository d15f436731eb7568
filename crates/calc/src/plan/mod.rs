//! From an order and a workshop to run sheets.

mod order;

mod divide;

mod cutting_up;

mod set_ups;

pub use cutting_up::{CutList, CutListError, Pieces, Reel, cut_up};
pub use divide::{CoilGroup, Division, divide};
pub use order::{Item, Order, OrderLine, RingState, RingWanted, Spare};
pub use set_ups::{LINES_ORDERED_EXACTLY, Sequence, SetUp, Way, sequence};
