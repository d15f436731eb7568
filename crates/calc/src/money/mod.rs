//! Money in minor units of its currency: metal prices, cost, settlement.

mod amount;
mod currency;
mod lot_advice;
mod metal_balance;
mod price;
mod settlement;
mod settlement_error;
mod settlement_gap;
mod typed;

pub use amount::{Money, MoneyError};
pub use currency::Currency;
pub use lot_advice::LotAdvice;
pub use metal_balance::{MetalBalance, MetalBooked};
pub use price::{Price, PricePer, PricedMetal};
pub use settlement::{Lot, LotFees, PaidMetal, Settlement};
pub use settlement_error::SettlementError;
pub use settlement_gap::{GapCause, GapLine, SettlementGap, settlement_gap};
pub use typed::{parse_money, parse_price};
