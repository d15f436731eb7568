//! Days as people write them.

use thiserror::Error;
use time::{Date, Month};

/// Which comes first where a day is written with strokes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DateOrder {
    /// Asked where it matters.
    #[default]
    Asked,
    /// 31/12/2026.
    DayFirst,
    /// 12/31/2026.
    MonthFirst,
}

/// Why something typed is no day.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[non_exhaustive]
pub enum DateError {
    /// Nothing was typed.
    #[error("no day is given; type it like 2026-03-04 or 4 March 2026")]
    Empty,
    /// There is no such day, or it is not written like one.
    #[error("\u{201c}{text}\u{201d} is no day; type it like 2026-03-04 or 4 March 2026")]
    NoDay {
        /// What was typed.
        text: String,
    },
    /// The day and the month could change places.
    #[error(
        "\u{201c}{text}\u{201d} does not say whether the day or the month comes first; type it like 2026-03-04"
    )]
    Unclear {
        /// What was typed.
        text: String,
    },
}

/// Reads a day: `2026-03-04`, `4.3.2026`, `4 March 2026`, `4/3/2026` in the order that was said.
/// A time of day behind it is left out.
///
/// # Errors
/// [`DateError`]; two digits of a year are refused.
pub fn read_date(text: &str, order: DateOrder) -> Result<Date, DateError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(DateError::Empty);
    }
    let no_day = || DateError::NoDay { text: text.to_owned() };
    let first = text.split(['T']).next().unwrap_or(text);
    let first = match first.split_once(' ') {
        Some((day, time)) if time.contains(':') => day,
        _ => first,
    };
    let parts: Vec<&str> = first
        .split(|letter: char| letter.is_whitespace() || "-./,".contains(letter))
        .filter(|part| !part.is_empty())
        .collect();
    let [a, b, c] = parts[..] else { return Err(no_day()) };
    let date = |year: &str, month: Option<u8>, day: &str| {
        let year = Some(year).filter(|year| year.len() == 4)?.parse().ok()?;
        let month = Month::try_from(month?).ok()?;
        Date::from_calendar_date(year, month, day.parse().ok()?).ok()
    };
    let number = |part: &str| part.parse::<u8>().ok();
    let read = if a.len() == 4 {
        date(a, number(b).or_else(|| month_of(b)), c)
    } else if let Some(month) = month_of(b) {
        date(c, Some(month), a)
    } else if let Some(month) = month_of(a) {
        date(c, Some(month), b)
    } else if first.contains('/') {
        let day_first = date(c, number(b), a);
        let month_first = date(c, number(a), b);
        match (order, day_first, month_first) {
            (DateOrder::DayFirst, day_first, _) => day_first,
            (DateOrder::MonthFirst, _, month_first) => month_first,
            (DateOrder::Asked, Some(one), Some(other)) if one != other => {
                return Err(DateError::Unclear { text: text.to_owned() });
            }
            (DateOrder::Asked, one, other) => one.or(other),
        }
    } else {
        date(c, number(b), a)
    };
    read.ok_or_else(no_day)
}

fn month_of(word: &str) -> Option<u8> {
    let word = word.to_lowercase();
    if word.len() < 3 || !word.is_ascii() {
        return None;
    }
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let place = MONTHS
        .iter()
        .position(|month| month.starts_with(&word) || word == "sept" && *month == "september")?;
    u8::try_from(place + 1).ok()
}

#[cfg(test)]
mod tests {
    use super::{DateError, DateOrder, read_date};

    fn read(text: &str, order: DateOrder) -> String {
        match read_date(text, order) {
            Ok(date) => date.to_string(),
            Err(DateError::Unclear { .. }) => "unclear".to_owned(),
            Err(_) => "no day".to_owned(),
        }
    }

    #[test]
    fn days_are_read_as_people_write_them() {
        for (text, wanted) in [
            ("2026-03-04", "2026-03-04"),
            ("2026-03-04T10:20:00", "2026-03-04"),
            ("2026-03-04 10:20", "2026-03-04"),
            ("4.3.2026", "2026-03-04"),
            ("4 March 2026", "2026-03-04"),
            ("Mar 4, 2026", "2026-03-04"),
            ("31/12/2025", "2025-12-31"),
            ("12/31/2025", "2025-12-31"),
            ("5/5/2025", "2025-05-05"),
            ("3/4/2026", "unclear"),
            ("3/4/26", "no day"),
            ("2026-02-30", "no day"),
            ("soon", "no day"),
        ] {
            assert_eq!(read(text, DateOrder::Asked), wanted, "{text}");
        }
    }

    #[test]
    fn the_order_that_was_said_is_kept_to() {
        assert_eq!(read("3/4/2026", DateOrder::DayFirst), "2026-04-03");
        assert_eq!(read("3/4/2026", DateOrder::MonthFirst), "2026-03-04");
        assert_eq!(read("31/12/2025", DateOrder::MonthFirst), "no day");
    }
}
