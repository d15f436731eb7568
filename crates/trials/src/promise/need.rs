//! Coils for an order, and rings that may be promised of coils.

use super::error::PromiseError;
use super::law::CoilLaw;
use super::total::Total;
use crate::play::CellPlay;

/// A chance that falls short of the wanted one by less than this is enough: it is rounding.
const ROUNDING: f64 = 1e-12;
/// More coils than anybody cuts for one order.
const COILS_MOST: u32 = 1000;
/// More turns than any holder takes.
const TURNS_MOST: u32 = 1000;
/// More rings than one question is for.
const RINGS_MOST: u32 = 100_000;

/// What the coils of one cell give, as it is believed.
#[derive(Clone, Debug)]
pub struct Yield {
    laws: Vec<CoilLaw>,
}

/// Coils that give enough good rings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilsNeeded {
    /// How many, the last one included.
    pub coils: u32,
    /// Turns of all but the last.
    pub turns: u32,
    /// Turns of the last, which may be shorter.
    pub last_turns: u32,
    /// Chance that the good rings are enough.
    pub chance: f64,
    /// Good rings to expect, on average.
    pub rings_expected: f64,
}

/// Rings that coils are as good as sure to give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Promised {
    /// The most rings that reach the confidence.
    pub rings: u32,
    /// The chance of having them.
    pub chance: f64,
}

impl Yield {
    /// The yield of a cell by its plays.
    pub fn of(plays: &[CellPlay]) -> Yield {
        Yield { laws: plays.iter().map(CoilLaw::of).collect() }
    }

    /// The yield by laws of coils, one a play.
    pub fn by_laws(laws: Vec<CoilLaw>) -> Yield {
        Yield { laws }
    }

    pub(super) fn coil(&self, turns: u32) -> Total {
        Total::coil(&self.laws, turns)
    }

    /// Chance that some coils of so many turns give so many good rings.
    ///
    /// # Units
    /// Counts; a chance of one.
    /// # Validity
    /// The coils are of one job: they share the unknown share of their cell. Up to 1000 turns,
    /// 1000 coils and 100 000 rings.
    /// # Errors
    /// [`PromiseError`] if a count is out of bounds.
    /// # Source
    /// As [`CoilLaw`]; the mean over plays is taken last.
    pub fn chance(&self, coils: u32, turns: u32, rings: u32) -> Result<f64, PromiseError> {
        checked(turns, rings.max(1))?;
        if coils > COILS_MOST {
            return Err(PromiseError::OutOfReach { most: COILS_MOST, turns, rings });
        }
        Ok(self.coil(turns).times(coils).at_least(rings))
    }

    /// The fewest coils of so many turns that give enough rings with a confidence, the last one as
    /// short as it may be.
    ///
    /// # Units
    /// Counts; a chance of one.
    /// # Validity
    /// As [`chance`](Yield::chance).
    /// # Errors
    /// [`PromiseError`] if a count or the confidence is out of bounds, or if 1000 coils are too few.
    /// # Source
    /// As [`CoilLaw`].
    pub fn coils_for(
        &self,
        rings: u32,
        turns: u32,
        confidence: f64,
    ) -> Result<CoilsNeeded, PromiseError> {
        checked(turns, rings)?;
        let wanted = wanted(confidence)?;
        let coil = self.coil(turns);
        let (full, before_last) = self
            .too_few(&coil, rings, wanted)
            .ok_or(PromiseError::OutOfReach { most: COILS_MOST, turns, rings })?;
        let with = |last: u32| before_last.and(&self.coil(last));
        // At full length the last coil is enough.
        let last_turns = least_enough(turns, |last| with(last).at_least(rings) >= wanted);
        let total = with(last_turns);
        Ok(CoilsNeeded {
            coils: full + 1,
            turns,
            last_turns,
            chance: total.at_least(rings),
            rings_expected: total.mean(),
        })
    }

    /// The most coils that are still too few, and what they give; nothing if even the most are.
    ///
    /// Doubling finds a number of coils that is enough; then the doubled totals are put together
    /// from the largest down, as long as the sum is still too few.
    fn too_few(&self, coil: &Total, rings: u32, wanted: f64) -> Option<(u32, Total)> {
        let mut doubled = vec![(1_u32, coil.clone())];
        while doubled.last()?.1.at_least(rings) < wanted {
            let (count, total) = doubled.last()?;
            if *count >= COILS_MOST {
                return None;
            }
            let next = (count * 2, total.and(total));
            doubled.push(next);
        }
        let mut found = (0, Total::nothing(self.laws.len()));
        for (count, total) in doubled.iter().rev() {
            let more = found.1.and(total);
            if more.at_least(rings) < wanted {
                found = (found.0 + count, more);
            }
        }
        (found.0 < COILS_MOST).then_some(found)
    }

    /// The shortest single coil that gives enough rings with a confidence.
    ///
    /// # Units
    /// Turns.
    /// # Validity
    /// As [`chance`](Yield::chance).
    /// # Errors
    /// [`PromiseError`] if a count or the confidence is out of bounds, or if a coil of `turns_most`
    /// is too short.
    /// # Source
    /// As [`CoilLaw`].
    pub fn one_coil_for(
        &self,
        rings: u32,
        turns_most: u32,
        confidence: f64,
    ) -> Result<CoilsNeeded, PromiseError> {
        checked(turns_most, rings)?;
        let wanted = wanted(confidence)?;
        if self.coil(turns_most).at_least(rings) < wanted {
            return Err(PromiseError::OutOfReach { most: 1, turns: turns_most, rings });
        }
        let turns = least_enough(turns_most, |turns| self.coil(turns).at_least(rings) >= wanted);
        let coil = self.coil(turns);
        Ok(CoilsNeeded {
            coils: 1,
            turns,
            last_turns: turns,
            chance: coil.at_least(rings),
            rings_expected: coil.mean(),
        })
    }

    /// The most rings that some coils give with a confidence.
    ///
    /// # Units
    /// Counts; a chance of one.
    /// # Validity
    /// As [`chance`](Yield::chance); 0 rings are always promised.
    /// # Errors
    /// [`PromiseError`] if a count or the confidence is out of bounds.
    /// # Source
    /// As [`CoilLaw`].
    pub fn promise(
        &self,
        coils: u32,
        turns: u32,
        confidence: f64,
    ) -> Result<Promised, PromiseError> {
        checked(turns, 1)?;
        let wanted = wanted(confidence)?;
        if coils > COILS_MOST {
            return Err(PromiseError::OutOfReach { most: COILS_MOST, turns, rings: 1 });
        }
        let total = self.coil(turns).times(coils);
        // One ring fewer than the fewest that are not sure; more than all turns never are.
        let unsure = least_enough(coils * turns + 1, |rings| total.at_least(rings) < wanted);
        let rings = unsure - 1;
        Ok(Promised { rings, chance: total.at_least(rings) })
    }
}

/// The least count from 1 to `most` that is enough, by halving: `most` is, and so is every count
/// above one that is.
fn least_enough(most: u32, is_enough: impl Fn(u32) -> bool) -> u32 {
    let (mut short, mut enough) = (0, most);
    while enough - short > 1 {
        let middle = short + (enough - short) / 2;
        if is_enough(middle) {
            enough = middle;
        } else {
            short = middle;
        }
    }
    enough
}

/// The chance that must be reached, rounding allowed for.
fn wanted(confidence: f64) -> Result<f64, PromiseError> {
    if (0.5..=0.9999).contains(&confidence) {
        Ok(confidence - ROUNDING)
    } else {
        Err(PromiseError::Confidence { given: confidence })
    }
}

fn checked(turns: u32, rings: u32) -> Result<(), PromiseError> {
    if !(1..=TURNS_MOST).contains(&turns) {
        return Err(PromiseError::Turns { given: turns, most: TURNS_MOST });
    }
    if !(1..=RINGS_MOST).contains(&rings) {
        return Err(PromiseError::Rings { given: rings, most: RINGS_MOST });
    }
    Ok(())
}
