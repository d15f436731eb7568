//! A chain of a pattern: what is asked of it, what it gives, and how that is told.

mod patterns;

mod known;

mod solver;

mod asked;

mod answered;

mod counted;

mod measured;

mod in_full;

mod ordered;

mod words;

mod json;

mod table;

pub mod design;

pub mod figure;

mod picture;

mod steps;

pub use answered::{
    ChainAnswer, ChainError, RingUsed, answer, answer_by, answer_corrected, answer_until,
    answer_with, ground_in_words,
};
pub use asked::{
    ASSUMED_KERF_MM, AskedMetal, AskedRing, ChainAsked, EndsAsked, Opened, PieceAsked,
};
pub use counted::{Counts, counts};
pub use in_full::{InFull, InFullError};
pub use json::{chain_as_json, list_as_json, table_as_json};
pub use known::{KnownPatterns, NoPattern, OwnKnown};
pub use measured::{PIECES_MOST, PieceError, PieceGiven, correction, reading};
pub use ordered::{KitsAsked, LinkedWanted, OrderAsked, name_of_size};
pub(crate) use patterns::bare;
pub use patterns::{PatternListed, UnknownPattern, find, listed};
pub use picture::picture;
pub use solver::{Solver, Steps};
pub use steps::{LinkingStep, linking_steps};
pub use table::{TableRow, table};
pub use words::{cautions, rows};
