//! How well the model knows what it knows: its beliefs held against the truth of invented workshops.

mod scores;

mod table;

mod learning_curves;

pub use learning_curves::{Sales, Testing, learning_curve};
pub use scores::{Called, Scores, score};
pub use table::{Figure, Row, calibrate};
