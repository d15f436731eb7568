//! Several readings of one length, typed in a row.

use super::{Length, QuantityError, Wanted, parse_length};

/// Lengths read one after another, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Readings {
    text: String,
    lengths: Vec<Length>,
    resolution: Length,
}

/// Reads several lengths with one unit after the last, and the step they were read to.
///
/// # Units
/// `4.12 4.15 4.14 mm`; the unit as in [`parse_length`], in one word.
/// # Validity
/// At least one reading. The step is one in the last decimal of the reading with most decimals.
/// # Errors
/// [`QuantityError`] of the first reading that is none, or if nothing is typed.
/// # Source
/// Layout of our own.
///
/// ```
/// use linkwright_calc::quantity::parse_readings;
/// let readings = parse_readings("4.12 4.15 4.14 4.16 4.13 mm").unwrap();
/// assert_eq!(readings.lengths().len(), 5);
/// assert!((readings.mean().mm() - 4.14).abs() < 1e-12);
/// assert_eq!(readings.resolution().mm(), 0.01);
/// assert!(parse_readings("4.12 4.15").is_err());
/// ```
pub fn parse_readings(text: &str) -> Result<Readings, QuantityError> {
    let text = text.trim();
    let (numbers, unit) = match text.rfind(char::is_whitespace) {
        Some(at) => text.split_at(at),
        None => (text.trim_end_matches(char::is_alphabetic), text.trim_start_matches(not_letter)),
    };
    let unit = unit.trim();
    // Without a unit the last number stands where the unit should, and is asked about.
    let (numbers, unit) = if unit.contains(|letter: char| letter.is_ascii_digit()) {
        (text, "")
    } else {
        (numbers, unit)
    };
    let lengths = numbers
        .split_whitespace()
        .map(|number| parse_length(&format!("{number} {unit}")).map(|length| length.value()))
        .collect::<Result<Vec<_>, _>>()?;
    if lengths.is_empty() {
        return Err(if text.is_empty() {
            QuantityError::Empty { wanted: Wanted::Length }
        } else {
            QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Length }
        });
    }
    let decimals = numbers
        .split_whitespace()
        .map(|number| number.split_once(['.', ',']).map_or(0, |(_, after)| after.len()))
        .max()
        .unwrap_or(0);
    // One in the last of those decimals.
    let step = if decimals == 0 { "1".to_owned() } else { format!("0.{:0>decimals$}", 1) };
    let resolution = parse_length(&format!("{step} {unit}"))?.value();
    Ok(Readings { text: text.to_owned(), lengths, resolution })
}

fn not_letter(letter: char) -> bool {
    !letter.is_alphabetic()
}

impl Readings {
    /// The text as typed, without the blanks around it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The lengths in the order they were typed.
    pub fn lengths(&self) -> &[Length] {
        &self.lengths
    }

    /// The smallest step read.
    pub const fn resolution(&self) -> Length {
        self.resolution
    }

    /// Mean of the readings.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// At least one reading, which the reader sees to.
    /// # Source
    /// Arithmetic mean.
    ///
    /// ```
    /// use linkwright_calc::quantity::parse_readings;
    /// assert_eq!(parse_readings("4 5 mm").unwrap().mean().mm(), 4.5);
    /// ```
    pub fn mean(&self) -> Length {
        #[expect(clippy::cast_precision_loss, reason = "a count of readings at a bench")]
        let count = self.lengths.len() as f64;
        Length::from_mm(self.lengths.iter().map(|length| length.mm()).sum::<f64>() / count)
    }
}

#[cfg(test)]
mod tests {
    use super::parse_readings;

    #[test]
    fn one_reading_may_touch_its_unit() {
        let readings = parse_readings(" 6.24mm ").expect("read");
        assert_eq!((readings.lengths().len(), readings.text()), (1, "6.24mm"));
        assert!((readings.mean().mm() - 6.24).abs() < 1e-12);
    }

    #[test]
    fn readings_without_a_unit_are_asked_about() {
        for typed in ["4.12", "4.12 4.15", "6"] {
            let error = parse_readings(typed).expect_err("no unit");
            assert!(error.question().is_some(), "{typed}: {error}");
        }
        assert!(parse_readings("").is_err() && parse_readings("mm").is_err());
    }

    #[test]
    fn inches_are_read_as_such() {
        let readings = parse_readings("0.163 0.164 in").expect("read");
        assert!((readings.mean().mm() - 0.1635 * 25.4).abs() < 1e-12);
        assert!((readings.resolution().mm() - 0.0254).abs() < 1e-12);
    }
}
