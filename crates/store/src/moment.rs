//! A point in time, given by whoever has a clock.

use std::fmt;

use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use serde::{Deserialize, Serialize};
use time::format_description::well_known::Rfc3339;
use time::{Date, OffsetDateTime, UtcOffset};

/// A moment in universal time, to the millisecond; the store itself never reads a clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Moment {
    utc: OffsetDateTime,
}

impl Moment {
    /// The moment of a clock, whatever its zone; what is finer than a millisecond is cut off.
    #[must_use]
    pub fn at(time: OffsetDateTime) -> Moment {
        let utc = time.to_offset(UtcOffset::UTC);
        Moment { utc: utc.replace_millisecond(utc.millisecond()).unwrap_or(utc) }
    }

    /// A moment as RFC 3339 writes it, such as `2026-11-25T08:30:00Z`; `None` if it is not one.
    #[must_use]
    pub fn parse(text: &str) -> Option<Moment> {
        OffsetDateTime::parse(text, &Rfc3339).ok().map(Moment::at)
    }

    /// The moment as a time of the `time` crate, in universal time.
    #[must_use]
    pub fn utc(self) -> OffsetDateTime {
        self.utc
    }

    /// The day in universal time.
    #[must_use]
    pub fn date(self) -> Date {
        self.utc.date()
    }

    /// The moment to the second as part of a file's name, such as `2026-11-25-083000`.
    pub(crate) fn for_a_file_name(self) -> String {
        let (hour, minute, second) = self.utc.to_hms();
        format!("{}-{hour:02}{minute:02}{second:02}", self.utc.date())
    }
}

impl fmt::Display for Moment {
    /// As RFC 3339 in universal time with three digits of a second, so that text sorts as time.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let utc = self.utc;
        write!(
            f,
            "{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z",
            utc.year(),
            u8::from(utc.month()),
            utc.day(),
            utc.hour(),
            utc.minute(),
            utc.second(),
            utc.millisecond()
        )
    }
}

impl From<Moment> for String {
    fn from(moment: Moment) -> String {
        moment.to_string()
    }
}

impl TryFrom<String> for Moment {
    type Error = &'static str;

    fn try_from(text: String) -> Result<Moment, &'static str> {
        Moment::parse(&text).ok_or("not a moment as RFC 3339 writes it")
    }
}

impl ToSql for Moment {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::from(self.to_string()))
    }
}

impl FromSql for Moment {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Moment> {
        Moment::parse(value.as_str()?).ok_or(FromSqlError::InvalidType)
    }
}

#[cfg(test)]
mod tests {
    use super::Moment;

    #[test]
    fn a_moment_is_written_in_universal_time_and_read_back() {
        let moment = Moment::parse("2026-11-25T09:30:00.1239+01:00").expect("RFC 3339");
        assert_eq!(moment.to_string(), "2026-11-25T08:30:00.123Z");
        assert_eq!(Moment::parse(&moment.to_string()), Some(moment));
    }

    #[test]
    fn a_date_without_a_time_is_no_moment() {
        assert_eq!(Moment::parse("2026-11-25"), None);
    }
}
