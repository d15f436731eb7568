//! The coil length that costs least for an order.

use super::error::PromiseError;
use super::need::{Asked, CoilsNeeded, Yield, checked, wanted};

/// Lengths of coils are compared by so many plays.
const COMPARED_PLAYS: usize = 50;

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
    /// coils. They are compared by bell curves of fifty plays; the coils of the length that
    /// is found are those of [`coils_for`](Yield::coils_for). Of lengths that cost the same the
    /// longer is taken.
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
        checked(turns_most, rings)?;
        let (wanted, sample) = (wanted(confidence)?, self.thinned(COMPARED_PLAYS));
        let compared = |turns: u32| {
            let needed = Asked { of: &sample, rings, turns, wanted }.by_bells_alone()?;
            Some((turns, cost.of(&needed)))
        };
        let mut best = compared(turns_most).unwrap_or((turns_most, f64::INFINITY));
        let mut consider = |lengths: &mut dyn Iterator<Item = u32>| {
            for found in lengths.filter_map(compared) {
                if found.1 < best.1 {
                    best = found;
                }
            }
            best.0
        };
        let step = (turns_most / 12).max(1);
        let least = sample.turns_least();
        let mut coarse =
            std::iter::successors(turns_most.checked_sub(step), |turns| turns.checked_sub(step))
                .take_while(|turns| *turns >= least);
        let about = consider(&mut coarse);
        let nearby = about.saturating_sub(step - 1).max(least)..(about + step).min(turns_most);
        let turns = consider(&mut nearby.rev());
        let coils = self.coils_for(rings, turns, confidence)?;
        Ok(Cheapest { cost: cost.of(&coils), coils })
    }
}

impl CoilCost {
    /// What so many coils cost, less the scrap of what is not a good ring.
    fn of(&self, coils: &CoilsNeeded) -> f64 {
        let turns = f64::from((coils.coils - 1) * coils.turns + coils.last_turns);
        let lost = (turns - coils.rings_expected).max(0.0);
        f64::from(coils.coils) * self.per_coil + turns * self.per_turn - lost * self.scrap_per_turn
    }
}
