//! The same coils all alike: one number to count instead of two.

use super::error::PromiseError;
use super::need::{Asked, CoilsNeeded, Yield, checked, wanted};

impl Yield {
    /// The coils found for an order with all turns shared out evenly, if that takes at most so many
    /// more turns; else as they were found.
    ///
    /// # Units
    /// Counts; a chance of one.
    /// # Validity
    /// As [`coils_for`](Yield::coils_for); `found` are coils of this yield that are enough.
    /// # Errors
    /// [`PromiseError`] if a count or the confidence is out of bounds.
    /// # Source
    /// Own choice.
    pub fn alike(
        &self,
        found: CoilsNeeded,
        rings: u32,
        confidence: f64,
        turns_more: u32,
    ) -> Result<CoilsNeeded, PromiseError> {
        checked(found.turns, rings)?;
        let wanted = wanted(confidence)?;
        let CoilsNeeded { coils, turns, last_turns, .. } = found;
        if last_turns == turns {
            return Ok(found);
        }
        let all = (coils - 1) * turns + last_turns;
        let shared_out = (all.div_ceil(coils)..=turns)
            .take_while(|turns| coils * turns <= all + turns_more)
            .map(|turns| Asked { of: self, rings, turns, wanted }.these(coils, turns))
            .find(|coils| coils.chance >= wanted);
        Ok(shared_out.unwrap_or(found))
    }
}
