//! How many good rings coils will give: what to wind for an order, and what may be promised.

mod beta_binomial;

mod ends;

mod spread;

mod law;

mod total;

mod bell;

mod need;

mod cheapest;

mod alike;

mod error;

pub use beta_binomial::BetaBinomial;
pub use cheapest::{Cheapest, CoilCost};
pub use error::PromiseError;
pub use law::CoilLaw;
pub use need::{CoilsNeeded, Promised, Yield};
pub use spread::Spread;
