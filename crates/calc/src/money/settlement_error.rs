//! Why a refiner's settlement cannot be worked out.

use thiserror::Error;

use super::{Currency, MoneyError};
use crate::limits::LimitError;

/// Why a refiner's settlement cannot be worked out or compared.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SettlementError {
    /// A value is outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// Amounts that cannot be added.
    #[error(transparent)]
    Money(#[from] MoneyError),
    /// A lot without any metal that is paid for.
    #[error("the lot names no metal that is paid for; give at least one with its assay and price")]
    NoMetal,
    /// The assays of a lot add up to more than the whole.
    #[error("the assays of the lot add up to {share}; they cannot be more than 1")]
    AssaysAboveWhole {
        /// Sum of the assays, a share of one.
        share: f64,
    },
    /// A price for the alloy where one for the fine metal is wanted, or the other way round.
    #[error(
        "metal and refining are priced per mass of fine metal, treatment per mass as weighed; \
         one of these prices is for the other"
    )]
    PricedOtherwise,
    /// Prices and fees in two currencies.
    #[error("prices and fees are in {one} and {other}; change one into the other first")]
    TwoCurrencies {
        /// One of them.
        one: Currency,
        /// The other.
        other: Currency,
    },
    /// Expected and settled lots list different numbers of metals.
    #[error("{expected} metals were expected and {settled} settled; list the same on both sides")]
    MetalsDiffer {
        /// Metals expected.
        expected: usize,
        /// Metals settled.
        settled: usize,
    },
}
