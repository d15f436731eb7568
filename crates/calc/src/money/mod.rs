//! Money in minor units of its currency: metal prices, cost, settlement.

mod amount;
mod currency;
mod price;
mod typed;

pub use amount::{Money, MoneyError};
pub use currency::Currency;
pub use price::{Price, PricePer, PricedMetal};
pub use typed::{parse_money, parse_price};
