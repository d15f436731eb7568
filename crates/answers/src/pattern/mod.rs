//! A pattern of one's own, from a file: by rough places, or by the order of linking alone.

mod described;
mod entry;
mod own;
mod start;
mod trouble;
mod which;

pub use described::{Described, Lay};
pub use own::{ChainFound, OrderSearch, OwnPattern};
