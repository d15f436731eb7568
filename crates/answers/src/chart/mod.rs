//! The blade chart as tables and JSON: trials in, what is believed of each cell out.

mod table;

mod column;

mod strength;

mod error;

mod json;

pub use error::TableError;
pub use json::as_json;
pub use strength::{metal_key, yield_strength};
pub use table::{read_cells, read_trials};
