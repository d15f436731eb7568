//! Lengths as typed: millimetres, inches and fractions, thou, gauges.

use super::gauge_words::{self, GaugeWords, gauge_words, number_of_digits};
use super::length_asked::{comma_or_thousands, inside_or_outside, no_unit, survey_foot};
use super::length_unit::Unit;
use super::number::{Found, Number, find, fraction_times};
use super::text::{plain, words};
use super::{Length, QuantityError, Remark, Typed, Wanted};
use crate::limits::LENGTH;

/// Reads a length as typed.
///
/// # Units
/// `1.02 mm`, `12 cm`, `1.2 m`, `40 um`, `.040 in`, `0.040"`, `3/16"`, `1 1/4 in`, `3 ft`,
/// `5' 3"`, `2 yd`, `40 thou`, `18 awg`, `18 b&s`, `16 swg` (British), `4/0 awg`.
/// # Validity
/// Millimetres are kept to the last bit. A comma may stand for the point; before exactly three
/// digits it is asked about. Within [`LENGTH`].
/// # Errors
/// [`QuantityError::Unclear`] for a bare number, a bare gauge, a survey foot, a ring without its
/// side; other variants for what is no length.
/// # Source
/// Conversions: NIST SP 811 (2008), appendix B.8. Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::quantity::parse_length;
/// assert_eq!(parse_length("1.02 mm").unwrap().value().mm(), 1.02);
/// assert_eq!(parse_length("3/16\"").unwrap().value().mm(), 4.7625);
/// assert_eq!(parse_length("16 swg").unwrap().value().mm(), 1.6256);
/// assert_eq!(
///     parse_length("18 ga").unwrap_err().to_string(),
///     "\u{201c}18 ga\u{201d} does not say which gauge; type 18 awg (18 AWG, 1.024 mm), 18 swg \
///      (18 SWG (British), 1.219 mm) or 1.2065 mm (18 American steel wire gauge, 1.206 mm)"
/// );
/// ```
pub fn parse_length(text: &str) -> Result<Typed<Length>, QuantityError> {
    let text = text.trim();
    let (mm, remark) = match read(text, &plain(text, Wanted::Length)?) {
        Err(QuantityError::Unclear(question)) => return Err(question.within(LENGTH)),
        read => read?,
    };
    LENGTH.check(mm)?;
    Ok(Typed::new(text, Length::from_mm(mm), remark))
}

/// Millimetres and remark of a plain text; `text` is what was typed.
fn read(text: &str, plain: &str) -> Result<(f64, Option<Remark>), QuantityError> {
    let Some(Found { before, number, after }) = find(plain) else {
        return Err(not_understood(text));
    };
    let beside = words(&format!("{before} {after}"));
    if let Some(system) = gauge_words(&beside) {
        return gauge(text, system, &number);
    }
    if !before.is_empty() {
        return Err(not_understood(text));
    }
    if beside.iter().any(|word| word == "survey" || word == "ftus") {
        return Err(survey_foot(text, &number));
    }
    if beside.iter().any(|word| word == "ring" || word == "rings") {
        let unit = beside.first().and_then(|word| Unit::of(word)).unwrap_or(Unit::Millimetre);
        return Err(inside_or_outside(text, millimetres(text, &number, unit)?));
    }
    if beside.is_empty() {
        return Err(no_unit(text, &number));
    }
    if let Some(found) = find(after) {
        return feet_and_inches(text, &number, &found);
    }
    let word = beside.join(" ");
    let Some(unit) = Unit::of(&word) else {
        let (text, unit) = (text.to_owned(), word);
        return Err(QuantityError::UnknownUnit { text, unit, wanted: Wanted::Length });
    };
    Ok((millimetres(text, &number, unit)?, unit.remark()))
}

fn gauge(
    text: &str,
    words: GaugeWords,
    number: &Number,
) -> Result<(f64, Option<Remark>), QuantityError> {
    let Some(number) = gauge_number(number) else {
        return Err(QuantityError::GaugeNotWhole { text: text.to_owned() });
    };
    let (gauge, remark) = gauge_words::gauge(text, words, number)?;
    Ok((gauge.diameter()?.mm(), remark))
}

pub(super) fn gauge_number(number: &Number) -> Option<i64> {
    match number {
        Number::Plain(decimal) => number_of_digits(&decimal.digits),
        Number::Fraction { whole: 0, over: over @ 1.., under: 0 } => Some(1 - i64::from(*over)),
        Number::Fraction { .. } | Number::CommaOrThousands { .. } => None,
    }
}

/// `5' 3 1/2"`: whole feet, then inches.
fn feet_and_inches(
    text: &str,
    feet: &Number,
    inches: &Found<'_>,
) -> Result<(f64, Option<Remark>), QuantityError> {
    let unit = |words: &[String]| Unit::of(&words.join(" "));
    if unit(&words(inches.before)) != Some(Unit::Foot)
        || unit(&words(inches.after)) != Some(Unit::Inch)
    {
        return Err(not_understood(text));
    }
    let feet_mm = millimetres(text, feet, Unit::Foot)?;
    let inches_mm = millimetres(text, &inches.number, Unit::Inch)?;
    if feet_mm < 0.0 || inches_mm < 0.0 {
        return Err(not_understood(text));
    }
    Ok((feet_mm + inches_mm, None))
}

/// Millimetres of a number of units, once it can only be one number.
pub(super) fn millimetres(text: &str, number: &Number, unit: Unit) -> Result<f64, QuantityError> {
    match number {
        Number::Plain(decimal) => Ok(unit.mm(decimal)),
        Number::Fraction { under: 0, .. } => {
            Err(QuantityError::DividedByNothing { text: text.to_owned() })
        }
        Number::Fraction { whole, over, under } => {
            let (mm_over, mm_under) = unit.ratio();
            Ok(fraction_times((*whole, *over, *under), mm_over, mm_under))
        }
        Number::CommaOrThousands { comma, thousands } => {
            Err(comma_or_thousands(text, comma, thousands, &[unit]))
        }
    }
}

fn not_understood(text: &str) -> QuantityError {
    QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Length }
}
