//! What a coil costs, what its rings bring, and the share of good rings at which it pays.

use crate::promise::CoilCost;

/// What a coil costs and what its rings bring.
///
/// # Units
/// Any one currency unit, the same in all amounts; turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilMoney {
    /// What a good ring is worth.
    pub ring_value: f64,
    /// What the coil costs, and what a lost turn brings back as scrap.
    pub cost: CoilCost,
    /// Turns of a coil.
    pub turns: u32,
}

impl CoilMoney {
    /// Good rings of a coil that loses some turns at its ends and keeps a share of the rest.
    pub fn good_rings(&self, good_share: f64, lost_turns: f64) -> f64 {
        (f64::from(self.turns) - lost_turns).max(0.0) * good_share
    }

    /// What a coil with so many good rings brings, all costs taken off.
    ///
    /// `net = v G - c_coil - c_turn n + r (n - G)`
    ///
    /// # Units
    /// Rings; the currency unit of the amounts.
    /// # Validity
    /// Any numbers; a good ring is worth more than its scrap, or more good rings are worth less.
    /// # Source
    /// The reference on the statistics of the cutting trials, section 7.
    ///
    /// ```
    /// use linkwright_trials::{CoilCost, CoilMoney};
    /// let cost = CoilCost { per_coil: 1.0, per_turn: 0.1, scrap_per_turn: 0.05 };
    /// let money = CoilMoney { ring_value: 0.3, cost, turns: 30 };
    /// assert!((money.net(27.0) - (8.1 - 1.0 - 3.0 + 0.15)).abs() < 1e-12);
    /// ```
    pub fn net(&self, good_rings: f64) -> f64 {
        self.ring_value * good_rings - self.spent(good_rings)
    }

    /// What a coil costs, the scrap of what is not a good ring taken off.
    pub fn spent(&self, good_rings: f64) -> f64 {
        let CoilCost { per_coil, per_turn, scrap_per_turn } = self.cost;
        let turns = f64::from(self.turns);
        per_coil + per_turn * turns - scrap_per_turn * (turns - good_rings)
    }

    /// Good rings per turn at which a coil of this length pays for itself.
    ///
    /// `(c_turn + c_coil / n - r) / (v - r)`
    ///
    /// # Units
    /// Good rings per turn; above 1 no coil of this length can pay.
    /// # Validity
    /// A good ring is worth more than its scrap; else no share pays and the answer is infinite.
    /// # Source
    /// `net = 0` solved for `G / n`.
    pub fn break_even(&self) -> f64 {
        let CoilCost { per_coil, per_turn, scrap_per_turn } = self.cost;
        let gained = self.ring_value - scrap_per_turn;
        if gained <= 0.0 {
            return f64::INFINITY;
        }
        (per_turn + per_coil / f64::from(self.turns.max(1)) - scrap_per_turn) / gained
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn money() -> CoilMoney {
        let cost = CoilCost { per_coil: 1.5, per_turn: 0.1, scrap_per_turn: 0.06 };
        CoilMoney { ring_value: 0.3, cost, turns: 30 }
    }

    #[test]
    fn a_coil_at_break_even_brings_nothing() {
        let money = money();
        let rings = money.break_even() * f64::from(money.turns);
        assert!(money.net(rings).abs() < 1e-12);
        assert!(money.net(rings + 1.0) > 0.0);
    }

    #[test]
    fn rings_worth_no_more_than_scrap_never_pay() {
        let money = CoilMoney { ring_value: 0.06, ..money() };
        assert!(money.break_even().is_infinite());
    }

    #[test]
    fn ends_longer_than_the_coil_leave_nothing() {
        assert!(money().good_rings(0.9, 31.0).abs() < 1e-15);
    }
}
