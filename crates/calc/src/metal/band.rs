//! A value with its low and high end, its source, and how the source was checked.

use std::borrow::Cow;
use std::fmt;

use crate::basis::Basis;

/// Low, typical and high value of one property, in this order of size, with the source.
#[derive(Clone, Debug, PartialEq)]
pub struct Band<T> {
    low: T,
    typical: T,
    high: T,
    source: Cow<'static, str>,
    verified: Verified,
}

/// How a value was checked against its source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Verified {
    /// Measured at this bench.
    Measured,
    /// Given by the owner of the workshop, from a label or a supplier.
    StatedByOwner,
    /// Taken from a program library of named version.
    Library,
    /// The page was read.
    TextSeen,
    /// The page was read for a part of the band; the rest is from memory or derived.
    TextSeenInPart,
    /// Derived from other rows of the table by a formula.
    Computed,
    /// Estimated by a rule from other rows of the table.
    Estimated,
    /// From memory, no text seen.
    FromMemory,
    /// A habit of the trade, no source.
    CommonPractice,
}

impl<T: Copy + PartialOrd> Band<T> {
    /// A band, if its three values are in order; `None` if they are not, or one is not a number.
    ///
    /// # Units
    /// Those of `T`, the same for all three.
    /// # Validity
    /// `low <= typical <= high`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// assert!(Band::new([0.3, 0.38, 0.45], "a book", Verified::TextSeen).is_some());
    /// assert!(Band::new([0.38, 0.3, 0.45], "a book", Verified::TextSeen).is_none());
    /// ```
    pub fn new(
        [low, typical, high]: [T; 3],
        source: impl Into<Cow<'static, str>>,
        verified: Verified,
    ) -> Option<Band<T>> {
        (low <= typical && typical <= high).then(|| Band {
            low,
            typical,
            high,
            source: source.into(),
            verified,
        })
    }

    /// The low end.
    pub const fn low(&self) -> T {
        self.low
    }

    /// The value to use when nothing better is known.
    pub const fn typical(&self) -> T {
        self.typical
    }

    /// The high end.
    pub const fn high(&self) -> T {
        self.high
    }

    /// Where the values come from.
    pub fn source(&self) -> &str {
        &self.source
    }

    /// How they were checked.
    pub const fn verified(&self) -> Verified {
        self.verified
    }

    /// The basis of an answer that uses this band.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Always "assumed": what was measured here carries its own basis.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// let band = Band::new([1.0, 2.0, 3.0], "a book", Verified::TextSeen).unwrap();
    /// assert_eq!(band.basis().to_string(), "assumed: a book (text seen)");
    /// ```
    pub fn basis(&self) -> Basis {
        Basis::assumed(format!("{} ({})", self.source, self.verified))
    }
}

impl fmt::Display for Verified {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Verified::Measured => "measured here",
            Verified::StatedByOwner => "as stated by the owner",
            Verified::Library => "from a program library",
            Verified::TextSeen => "text seen",
            Verified::TextSeenInPart => "text seen in part",
            Verified::Computed => "computed",
            Verified::Estimated => "estimated",
            Verified::FromMemory => "from memory",
            Verified::CommonPractice => "common practice, no source",
        })
    }
}
