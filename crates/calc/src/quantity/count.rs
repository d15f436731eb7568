//! Counts as typed.

use super::number::{Found, Number, find};
use super::text::{plain, words};
use super::{QuantityError, Typed, Wanted};
use crate::limits::RINGS;

/// Reads a whole number of things as typed.
///
/// # Units
/// `120`, `1,200`, `120 rings`, `120 pcs`, `10 dozen`.
/// # Validity
/// A comma before three digits groups thousands, since the other reading is no whole number.
/// Within [`RINGS`].
/// # Errors
/// [`QuantityError::NotWhole`] for a number that is not whole; other variants for what is no count.
/// # Source
/// Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::quantity::parse_count;
/// assert_eq!(parse_count("1,200").unwrap().value(), 1200);
/// assert_eq!(parse_count("2 1/2 dozen").unwrap().value(), 30);
/// assert_eq!(
///     parse_count("12.5").unwrap_err().to_string(),
///     "\u{201c}12.5\u{201d} is 12.5, and a count is whole"
/// );
/// ```
pub fn parse_count(text: &str) -> Result<Typed<u32>, QuantityError> {
    let text = text.trim();
    let plain = plain(text, Wanted::Count)?;
    let Some(Found { before: "", number, after }) = find(&plain) else {
        return Err(QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Count });
    };
    let each = match words(after).join(" ").as_str() {
        "" | "ring" | "rings" | "pc" | "pcs" | "piece" | "pieces" => 1.0,
        "doz" | "dozen" | "dozens" => 12.0,
        unit => {
            let (text, unit) = (text.to_owned(), unit.to_owned());
            return Err(QuantityError::UnknownUnit { text, unit, wanted: Wanted::Count });
        }
    };
    let count = each
        * match number {
            Number::Plain(decimal) => decimal.value,
            Number::CommaOrThousands { thousands, .. } => thousands.value,
            Number::Fraction { under: 0, .. } => {
                return Err(QuantityError::DividedByNothing { text: text.to_owned() });
            }
            Number::Fraction { whole, over, under } => {
                f64::from(whole) + f64::from(over) / f64::from(under)
            }
        };
    RINGS.check(count)?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the limits lie within u32, and what is not whole is refused below"
    )]
    let whole = count as u32;
    if f64::from(whole) < count {
        return Err(QuantityError::NotWhole { text: text.to_owned(), value: count });
    }
    Ok(Typed::new(text, whole, None))
}
