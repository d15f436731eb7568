//! What to ask when typed text could mean two things, and what each answer would be.

use std::fmt;

use super::QuantityError;
use crate::limits::Limit;

/// Typed text with more than one meaning: what to ask, and the readings to choose from.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The text as typed.
    pub text: String,
    /// What has to be said.
    pub ask: Ask,
    /// What it could be, the likeliest first.
    pub readings: Vec<Reading>,
}

/// What has to be said before typed text means one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Ask {
    /// AWG or British?
    GaugeSystem,
    /// A gauge, millimetres or inches?
    LengthUnit,
    /// Grams, pennyweights or ounces?
    MassUnit,
    /// Troy or avoirdupois?
    OunceOrPound,
    /// Karat of gold or carat of a stone?
    Carat,
    /// A decimal comma or thousands?
    CommaOrThousands,
    /// Inside or outside diameter?
    InsideOrOutside,
    /// The foot of the survey or the common one?
    SurveyFoot,
    /// A share of one or percent?
    ShareOrPercent,
    /// Karat, or parts per thousand?
    KaratOrPermille,
    /// Which currency?
    Currency,
    /// Per which mass is the price?
    PricePerMass,
}

/// One thing the text could mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What it would be, in words, such as "18 SWG (British)".
    pub label: String,
    /// What to type to say so.
    pub type_instead: String,
    /// Its value in `unit`.
    pub value: f64,
    /// Unit of the value: "mm", "g", "of one", "permille", a currency
    /// code, or "per g" for a price in its currency.
    pub unit: &'static str,
}

impl Question {
    pub(crate) fn new(text: &str, ask: Ask, readings: Vec<Reading>) -> Question {
        Question { text: text.to_owned(), ask, readings }
    }

    /// The question with only the readings that a limit allows; the limit's error if none is left.
    pub(crate) fn within(mut self, limit: Limit) -> QuantityError {
        let refused = self.readings.first().and_then(|first| limit.check(first.value).err());
        self.readings
            .retain(|reading| reading.unit != limit.unit || limit.check(reading.value).is_ok());
        match refused {
            Some(error) if self.readings.is_empty() => QuantityError::Limit(error),
            _ => QuantityError::Unclear(self),
        }
    }
}

impl Reading {
    pub(crate) fn new(
        label: impl Into<String>,
        type_instead: impl Into<String>,
        value: f64,
        unit: &'static str,
    ) -> Reading {
        Reading { label: label.into(), type_instead: type_instead.into(), value, unit }
    }

    /// A reading whose words are what to type.
    pub(crate) fn plain(typed: impl Into<String>, value: f64, unit: &'static str) -> Reading {
        let typed = typed.into();
        Reading::new(typed.clone(), typed, value, unit)
    }

    /// The value in millimetres, if it is a length.
    ///
    /// # Units
    /// Millimetres.
    /// # Validity
    /// Readings whose unit is "mm".
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::quantity::parse_length;
    /// let error = parse_length("#18").unwrap_err();
    /// assert_eq!(error.question().unwrap().readings[1].mm(), Some(1.2192)); // 18 British
    /// ```
    pub fn mm(&self) -> Option<f64> {
        (self.unit == "mm").then_some(self.value)
    }

    /// The value in grams, if it is a mass.
    ///
    /// # Units
    /// Grams.
    /// # Validity
    /// Readings whose unit is "g".
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::quantity::parse_mass;
    /// let error = parse_mass("1 oz").unwrap_err();
    /// assert_eq!(error.question().unwrap().readings[0].g(), Some(31.1034768)); // troy
    /// ```
    pub fn g(&self) -> Option<f64> {
        (self.unit == "g").then_some(self.value)
    }
}

impl fmt::Display for Ask {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Ask::GaugeSystem => "which gauge",
            Ask::LengthUnit => "a gauge or which unit of length",
            Ask::MassUnit => "which unit of mass",
            Ask::OunceOrPound => "troy or avoirdupois",
            Ask::Carat => "karat of gold or carat of a stone",
            Ask::CommaOrThousands => "whether the sign splits off decimals or thousands",
            Ask::InsideOrOutside => "inside or outside diameter",
            Ask::SurveyFoot => "which foot (the US survey foot is not used here)",
            Ask::ShareOrPercent => "percent or a share of one",
            Ask::KaratOrPermille => "karat or parts per thousand",
            Ask::Currency => "which currency",
            Ask::PricePerMass => "per which mass",
        })
    }
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.type_instead)?;
        let value = FourDigits(self.value);
        if self.label != self.type_instead {
            write!(f, " ({}, {value} {})", self.label, self.unit)
        } else if format!("{value} {}", self.unit) == self.type_instead {
            Ok(())
        } else {
            write!(f, " ({value} {})", self.unit)
        }
    }
}

impl fmt::Display for Question {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} does not say {}", Quoted(&self.text), self.ask)?;
        for (place, reading) in self.readings.iter().enumerate() {
            let join = match place {
                0 => "; type ",
                _ if place + 1 == self.readings.len() => " or ",
                _ => ", ",
            };
            write!(f, "{join}{reading}")?;
        }
        Ok(())
    }
}

/// Typed text in quotation marks, signs that do not print made visible.
pub(super) struct Quoted<'a>(pub(super) &'a str);

impl fmt::Display for Quoted<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("\u{201c}")?;
        for letter in self.0.chars() {
            if letter.is_control() {
                write!(f, "{}", letter.escape_default())?;
            } else {
                write!(f, "{letter}")?;
            }
        }
        f.write_str("\u{201d}")
    }
}

/// A value to four figures, for reading.
struct FourDigits(f64);

impl fmt::Display for FourDigits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.0.abs();
        let decimals = (0..=6).find(|n| size * 10.0_f64.powi(*n) >= 1000.0).unwrap_or(6);
        let text = format!("{:.*}", usize::try_from(decimals).unwrap_or(0), self.0);
        if text.contains('.') {
            f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
        } else {
            f.write_str(&text)
        }
    }
}
