//! The price of a metal: an amount of money per unit of mass, of the metal as weighed or of its fine part.

use std::fmt;

use super::Currency;
use crate::limits::{LimitError, PRICE};
use crate::quantity::{G_PER_KILOGRAM, G_PER_PENNYWEIGHT, G_PER_POUND, G_PER_TROY_OUNCE, Mass};

/// A price per mass, kept as it was given; it may have more decimals than the currency has coins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Price {
    major: f64,
    currency: Currency,
    per: PricePer,
    metal: PricedMetal,
}

/// The mass a price is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PricePer {
    /// One gram.
    Gram,
    /// One kilogram.
    Kilogram,
    /// One troy ounce.
    TroyOunce,
    /// One pennyweight.
    Pennyweight,
    /// One avoirdupois pound.
    AvoirdupoisPound,
}

/// Whether a price is for all the metal on the scale or for the precious part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PricedMetal {
    /// Everything on the scale, alloy and all.
    AsWeighed,
    /// The fine metal only: mass times fineness.
    Fine,
}

impl Price {
    /// `major` units of `currency` for each `per` of `metal`.
    ///
    /// # Units
    /// Major units: 0.80 for eighty cents.
    /// # Validity
    /// Within [`PRICE`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::{Currency, Price, PricePer, PricedMetal};
    /// let price = Price::new(0.80, Currency::EUR, PricePer::Gram, PricedMetal::Fine).unwrap();
    /// assert_eq!(price.to_string(), "0.8 EUR per g of fine");
    /// ```
    pub fn new(
        major: f64,
        currency: Currency,
        per: PricePer,
        metal: PricedMetal,
    ) -> Result<Price, LimitError> {
        PRICE.check(major)?;
        Ok(Price { major, currency, per, metal })
    }

    /// The number of major units, as given.
    pub const fn major(self) -> f64 {
        self.major
    }

    /// The currency.
    pub const fn currency(self) -> Currency {
        self.currency
    }

    /// The mass the price is for.
    pub const fn per(self) -> PricePer {
        self.per
    }

    /// Whether the price is for all the metal or its fine part.
    pub const fn metal(self) -> PricedMetal {
        self.metal
    }

    /// Minor units for one gram, not whole in general.
    ///
    /// # Units
    /// Minor units of the currency per gram.
    /// # Validity
    /// Any price.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::{Currency, Price, PricePer, PricedMetal};
    /// let price = Price::new(31.1034768, Currency::USD, PricePer::TroyOunce, PricedMetal::Fine);
    /// assert!((price.unwrap().minor_per_gram() - 100.0).abs() < 1e-12);
    /// ```
    pub fn minor_per_gram(self) -> f64 {
        let minor_per_major = f64::from(self.currency.minor_per_major());
        self.major * minor_per_major / self.per.mass().g()
    }
}

impl PricePer {
    /// Every one, most usual first.
    pub const ALL: [PricePer; 5] = [
        PricePer::Gram,
        PricePer::TroyOunce,
        PricePer::Pennyweight,
        PricePer::Kilogram,
        PricePer::AvoirdupoisPound,
    ];

    /// The mass itself.
    pub const fn mass(self) -> Mass {
        Mass::from_g(match self {
            PricePer::Gram => 1.0,
            PricePer::Kilogram => G_PER_KILOGRAM,
            PricePer::TroyOunce => G_PER_TROY_OUNCE,
            PricePer::Pennyweight => G_PER_PENNYWEIGHT,
            PricePer::AvoirdupoisPound => G_PER_POUND,
        })
    }

    /// The unit as printed and as typed.
    pub const fn symbol(self) -> &'static str {
        match self {
            PricePer::Gram => "g",
            PricePer::Kilogram => "kg",
            PricePer::TroyOunce => "ozt",
            PricePer::Pennyweight => "dwt",
            PricePer::AvoirdupoisPound => "lb avdp",
        }
    }
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {} per {}", self.major, self.currency, self.per.symbol())?;
        match self.metal {
            PricedMetal::AsWeighed => Ok(()),
            PricedMetal::Fine => f.write_str(" of fine"),
        }
    }
}
