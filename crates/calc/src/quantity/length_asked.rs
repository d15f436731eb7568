//! Questions about lengths that could mean two things.

use super::gauge_words;
use super::length::{gauge_number, millimetres};
use super::length_unit::Unit;
use super::number::{Decimal, Number};
use super::question::{Ask, Question, Reading};
use super::{MM_PER_SURVEY_FOOT, QuantityError};

/// A bare number: every gauge that has it, millimetres, inches, and thou if it is whole.
pub(super) fn no_unit(text: &str, number: &Number) -> QuantityError {
    if let Number::CommaOrThousands { comma, thousands } = number {
        return comma_or_thousands(text, comma, thousands, &[Unit::Millimetre, Unit::Inch]);
    }
    let mut readings = gauge_number(number).map(gauge_words::readings).unwrap_or_default();
    let is_noughts = matches!(number, Number::Fraction { under: 0, .. });
    if !is_noughts || readings.is_empty() {
        let digits = digits(number);
        let whole = digits.bytes().all(|byte| byte.is_ascii_digit());
        // Nobody counts fractions of a thou.
        let units = [Some(Unit::Millimetre), Some(Unit::Inch), whole.then_some(Unit::Thou)];
        for unit in units.into_iter().flatten() {
            match millimetres(text, number, unit) {
                Ok(mm) => readings.push(reading(&digits, unit, mm)),
                Err(error) => return error,
            }
        }
    }
    QuantityError::Unclear(Question::new(text, Ask::LengthUnit, readings))
}

/// `1,020 mm`: a little over one, or a thousand and twenty.
pub(super) fn comma_or_thousands(
    text: &str,
    comma: &Decimal,
    thousands: &Decimal,
    units: &[Unit],
) -> QuantityError {
    let readings = units
        .iter()
        .flat_map(|unit| {
            [comma, thousands].map(|number| reading(&number.digits, *unit, unit.mm(number)))
        })
        .collect();
    QuantityError::Unclear(Question::new(text, Ask::CommaOrThousands, readings))
}

/// A US survey foot: given up, and a hair longer than the common one.
pub(super) fn survey_foot(text: &str, number: &Number) -> QuantityError {
    let feet_mm = match millimetres(text, number, Unit::Foot) {
        Ok(feet_mm) => feet_mm,
        Err(error) => return error,
    };
    let (over, under) = Unit::Foot.ratio();
    let survey_mm = feet_mm * f64::from(under) / f64::from(over) * MM_PER_SURVEY_FOOT;
    let readings = vec![
        reading(&digits(number), Unit::Foot, feet_mm),
        Reading::new("US survey foot", format!("{survey_mm} mm"), survey_mm, "mm"),
    ];
    QuantityError::Unclear(Question::new(text, Ask::SurveyFoot, readings))
}

/// A ring size without its side.
pub(super) fn inside_or_outside(text: &str, mm: f64) -> QuantityError {
    let readings = ["inside", "outside"]
        .map(|side| Reading::new(format!("{side} diameter"), format!("{mm} mm {side}"), mm, "mm"))
        .into();
    QuantityError::Unclear(Question::new(text, Ask::InsideOrOutside, readings))
}

fn reading(number: &str, unit: Unit, mm: f64) -> Reading {
    Reading::plain(format!("{number} {}", unit.word()), mm, "mm")
}

fn digits(number: &Number) -> String {
    match number {
        Number::Plain(decimal) => decimal.digits.clone(),
        Number::Fraction { whole: 0, over, under } => format!("{over}/{under}"),
        Number::Fraction { whole, over, under } => format!("{whole} {over}/{under}"),
        Number::CommaOrThousands { comma, .. } => comma.digits.clone(),
    }
}
