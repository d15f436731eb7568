//! Why typed text is not taken.

use std::fmt;

use thiserror::Error;

use super::Question;
use super::question::Quoted;
use crate::gauge::NoSuchGauge;
use crate::limits::LimitError;
use crate::money::Currency;

/// Why typed text is not taken as the quantity that was wanted.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// Nothing but blanks.
    #[error("nothing is typed; {}", wanted.examples())]
    Empty {
        /// What was wanted.
        wanted: Wanted,
    },
    /// Longer than any quantity.
    #[error("{chars} characters are more than any quantity needs; at most {chars_max} are read")]
    TooLong {
        /// How many were typed.
        chars: usize,
        /// How many are read.
        chars_max: usize,
    },
    /// It could mean two things.
    #[error("{0}")]
    Unclear(Question),
    /// There is no number in it, or one that is not written as numbers are.
    #[error("{} is not {wanted}; {}", Quoted(text), wanted.examples())]
    NotUnderstood {
        /// The text as typed.
        text: String,
        /// What was wanted.
        wanted: Wanted,
    },
    /// The words beside the number are no unit of this quantity.
    #[error("in {}, {} is no unit of {wanted}; {}", Quoted(text), Quoted(unit), wanted.examples())]
    UnknownUnit {
        /// The text as typed.
        text: String,
        /// The words that are no unit.
        unit: String,
        /// What was wanted.
        wanted: Wanted,
    },
    /// A fraction over nothing.
    #[error("{} divides by nothing", Quoted(text))]
    DividedByNothing {
        /// The text as typed.
        text: String,
    },
    /// A gauge that is no whole number.
    #[error(
        "{} is no gauge; a gauge is a whole number such as 18, or noughts such as 2/0",
        Quoted(text)
    )]
    GaugeNotWhole {
        /// The text as typed.
        text: String,
    },
    /// The gauge does not exist.
    #[error("{0}")]
    NoSuchGauge(#[from] NoSuchGauge),
    /// A count that is no whole number.
    #[error("{} is {value}, and a count is whole", Quoted(text))]
    NotWhole {
        /// The text as typed.
        text: String,
        /// What it comes to.
        value: f64,
    },
    /// Three letters that are no currency.
    #[error(
        "{}: {} is no currency; use the three letters, such as EUR, GBP or USD",
        Quoted(text),
        Quoted(code)
    )]
    UnknownCurrency {
        /// The text as typed.
        text: String,
        /// What stood for the currency.
        code: String,
    },
    /// More decimals than the currency has coins.
    #[error("{} has more decimals ({decimals}) than {currency} ({decimals_max})", Quoted(text))]
    TooManyDecimals {
        /// The text as typed.
        text: String,
        /// The currency.
        currency: Currency,
        /// How many were typed.
        decimals: usize,
        /// How many there are.
        decimals_max: usize,
    },
    /// Understood, but too small or too large.
    #[error("{0}")]
    Limit(#[from] LimitError),
}

/// The kind of quantity that was wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Wanted {
    /// A length or a gauge.
    Length,
    /// A diameter of a ring with its side.
    RingSize,
    /// A mass.
    Mass,
    /// A whole number of things.
    Count,
    /// A share of one.
    Share,
    /// Parts of precious metal.
    Fineness,
    /// An amount of money.
    Money,
    /// Money per mass.
    Price,
}

impl QuantityError {
    /// What to ask, where the text could mean two things.
    pub const fn question(&self) -> Option<&Question> {
        match self {
            QuantityError::Unclear(question) => Some(question),
            _ => None,
        }
    }
}

impl Wanted {
    const fn examples(self) -> &'static str {
        match self {
            Wanted::Length => "type it like 1.02 mm, 18 awg, 16 swg, .040 in, 3/16\" or 40 thou",
            Wanted::RingSize => "type it like 6 mm inside, 1/4\" id or 8 mm od closed",
            Wanted::Mass => "type it like 12.5 g, 3 dwt, 1 ozt, 2 oz avdp or 1 lb avdp",
            Wanted::Count => "type it like 120 or 10 dozen",
            Wanted::Share => "type it like 95 % or 0.95",
            Wanted::Fineness => "type it like 925, 92.5 %, 585/1000 or 18 karat",
            Wanted::Money => "type it like 12.50 EUR or GBP 12.50",
            Wanted::Price => "type it like 0.80 EUR per g of fine or 28.50 USD per ozt",
        }
    }
}

impl fmt::Display for Wanted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Wanted::Length => "a length",
            Wanted::RingSize => "a ring size",
            Wanted::Mass => "a mass",
            Wanted::Count => "a count",
            Wanted::Share => "a share",
            Wanted::Fineness => "a fineness",
            Wanted::Money => "an amount of money",
            Wanted::Price => "a price",
        })
    }
}
