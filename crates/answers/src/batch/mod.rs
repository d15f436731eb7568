//! The machine-readable interface: JSON lines in, JSON lines out, one for one and in order.

mod stream;

mod line;

mod inputs;

mod roles;

mod flow;

mod reply;

mod asks;

mod describe;

pub use describe::{input_schema, questions};
pub use flow::from_words as flow_law_from_words;
pub use reply::basis_as_json;
pub use stream::{answer_lines, answer_lines_until, answer_text};
