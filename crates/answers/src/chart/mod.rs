//! The blade chart as tables and JSON: trials in, what is believed of each cell out.

mod table;

mod column;

mod strength;

mod error;

mod json;

mod outlook;

pub use column::{cell_columns, trial_columns};
pub use error::TableError;
pub use json::as_json;
pub use outlook::{Outlook, tried_words};
pub use strength::{metal_key, yield_strength};
pub use table::{read_cells, read_trials};
