//! Units of length: their spellings and their exact ratios to the millimetre.

use super::Remark;
use super::number::Decimal;

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Micrometre,
    Millimetre,
    Centimetre,
    Metre,
    Thou,
    Mil,
    Inch,
    Foot,
    Yard,
}

impl Unit {
    /// The unit of a word as typed.
    pub(super) fn of(word: &str) -> Option<Unit> {
        Some(match word {
            "um" | "micron" | "microns" | "micrometre" | "micrometres" => Unit::Micrometre,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Unit::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
            "thou" | "thous" => Unit::Thou,
            "mil" | "mils" => Unit::Mil,
            "\"" | "in" | "inch" | "inches" => Unit::Inch,
            "'" | "ft" | "foot" | "feet" => Unit::Foot,
            "yd" | "yds" | "yard" | "yards" => Unit::Yard,
            _ => return None,
        })
    }

    /// The word to type for it.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Unit::Micrometre => "um",
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
            Unit::Metre => "m",
            Unit::Thou => "thou",
            Unit::Mil => "mil",
            Unit::Inch => "in",
            Unit::Foot => "ft",
            Unit::Yard => "yd",
        }
    }

    /// Millimetres of one unit, as a ratio of whole numbers.
    ///
    /// Source: NIST SP 811 (2008), appendix B.8, inch, mil, foot and yard: exact.
    pub(super) const fn ratio(self) -> (u32, u32) {
        match self {
            Unit::Micrometre => (1, 1000),
            Unit::Millimetre => (1, 1),
            Unit::Centimetre => (10, 1),
            Unit::Metre => (1000, 1),
            Unit::Thou | Unit::Mil => (127, 5000),
            Unit::Inch => (127, 5),
            Unit::Foot => (1524, 5),
            Unit::Yard => (4572, 5),
        }
    }

    /// Millimetres of a number of these units, to the last bit.
    pub(super) fn mm(self, number: &Decimal) -> f64 {
        let (over, under) = self.ratio();
        if over == under { number.value } else { number.times(over, under) }
    }

    /// What else the word could have meant.
    pub(super) fn remark(self) -> Option<Remark> {
        (self == Unit::Mil).then_some(Remark::MilIsThou)
    }
}
