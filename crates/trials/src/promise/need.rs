//! Coils for an order, and rings that may be promised of coils.

use super::bell::Bells;
use super::error::PromiseError;
use super::law::CoilLaw;
use super::total::{AddedUp, Missing, Play};
use crate::number::mean;
use crate::play::CellPlay;

/// A chance that falls short of the wanted one by less than this is enough: it is rounding.
const ROUNDING: f64 = 1e-12;
/// More coils than anybody cuts for one order.
const COILS_MOST: u32 = 1000;
/// More turns than any holder takes.
const TURNS_MOST: u32 = 1000;
/// More rings than one question is for.
const RINGS_MOST: u32 = 100_000;

/// Coils up to which counts are added exactly; the counts of more coils are bell curves in every play.
const EXACT_COILS: u32 = 8;

/// What the coils of one cell give, as it is believed.
#[derive(Clone, Debug)]
pub struct Yield {
    plays: Vec<Play>,
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
    /// The most good rings that these coils give with the wanted confidence.
    pub promised: u32,
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
        Yield::by_laws(plays.iter().map(CoilLaw::of).collect())
    }

    /// The yield by laws of coils, one a play.
    pub fn by_laws(laws: Vec<CoilLaw>) -> Yield {
        let play = |law: CoilLaw| Play { ends: law.ends(TURNS_MOST), law };
        Yield { plays: laws.into_iter().map(play).collect() }
    }

    /// Turns that a coil loses where the blade enters and at the stop, on average.
    pub fn ends_lost(&self) -> [f64; 2] {
        let over_plays =
            |of: fn(&CoilLaw) -> f64| mean(self.plays.iter().map(|play| of(&play.law)));
        [over_plays(|law| law.entry.mean), over_plays(|law| law.stop.mean)]
    }

    /// Good rings to expect among the turns that are not lost at an end, as a share.
    pub fn good_share(&self) -> f64 {
        let share = |law: &CoilLaw| {
            let (off, spoiled) = law.write_off.unwrap_or((0.0, law.rings));
            (1.0 - off) * law.rings.mean_share() + off * spoiled.mean_share()
        };
        mean(self.plays.iter().map(|play| share(&play.law)))
    }

    /// Chance that some coils of so many turns give so many good rings.
    ///
    /// # Units
    /// Counts; a chance of one.
    /// # Validity
    /// The coils are of one job: they share the unknown share of their cell. Up to 1000 turns,
    /// 1000 coils and 100 000 rings. Beyond eight coils the counts of one play are taken as bell
    /// curves, which is within half a percentage point.
    /// # Errors
    /// [`PromiseError`] if a count is out of bounds.
    /// # Source
    /// As [`CoilLaw`]; the mean over plays is taken last.
    pub fn chance(&self, coils: u32, turns: u32, rings: u32) -> Result<f64, PromiseError> {
        checked(turns, rings.max(1))?;
        if coils > COILS_MOST {
            return Err(PromiseError::OutOfReach { most: COILS_MOST, turns, rings });
        }
        let Some(spare) = (coils * turns).checked_sub(rings) else { return Ok(0.0) };
        if coils > EXACT_COILS {
            let bells = self.bells(turns);
            return Ok(bells.chance(coils - 1, &bells, rings));
        }
        Ok(self.coil(turns).times(coils, index(spare)).at_most(spare))
    }

    /// The fewest coils of so many turns that give enough rings with a confidence, the last one as
    /// short as it may be.
    ///
    /// # Units
    /// Counts; a chance of one.
    /// # Validity
    /// As [`chance`](Yield::chance). The last coil is never so short that its ends take all of it.
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
        let asked = Asked { of: self, rings, turns, wanted: wanted(confidence)? };
        asked.coils().ok_or(PromiseError::OutOfReach { most: COILS_MOST, turns, rings })
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
        let is_enough = |turns: u32| {
            turns.checked_sub(rings).is_some_and(|spare| self.coil(turns).at_most(spare) >= wanted)
        };
        if !is_enough(turns_most) {
            return Err(PromiseError::OutOfReach { most: 1, turns: turns_most, rings });
        }
        let turns = least_enough(turns_most, is_enough);
        let coil = self.coil(turns);
        let at_least = |rings: u32| coil.at_most(turns - rings);
        Ok(CoilsNeeded {
            coils: 1,
            turns,
            last_turns: turns,
            chance: at_least(rings),
            rings_expected: f64::from(turns) - coil.mean(),
            promised: most_promised(rings, turns, wanted, at_least),
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
        let all = coils * turns;
        let bells = self.bells(turns);
        let total = (coils <= EXACT_COILS).then(|| self.coil(turns).times(coils, index(all)));
        let at_least = |rings: u32| match &total {
            Some(total) => total.at_most(all - rings),
            None => bells.chance(coils - 1, &bells, rings),
        };
        let rings = most_promised(0, all, wanted, at_least);
        Ok(Promised { rings, chance: at_least(rings) })
    }

    pub(super) fn bells(&self, turns: u32) -> Bells {
        Bells::of(&self.plays, turns)
    }

    /// About so many of the plays, evenly taken: enough to compare lengths of coils by.
    pub(super) fn thinned(&self, plays: usize) -> Yield {
        let every = (self.plays.len() / plays).max(1);
        Yield { plays: self.plays.iter().step_by(every).cloned().collect() }
    }

    fn coil(&self, turns: u32) -> Missing {
        Missing::of_coil(&self.plays, turns)
    }

    /// Turns below which a coil is not worth winding: its ends take all of it.
    pub(super) fn turns_least(&self) -> u32 {
        let [entry, stop] = self.ends_lost().map(f64::round);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "few turns")]
        let lost = (entry + stop) as u32;
        lost + 1
    }
}

/// A question about coils of one length.
pub(super) struct Asked<'a> {
    pub of: &'a Yield,
    pub rings: u32,
    pub turns: u32,
    pub wanted: f64,
}

impl Asked<'_> {
    fn coils(&self) -> Option<CoilsNeeded> {
        let bells = self.of.bells(self.turns);
        let guessed = self.guess(&bells)?;
        if guessed > EXACT_COILS {
            Some(self.by_bells(&bells, guessed))
        } else {
            self.exact(&bells, guessed)
        }
    }

    /// The fewest coils by bell curves; nothing if even the most are too few.
    fn guess(&self, bells: &Bells) -> Option<u32> {
        let is_enough = |coils: u32| bells.chance(coils - 1, bells, self.rings) >= self.wanted;
        let mut enough = 1;
        while !is_enough(enough) {
            if enough == COILS_MOST {
                return None;
            }
            enough = (enough * 2).min(COILS_MOST);
        }
        Some(least_enough(enough, is_enough))
    }

    /// What it would take by bell curves: close enough to compare lengths of coils by.
    pub(super) fn by_bells_alone(&self) -> Option<CoilsNeeded> {
        let bells = self.of.bells(self.turns);
        Some(self.by_bells(&bells, self.guess(&bells)?))
    }

    fn by_bells(&self, bells: &Bells, coils: u32) -> CoilsNeeded {
        let last_turns = self.no_shorter(self.last_guessed(bells, coils - 1));
        self.these_by_bells(bells, coils, last_turns)
    }

    fn these_by_bells(&self, bells: &Bells, coils: u32, last_turns: u32) -> CoilsNeeded {
        let full = coils - 1;
        let last = self.of.bells(last_turns);
        let expected = f64::from(full) * bells.mean() + last.mean();
        self.answer(coils, last_turns, expected, |rings| bells.chance(full, &last, rings))
    }

    /// What these very coils give, enough or not.
    pub(super) fn these(&self, coils: u32, last_turns: u32) -> CoilsNeeded {
        if coils > EXACT_COILS {
            return self.these_by_bells(&self.of.bells(self.turns), coils, last_turns);
        }
        let coil = self.of.coil(self.turns);
        let all = (coils - 1) * self.turns + last_turns;
        let before = coil.times(coils - 1, index(all)).added_up();
        self.these_exactly(&coil, coils, &before, last_turns)
    }

    fn these_exactly(
        &self,
        coil: &Missing,
        coils: u32,
        before: &AddedUp,
        last_turns: u32,
    ) -> CoilsNeeded {
        let full = coils - 1;
        let last = self.of.coil(last_turns);
        let all = full * self.turns + last_turns;
        let expected = f64::from(all) - f64::from(full) * coil.mean() - last.mean();
        self.answer(coils, last_turns, expected, |rings| {
            all.checked_sub(rings).map_or(0.0, |spare| before.at_most_with(&last, spare))
        })
    }

    fn answer(
        &self,
        coils: u32,
        last_turns: u32,
        rings_expected: f64,
        at_least: impl Fn(u32) -> f64,
    ) -> CoilsNeeded {
        let all = (coils - 1) * self.turns + last_turns;
        let chance = at_least(self.rings);
        // Coils that are enough promise no less than was asked for.
        let least = if chance >= self.wanted { self.rings } else { 0 };
        CoilsNeeded {
            coils,
            turns: self.turns,
            last_turns,
            chance,
            rings_expected,
            promised: most_promised(least, all, self.wanted, at_least),
        }
    }

    /// The same exactly, from a number of coils that is about right.
    fn exact(&self, bells: &Bells, guessed: u32) -> Option<CoilsNeeded> {
        let coil = self.of.coil(self.turns);
        let mut coils = guessed.max(self.rings.div_ceil(self.turns));
        loop {
            let full = coils - 1;
            // What all coils may lack, and what one coil fewer may.
            let spare = coils * self.turns - self.rings;
            let before = coil.times(full, index(spare)).added_up();
            let fewer = spare.checked_sub(self.turns);
            if fewer.is_some_and(|spare| before.at_most(spare) >= self.wanted) {
                coils -= 1;
            } else if before.at_most_with(&coil, spare) < self.wanted {
                coils += 1;
                if coils > COILS_MOST {
                    return None;
                }
            } else {
                return Some(self.with_last(bells, &coil, coils, &before));
            }
        }
    }

    fn with_last(
        &self,
        bells: &Bells,
        coil: &Missing,
        coils: u32,
        before: &AddedUp,
    ) -> CoilsNeeded {
        let full = coils - 1;
        let is_enough = |turns: u32| {
            let spare = (full * self.turns + turns).checked_sub(self.rings);
            let chance = |spare| before.at_most_with(&self.of.coil(turns), spare);
            spare.map_or(0.0, chance) >= self.wanted
        };
        let guessed = self.last_guessed(bells, full);
        let last_turns = self.no_shorter(least_about(guessed, self.turns, is_enough));
        self.these_exactly(coil, coils, before, last_turns)
    }

    /// The shortest last coil that is enough, by bell curves; at full length it is.
    fn last_guessed(&self, bells: &Bells, full: u32) -> u32 {
        least_enough(self.turns, |turns| {
            bells.chance(full, &self.of.bells(turns), self.rings) >= self.wanted
        })
    }

    /// No coil is wound that its ends take all of.
    fn no_shorter(&self, turns: u32) -> u32 {
        turns.max(self.of.turns_least().min(self.turns))
    }
}

/// The most rings that are as likely as wanted: `least` are, more than `all` never.
fn most_promised(least: u32, all: u32, wanted: f64, at_least: impl Fn(u32) -> f64) -> u32 {
    // One ring fewer than the fewest that are not sure.
    least
        + least_enough(all + 1 - least, |more| {
            least + more > all || at_least(least + more) < wanted
        })
        - 1
}

fn index(count: u32) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX)
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

/// The same from a count that is about right, step by step.
fn least_about(guessed: u32, most: u32, is_enough: impl Fn(u32) -> bool) -> u32 {
    let mut count = guessed.clamp(1, most);
    if is_enough(count) {
        while count > 1 && is_enough(count - 1) {
            count -= 1;
        }
        return count;
    }
    while count < most - 1 && !is_enough(count + 1) {
        count += 1;
    }
    (count + 1).min(most)
}

/// The chance that must be reached, rounding allowed for.
pub(super) fn wanted(confidence: f64) -> Result<f64, PromiseError> {
    if (0.5..=0.9999).contains(&confidence) {
        Ok(confidence - ROUNDING)
    } else {
        Err(PromiseError::Confidence { given: confidence })
    }
}

pub(super) fn checked(turns: u32, rings: u32) -> Result<(), PromiseError> {
    if !(1..=TURNS_MOST).contains(&turns) {
        return Err(PromiseError::Turns { given: turns, most: TURNS_MOST });
    }
    if !(1..=RINGS_MOST).contains(&rings) {
        return Err(PromiseError::Rings { given: rings, most: RINGS_MOST });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::play::EndLoss;

    /// Plays from poor to good.
    fn of() -> Yield {
        let play = |i: u32| CellPlay {
            log_odds: [4.0, 1.0 + 0.25 * f64::from(i), 3.5],
            coil_scatter: [0.6; 3],
            entry: EndLoss { mean: 1.3, size: 3.0 },
            stop: EndLoss { mean: 2.2, size: 4.0 },
        };
        Yield::of(&(0..12).map(play).collect::<Vec<_>>())
    }

    #[test]
    fn coils_are_enough_and_one_turn_fewer_is_not() {
        let of = of();
        let wanted = wanted(0.95).unwrap();
        for rings in [20, 61, 118, 187] {
            let found = of.coils_for(rings, 47, 0.95).unwrap();
            assert!(found.coils <= EXACT_COILS && found.chance >= wanted, "{found:?}");
            assert!(found.last_turns > of.turns_least(), "{found:?}");
            let asked = Asked { of: &of, rings, turns: 47, wanted };
            let shorter = asked.these(found.coils, found.last_turns - 1);
            assert!(shorter.chance < wanted, "{found:?} {shorter:?}");
            let very_same = asked.these(found.coils, found.last_turns);
            assert!((very_same.chance - found.chance).abs() < 1e-12);
            assert!(found.promised >= rings && found.rings_expected > f64::from(rings));
        }
    }

    #[test]
    fn the_last_coil_is_never_all_ends() {
        let of = of();
        let least = of.turns_least();
        assert_eq!(least, 1 + 2 + 1, "1.3 and 2.2 turns are 1 and 2 as whole ones");
        for rings in 30..140 {
            assert!(of.coils_for(rings, 47, 0.95).unwrap().last_turns >= least);
        }
    }
}
