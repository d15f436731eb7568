//! Money in minor units of its currency: metal prices, cost, settlement.
