//! Counting by weight, odds of good rings, coils to wind.

mod weigh;

mod sample;

mod record;

mod kit;

mod odds;

mod sharing;

mod law;

mod coils;

mod error;

pub use coils::{CoilsQuery, coils_needed, rings_to_slit};
pub use error::CountError;
pub use kit::{KitCheck, KitQuery, kit_check};
pub use law::{Coil, GoodRingsLaw};
pub use odds::{GoodRate, chance_of_at_least};
pub use record::share_shown_by;
pub use sample::{SampleQuery, exact_count_limit, sample_needed};
pub use sharing::RateSharing;
pub use weigh::{Counted, Weighing, count_by_weight, net_uncertainty, reading_uncertainty};
