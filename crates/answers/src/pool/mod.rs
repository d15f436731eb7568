//! What workshops share of their trials, as files: one workshop condensed, and the prior of many.

mod workshop;

mod portable;

mod term;

mod field;

mod error;

mod condense;

pub use condense::condense;
pub use error::PoolFileError;
pub use portable::{PortablePrior, read_prior, write_prior};
pub use term::{term_in_words, term_name};
pub use workshop::{FILE_BYTES_MOST, read_workshop, write_workshop};

use linkwright_trials::Gate;

/// What a gate is called in the files.
pub const fn gate_name(gate: Gate) -> &'static str {
    match gate {
        Gate::Kept => "kept",
        Gate::Severed => "severed",
        Gate::Round => "round",
    }
}
