//! Shares as typed: percent, or parts of one.

use super::number::{Found, Number, find};
use super::question::{Ask, Question, Reading};
use super::text::{plain, words};
use super::{QuantityError, Typed, Wanted};
use crate::limits::SHARE;

/// Reads a share as typed, as parts of one.
///
/// # Units
/// `95 %`, `95 percent`, `950 permille`, `19/20`, `0.95`; out comes 0.95.
/// # Validity
/// A bare number below one is a share of one, as in files and in `batch`. Within [`SHARE`].
/// # Errors
/// [`QuantityError::Unclear`] for a bare number of one or more; other variants for what is no
/// share.
/// # Source
/// Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::quantity::parse_share;
/// assert_eq!(parse_share("95 %").unwrap().value(), 0.95);
/// assert_eq!(parse_share("0.95").unwrap().value(), 0.95);
/// assert_eq!(
///     parse_share("1").unwrap_err().to_string(),
///     "\u{201c}1\u{201d} does not say percent or a share of one; type 1 % (0.01 of one) or \
///      100 % (1 of one)"
/// );
/// ```
pub fn parse_share(text: &str) -> Result<Typed<f64>, QuantityError> {
    let text = text.trim();
    let plain = plain(text, Wanted::Share)?;
    let not_understood =
        || QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Share };
    let Some(Found { before: "", number, after }) = find(&plain) else {
        return Err(not_understood());
    };
    let unit = words(after).join(" ");
    let (number, whole) = match (number, per(&unit)) {
        (_, None) => {
            let text = text.to_owned();
            return Err(QuantityError::UnknownUnit { text, unit, wanted: Wanted::Share });
        }
        (Number::Plain(decimal), Some(1.0)) if decimal.value >= 1.0 => {
            return Err(percent_or_share(text, decimal.value));
        }
        (Number::Plain(decimal), Some(whole)) => (decimal.value, whole),
        (Number::Fraction { under: 0, .. }, _) => {
            return Err(QuantityError::DividedByNothing { text: text.to_owned() });
        }
        (Number::Fraction { whole: units, over, under }, Some(whole)) => {
            (f64::from(units) + f64::from(over) / f64::from(under), whole)
        }
        // `1,250 %` is no share either way.
        (Number::CommaOrThousands { comma, .. }, Some(whole)) => (comma.value, whole),
    };
    let share = SHARE.check(number / whole)?;
    Ok(Typed::new(text, share, None))
}

/// How many of the unit make one; `None` if it is no unit of shares.
pub(super) fn per(unit: &str) -> Option<f64> {
    match unit {
        "" => Some(1.0),
        "%" | "percent" | "per cent" | "pct" => Some(100.0),
        "\u{2030}" | "permille" | "per mille" | "per mil" => Some(1000.0),
        _ => None,
    }
}

fn percent_or_share(text: &str, number: f64) -> QuantityError {
    let readings: Vec<Reading> = [number, 100.0 * number]
        .into_iter()
        .filter(|percent| *percent <= 100.0)
        .map(|percent| Reading::plain(format!("{percent} %"), percent / 100.0, "of one"))
        .collect();
    if readings.is_empty() {
        return match SHARE.check(number) {
            Err(error) => error.into(),
            Ok(_) => QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Share },
        };
    }
    QuantityError::Unclear(Question::new(text, Ask::ShareOrPercent, readings))
}
