//! Where the app learns the time.

use std::sync::Arc;

use linkwright_store::Moment;
use time::{Date, OffsetDateTime, UtcOffset};

/// A clock: the computer's, or a test's.
#[derive(Clone)]
pub struct Clock {
    read: Arc<dyn Fn() -> OffsetDateTime + Send + Sync>,
}

impl Clock {
    /// The computer's clock and its zone; universal time where the zone is not to be had.
    #[must_use]
    pub fn of_this_computer() -> Clock {
        let zone = UtcOffset::current_local_offset().unwrap_or(UtcOffset::UTC);
        Clock { read: Arc::new(move || OffsetDateTime::now_utc().to_offset(zone)) }
    }

    /// A clock that stands still, for tests.
    #[must_use]
    pub fn standing_at(moment: Moment) -> Clock {
        Clock { read: Arc::new(move || moment.utc()) }
    }

    /// This moment.
    #[must_use]
    pub fn now(&self) -> Moment {
        Moment::at((self.read)())
    }

    /// A moment as a clock on the workshop's wall shows it, such as "2026-11-25 09:30".
    #[must_use]
    pub fn shown(&self, moment: Moment) -> String {
        let here = moment.utc().to_offset((self.read)().offset());
        format!("{} {:02}:{:02}", here.date(), here.hour(), here.minute())
    }

    /// Today where the workshop is.
    #[must_use]
    pub fn today(&self) -> Date {
        (self.read)().date()
    }
}
