//! The coil length that costs least for an order.

use super::error::PromiseError;
use super::need::{CoilsNeeded, Yield};

/// What a coil costs beside its rings.
///
/// # Units
/// Any one currency unit, the same in all three.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilCost {
    /// To set up, wind and slit one coil, whatever its length.
    pub per_coil: f64,
    /// Metal and work of one turn.
    pub per_turn: f64,
    /// What the scrap of one lost turn brings back.
    pub scrap_per_turn: f64,
}

/// The cheapest way to an order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cheapest {
    /// The coils.
    pub coils: CoilsNeeded,
    /// What they cost, less the scrap of what is not a good ring.
    pub cost: f64,
}

impl Yield {
    /// The coil length, up to the longest the holder takes, that costs least for an order.
    ///
    /// `cost = K c_coil + turns (c_turn) - scrap (turns - good rings)`, the last coil as short as
    /// it may be.
    ///
    /// # Units
    /// That of [`CoilCost`].
    /// # Validity
    /// Lengths are tried from the longest down in steps of a twelfth of it, then turn by turn
    /// about the best: the cost falls with length but for whole coils, and end losses favour long
    /// coils.
    /// # Errors
    /// [`PromiseError`] if a count or the confidence is out of bounds, or no length is enough.
    /// # Source
    /// Own search; the cost as in the reference on the statistics of the cutting trials, section 9.
    pub fn cheapest(
        &self,
        rings: u32,
        turns_most: u32,
        confidence: f64,
        cost: CoilCost,
    ) -> Result<Cheapest, PromiseError> {
        let priced = |turns: u32| {
            self.coils_for(rings, turns, confidence).map(|coils| {
                let turns = f64::from((coils.coils - 1) * coils.turns + coils.last_turns);
                let lost = (turns - coils.rings_expected).max(0.0);
                let price = f64::from(coils.coils) * cost.per_coil + turns * cost.per_turn
                    - lost * cost.scrap_per_turn;
                Cheapest { coils, cost: price }
            })
        };
        let step = (turns_most / 12).max(1);
        let mut best = priced(turns_most)?;
        let mut consider = |lengths: &mut dyn Iterator<Item = u32>| {
            for found in lengths.filter_map(|turns| priced(turns).ok()) {
                if found.cost < best.cost {
                    best = found;
                }
            }
            best.coils.turns
        };
        let mut coarse =
            std::iter::successors(turns_most.checked_sub(step), |turns| turns.checked_sub(step))
                .take_while(|turns| *turns > 0);
        let about = consider(&mut coarse);
        consider(&mut (about.saturating_sub(step - 1).max(1)..(about + step).min(turns_most)));
        Ok(best)
    }
}
