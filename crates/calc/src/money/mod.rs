//! Money in minor units of its currency: metal prices, cost, settlement.

mod amount;
mod currency;
mod price;

pub use amount::{Money, MoneyError};
pub use currency::Currency;
pub use price::{Price, PricePer, PricedMetal};
