//! An amount of money: whole minor units of one currency.

use std::fmt;

use thiserror::Error;

use super::Currency;

/// Whole minor units (cents, pence) of one currency; negative for money owed the other way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Money {
    minor: i64,
    currency: Currency,
}

/// Why two amounts cannot be put together.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum MoneyError {
    /// The amounts are in two currencies.
    #[error("{left} and {right} cannot be added; change one into the other first")]
    TwoCurrencies {
        /// Currency of the first amount.
        left: Currency,
        /// Currency of the second amount.
        right: Currency,
    },
    /// An amount has more digits than are kept.
    #[error("an amount of {minor} minor units is too large to keep to the last one")]
    AmountTooLarge {
        /// The amount in minor units.
        minor: f64,
    },
    /// The sum has too many digits.
    #[error("the sum of {left_minor} and {right_minor} minor units is too large to keep")]
    TooLarge {
        /// First amount in minor units.
        left_minor: i64,
        /// Second amount in minor units.
        right_minor: i64,
    },
}

impl Money {
    /// From a number of minor units: 1250 for 12.50 EUR.
    pub const fn new(minor: i64, currency: Currency) -> Money {
        Money { minor, currency }
    }

    /// The nearest amount to a worked-out number of minor units; a half goes away from nought.
    ///
    /// The one place where money is rounded. A half is the hand's rule, 0.125 to 0.13 and -0.125 to
    /// -0.13, so that a charge and its refund cancel.
    ///
    /// # Units
    /// Minor units, not whole in general.
    /// # Validity
    /// A number within nine thousand million million, where a double still tells neighbours apart.
    /// # Errors
    /// [`MoneyError::AmountTooLarge`] beyond that, and for what is not a number.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::{Currency, Money};
    /// let rounded = |minor| Money::rounded(minor, Currency::EUR).map(Money::minor);
    /// assert_eq!(rounded(1709.23), Ok(1709));
    /// assert_eq!((rounded(12.5), rounded(-12.5)), (Ok(13), Ok(-13)));
    /// assert!(rounded(f64::NAN).is_err());
    /// ```
    pub fn rounded(minor: f64, currency: Currency) -> Result<Money, MoneyError> {
        const NEIGHBOURS_APART: f64 = 9.0e15;
        if minor.is_nan() || minor.abs() > NEIGHBOURS_APART {
            return Err(MoneyError::AmountTooLarge { minor });
        }
        #[expect(clippy::cast_possible_truncation, reason = "whole and within i64")]
        let whole = minor.round() as i64;
        Ok(Money::new(whole, currency))
    }

    /// The number of minor units.
    pub const fn minor(self) -> i64 {
        self.minor
    }

    /// The currency.
    pub const fn currency(self) -> Currency {
        self.currency
    }

    /// The sum of two amounts in one currency.
    ///
    /// # Units
    /// Minor units of the common currency.
    /// # Validity
    /// Exact.
    /// # Errors
    /// [`MoneyError::TwoCurrencies`], [`MoneyError::TooLarge`].
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::{Currency, Money};
    /// let fee = Money::new(-3500, Currency::EUR);
    /// let sum = Money::new(4908, Currency::EUR).plus(fee).unwrap();
    /// assert_eq!(sum.to_string(), "14.08 EUR");
    /// assert!(sum.plus(Money::new(1, Currency::GBP)).is_err());
    /// ```
    pub fn plus(self, other: Money) -> Result<Money, MoneyError> {
        if self.currency != other.currency {
            return Err(MoneyError::TwoCurrencies { left: self.currency, right: other.currency });
        }
        match self.minor.checked_add(other.minor) {
            Some(minor) => Ok(Money::new(minor, self.currency)),
            None => Err(MoneyError::TooLarge { left_minor: self.minor, right_minor: other.minor }),
        }
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.minor < 0 { "-" } else { "" };
        let minor_per_major = u64::from(self.currency.minor_per_major());
        let major = self.minor.unsigned_abs() / minor_per_major;
        let rest = self.minor.unsigned_abs() % minor_per_major;
        match usize::from(self.currency.decimals()) {
            0 => write!(f, "{sign}{major} {}", self.currency),
            decimals => write!(f, "{sign}{major}.{rest:0decimals$} {}", self.currency),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Currency, Money, MoneyError};

    #[test]
    fn a_worked_out_amount_goes_to_the_nearest_and_a_half_goes_away_from_nought() {
        let rounded = |minor| Money::rounded(minor, Currency::EUR).map(Money::minor);
        for (minor, nearest) in [(1.4999, 1), (1.5, 2), (2.5, 3), (-1.5, -2), (-1.4, -1)] {
            assert_eq!(rounded(minor), Ok(nearest));
        }
        assert_eq!(rounded(1e16), Err(MoneyError::AmountTooLarge { minor: 1e16 }));
    }

    #[test]
    fn an_amount_prints_with_the_decimals_of_its_currency() {
        let printed = |minor, code| {
            Money::new(minor, Currency::from_code(code).expect("known code")).to_string()
        };
        assert_eq!(printed(1250, "EUR"), "12.50 EUR");
        assert_eq!(printed(-5, "GBP"), "-0.05 GBP");
        assert_eq!(printed(1250, "JPY"), "1250 JPY");
        assert_eq!(printed(1250, "KWD"), "1.250 KWD");
        assert_eq!(printed(i64::MIN, "JPY"), "-9223372036854775808 JPY");
    }
}
