//! The invented sample workshop: a year of orders, runs and trials, as records like anybody's.

mod shelf;

mod asked;

mod year;

mod notebook;

mod large;

use linkwright_store::Act;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use time::{Date, Duration};

use crate::error::PageError;

pub use large::{Large, enlarge};

/// The sample is the same wherever it is made, but for its dates.
const SEED: u64 = 14;

/// The day the year began, in days before today.
const YEAR_DAYS: i64 = 360;

/// Fills an empty data file with the sample workshop, whose year ends on `today`.
pub(crate) fn fill(act: &Act<'_>, today: Date) -> Result<(), PageError> {
    let calendar = Calendar { first: today - Duration::days(YEAR_DAYS) };
    let mut chance = ChaCha8Rng::seed_from_u64(SEED);
    let mut shelf = shelf::stock(act, calendar)?;
    notebook::fill(act, calendar, &shelf, &mut chance)?;
    year::work(act, calendar, &mut shelf, &mut chance)?;
    Ok(())
}

/// Days of the year that is told.
#[derive(Clone, Copy)]
struct Calendar {
    first: Date,
}

impl Calendar {
    /// A day as records keep it.
    fn day(self, number: i64) -> String {
        (self.first + Duration::days(number)).to_string()
    }

    /// A minute of a day.
    fn moment(self, number: i64, minute: i64) -> linkwright_store::Moment {
        let midnight = (self.first + Duration::days(number)).midnight().assume_utc();
        linkwright_store::Moment::at(midnight + Duration::minutes(minute))
    }
}
