//! Counting by weight, odds of good rings, coils to wind.

mod weigh;

mod sample;

mod odds;

mod coils;

mod error;

pub use coils::{CoilsQuery, RateSharing, coils_needed, rings_to_slit};
pub use error::CountError;
pub use odds::{GoodRate, chance_of_at_least};
pub use sample::{KitCheck, SampleQuery, exact_count_limit, kit_check, sample_needed};
pub use weigh::{Counted, Weighing, count_by_weight, net_uncertainty, reading_uncertainty};
