//! The invented sample workshop: a year of orders, runs and trials, as records like anybody's.

mod shelf;

mod asked;

mod year;

mod notebook;

mod cutting;

mod slack;

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
    slack::fill(act, calendar, &shelf, &mut chance)?;
    year::work(act, calendar, &mut shelf, &mut chance)?;
    shelf::new_blade(act, calendar.day(YEAR_DAYS - 4))?;
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

#[cfg(test)]
mod tests {
    use linkwright_store::records::{Batch, FrozenSheet, RingOrder, Run, Trial};
    use linkwright_store::{Moment, Store};
    use time::macros::date;

    use crate::error::PageError;

    #[test]
    fn the_sample_year_has_work_of_every_kind_and_is_the_same_every_time() {
        let folder = tempfile::tempdir().expect("a folder");
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let made = ["a", "b"].map(|name| {
            let store = Store::open(&folder.path().join(name)).expect("opens");
            store
                .act(now, "Filled the sample workshop", |act| {
                    super::fill(act, date!(2026 - 11 - 25))
                })
                .unwrap_or_else(|error: PageError| panic!("{error}"));
            store
                .read(|view| {
                    Ok::<_, PageError>((
                        view.all::<RingOrder>()?,
                        view.all::<Run>()?,
                        view.all::<FrozenSheet>()?,
                        view.all::<Trial>()?,
                        view.all::<Batch>()?,
                    ))
                })
                .expect("read")
        });
        assert!(made[0] == made[1], "two fillings differ");
        let (orders, runs, _, trials, batches) = &made[0];
        assert!(orders.len() > 30, "{} orders", orders.len());
        assert!(trials.len() > 150, "{} trials", trials.len());
        assert!(batches.len() > 30, "{} batches", batches.len());
        let in_hand = runs.iter().filter(|run| run.record.finished_at.is_none()).count();
        assert_eq!(in_hand, 1, "one run is left in the middle");
        let open = orders.iter().filter(|order| order.record.closed_on.is_none()).count();
        assert_eq!(open, 3, "two not started and the one at the bench");
        let metals: std::collections::BTreeSet<_> =
            trials.iter().map(|trial| &trial.record.metal).collect();
        assert!(metals.len() >= 6, "{metals:?}");
    }
}
