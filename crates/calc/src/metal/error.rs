//! What can be wrong with a metal or a temper that somebody asks for.

use thiserror::Error;

use super::{Name, Names};
use crate::limits::LimitError;

/// A metal, temper or property that cannot be given.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum MetalError {
    /// No metal of the catalogue has this name.
    #[error("metal is `{asked}`, which is not in the catalogue; nearest names: {nearest}")]
    UnknownMetal {
        /// What was asked for.
        asked: Name,
        /// Names that are close to it, nearest first.
        nearest: Names,
    },
    /// The metal has no such temper on record.
    #[error("temper is `{asked}`, which is not on record for {metal}; known tempers: {known}")]
    UnknownTemper {
        /// Key of the metal.
        metal: Name,
        /// What was asked for.
        asked: Name,
        /// The source's names of the tempers on record.
        known: Names,
    },
    /// The temper is on record for several wire sizes.
    #[error(
        "temper is `{asked}`, which {metal} has by wire size; name one of: {candidates}, or give the wire"
    )]
    TemperNeedsSize {
        /// Key of the metal.
        metal: Name,
        /// What was asked for.
        asked: Name,
        /// The source's names of the records.
        candidates: Names,
    },
    /// Nothing is known about the strength of this metal.
    #[error(
        "no {property} is on record for {metal}; measure a ring wound from it, or add the value to your own metals file"
    )]
    NoValue {
        /// Key of the metal.
        metal: Name,
        /// Field that is missing, unit last.
        property: &'static str,
    },
    /// An added metal leaves out something it cannot do without.
    #[error(
        "{metal} has no {field}; a metal of your own needs it, or `like` and the key of a metal to start from"
    )]
    OverlayIncomplete {
        /// Key of the added metal.
        metal: Name,
        /// Field that is missing, unit last.
        field: &'static str,
    },
    /// Two metals of the overlay have the same key.
    #[error("{metal} is described twice; keep one of the two")]
    OverlayTwice {
        /// The key.
        metal: Name,
    },
    /// A name that says nothing.
    #[error("key is blank; a metal needs a key of letters, digits and underscores")]
    BlankKey,
    /// A low, typical and high value out of order.
    #[error(
        "{field} of {metal} is low {low}, typical {typical}, high {high}; low must not be above typical, nor typical above high"
    )]
    BandOutOfOrder {
        /// Key of the metal.
        metal: Name,
        /// Field, unit last.
        field: &'static str,
        /// Low end given, in the unit of the field.
        low: f64,
        /// Typical value given, in the unit of the field.
        typical: f64,
        /// High end given, in the unit of the field.
        high: f64,
    },
    /// A value outside its limits.
    #[error("{metal}: {error}")]
    OutsideLimits {
        /// Key of the metal.
        metal: Name,
        /// Which value, and what it may be.
        error: LimitError,
    },
}
