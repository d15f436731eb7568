//! Which blade pays best in one place of the chart, or whether to leave it uncut.

mod money;

mod decision;

pub use decision::{BladeWorth, Decision, decide};
pub use money::CoilMoney;

#[cfg(test)]
pub(crate) use money::tests;
