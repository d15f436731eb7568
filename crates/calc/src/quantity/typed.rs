//! A value together with the text it was typed as.

use std::fmt;

use super::Length;
use crate::gauge::american_steel_diameter;

/// A value, the text it was typed as, and what was understood where another reading exists.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed<T> {
    text: String,
    value: T,
    remark: Option<Remark>,
}

/// What a unit or a gauge was taken for, where the same word also means something else.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Remark {
    /// "SWG" was taken for the British standard wire gauge.
    SwgIsBritish {
        /// The number; 4/0 is -3.
        number: i8,
    },
    /// "mil" was taken for a thousandth of an inch.
    MilIsThou,
    /// "gr" was taken for grain.
    GrIsGrain,
    /// A karat was reckoned as a twenty-fourth, where the mark says a rounder number.
    KaratByArithmetic {
        /// Parts of 24.
        karat: f64,
        /// The stamped mark in parts per thousand.
        mark_permille: f64,
    },
    /// The pound sign was taken for pounds sterling.
    PoundSignIsSterling,
}

impl<T> Typed<T> {
    pub(crate) fn new(text: &str, value: T, remark: Option<Remark>) -> Typed<T> {
        Typed { text: text.to_owned(), value, remark }
    }

    /// The text as typed, without the blanks around it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What was understood where the same word has another meaning.
    pub const fn remark(&self) -> Option<Remark> {
        self.remark
    }
}

impl<T: Copy> Typed<T> {
    /// The value.
    pub const fn value(&self) -> T {
        self.value
    }
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Remark::SwgIsBritish { number } => {
                f.write_str("SWG is read as the British standard wire gauge")?;
                match american_steel_diameter(*number).map(Length::mm) {
                    Some(steel_mm) => write!(
                        f,
                        "; the American steel wire gauge of that number is {steel_mm:.3} mm"
                    ),
                    None => Ok(()),
                }
            }
            Remark::MilIsThou => f.write_str("a mil is read as a thou, 0.0254 mm"),
            Remark::GrIsGrain => f.write_str("gr is read as grain, 0.0648 g; a gram is g"),
            Remark::KaratByArithmetic { karat, mark_permille } => {
                write!(f, "{karat} karat is reckoned as {karat}/24; the mark says {mark_permille}")
            }
            Remark::PoundSignIsSterling => f.write_str("\u{a3} is read as GBP"),
        }
    }
}
