//! Coils, or turns to slit, so that enough good rings are likely.

use super::law::{PER_COIL_TURNS_MOST, convolved};
use super::odds::{GoodRate, chance_of_at_least};
use super::{CountError, RateSharing};
use crate::limits::{Limit, LimitError, SHARE, TURNS};

/// How many coils, asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilsQuery {
    /// Good rings wanted.
    pub good_rings: u32,
    /// Turns of each coil.
    pub turns_per_coil: u32,
    /// Turns lost on each at its ends and the stop.
    pub lost_per_coil: u32,
    /// Belief about the share of good rings among the others.
    pub rate: GoodRate,
    /// Wanted chance of enough.
    pub confidence: f64,
    /// One rate for all coils, or one each.
    pub sharing: RateSharing,
}

/// Fewest coils that give enough good rings with the wanted chance.
///
/// With `m` turns left of each coil: the smallest `C` with `P(X >= N) >= confidence`, where `X` is
/// beta-binomial of `C m` turns (shared rate), or the sum of `C` beta-binomials of `m` turns each.
///
/// # Units
/// Whole coils.
/// # Validity
/// Losses at the ends are fixed, not random. A rate for each coil is worked out up to 25,000 turns,
/// a shared one up to a million.
/// # Errors
/// - [`CountError::NothingLeft`] if all turns of a coil are lost;
/// - [`CountError::OutOfReach`] if no number of coils is enough;
/// - [`CountError::Limit`] naming `confidence`.
/// # Source
/// `docs/theory/counting.md`, section 4.
///
/// ```
/// use linkwright_calc::count::{CoilsQuery, GoodRate, RateSharing, coils_needed};
/// let query = CoilsQuery {
///     good_rings: 500,
///     turns_per_coil: 60,
///     lost_per_coil: 5,
///     rate: GoodRate::new(95.0, 5.0).unwrap(),
///     confidence: 0.95,
///     sharing: RateSharing::Shared,
/// };
/// assert_eq!(coils_needed(&query).unwrap(), 11);
/// let evened_out = CoilsQuery { sharing: RateSharing::PerCoil, ..query };
/// assert_eq!(coils_needed(&evened_out).unwrap(), 10);
/// ```
pub fn coils_needed(query: &CoilsQuery) -> Result<u32, CountError> {
    check_confidence(query.confidence)?;
    let CoilsQuery { good_rings, turns_per_coil, lost_per_coil, rate, confidence, .. } = *query;
    let left = turns_per_coil.saturating_sub(lost_per_coil);
    if left == 0 {
        return Err(CountError::NothingLeft { lost_per_coil, turns_per_coil });
    }
    match query.sharing {
        RateSharing::Shared => Ok(rings_to_slit(good_rings, rate, confidence)?.div_ceil(left)),
        RateSharing::PerCoil => per_coil(query, left),
    }
}

/// Fewest turns to slit so that enough of them are likely good: the smallest `n` with
/// `P(X >= N) >= confidence`, `X` beta-binomial of `n`.
///
/// # Units
/// Whole turns, after the losses at ends and stop.
/// # Validity
/// One unknown rate for the whole job.
/// # Errors
/// - [`CountError::OutOfReach`] if no number up to a million is enough;
/// - [`CountError::Limit`] naming `confidence`.
/// # Source
/// `docs/theory/counting.md`, section 4.
///
/// ```
/// use linkwright_calc::count::{GoodRate, chance_of_at_least, rings_to_slit};
/// let rate = GoodRate::new(95.0, 5.0).unwrap();
/// let turns = rings_to_slit(500, rate, 0.95).unwrap();
/// assert!(chance_of_at_least(500, turns, rate).unwrap() >= 0.95);
/// assert!(chance_of_at_least(500, turns - 1, rate).unwrap() < 0.95);
/// ```
pub fn rings_to_slit(good_rings: u32, rate: GoodRate, confidence: f64) -> Result<u32, CountError> {
    check_confidence(confidence)?;
    let enough = |turns| chance_of_at_least(good_rings, turns, rate).is_ok_and(|p| p >= confidence);
    let out_of_reach = CountError::OutOfReach { good_rings, confidence, rings_most: TURNS_MOST };
    if good_rings > TURNS_MOST {
        return Err(out_of_reach);
    }
    if enough(good_rings) {
        return Ok(good_rings);
    }
    let (mut too_few, mut turns) = (good_rings, good_rings);
    while !enough(turns) {
        if turns >= TURNS_MOST {
            return Err(out_of_reach);
        }
        (too_few, turns) = (turns, turns.saturating_mul(2).clamp(2, TURNS_MOST));
    }
    while turns - too_few > 1 {
        let middle = too_few + (turns - too_few) / 2;
        if enough(middle) { turns = middle } else { too_few = middle }
    }
    Ok(turns)
}

/// No plan has more turns than the limit of one coil allows.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the limit is the whole number 1,000,000"
)]
const TURNS_MOST: u32 = TURNS.high as u32;

fn check_confidence(confidence: f64) -> Result<f64, LimitError> {
    // A certainty would take endless rings.
    Limit { field: "confidence", low: 1e-6, high: 0.999_999, ..SHARE }.check(confidence)
}

/// Doubles the number of coils until it is enough, then fills in the halves, so that a thousand
/// coils take about twenty sums of two distributions; counts at or above the wanted one are kept in
/// one last entry.
fn per_coil(query: &CoilsQuery, left: u32) -> Result<u32, CountError> {
    let CoilsQuery { good_rings, confidence, rate, .. } = *query;
    let out_of_reach =
        CountError::OutOfReach { good_rings, confidence, rings_most: PER_COIL_TURNS_MOST };
    if good_rings > PER_COIL_TURNS_MOST || left > PER_COIL_TURNS_MOST {
        return Err(out_of_reach);
    }
    if good_rings == 0 {
        return Ok(0);
    }
    let wanted = good_rings as usize;
    let coils_most = PER_COIL_TURNS_MOST / left;
    let none: Vec<f64> = vec![1.0];
    // Of 1, 2, 4, ... coils.
    let mut doubled = vec![convolved(&none, &rate.chances(left), wanted)];
    let enough = |law: &[f64]| law.get(wanted).is_some_and(|chance| *chance >= confidence);
    while !doubled.last().is_some_and(|law| enough(law)) {
        if 1_u32 << doubled.len() > coils_most {
            break;
        }
        let last = &doubled[doubled.len() - 1];
        doubled.push(convolved(last, last, wanted));
    }
    // The most coils that are not enough, built from the largest power down.
    let (mut too_few, mut so_far) = (0, none);
    for (power, law) in doubled.iter().enumerate().rev() {
        let with_these = convolved(&so_far, law, wanted);
        if !enough(&with_these) {
            too_few += 1_u32 << power;
            so_far = with_these;
        }
    }
    let coils = too_few + 1;
    if coils > coils_most { Err(out_of_reach) } else { Ok(coils) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert_eq, proptest};

    use super::{CoilsQuery, coils_needed, rings_to_slit};
    use crate::count::{Coil, CountError, GoodRate, GoodRingsLaw, RateSharing};

    fn query(good_rings: u32, left: u32, rate: GoodRate, sharing: RateSharing) -> CoilsQuery {
        CoilsQuery {
            good_rings,
            turns_per_coil: left + 5,
            lost_per_coil: 5,
            rate,
            confidence: 0.95,
            sharing,
        }
    }

    #[test]
    fn a_coil_of_lost_turns_is_refused() {
        let rate = GoodRate::new(95.0, 5.0).unwrap();
        assert_eq!(
            coils_needed(&query(10, 0, rate, RateSharing::Shared)),
            Err(CountError::NothingLeft { lost_per_coil: 5, turns_per_coil: 5 })
        );
    }

    #[test]
    fn a_hopeless_promise_is_refused_and_not_searched_for_ever() {
        let poor = GoodRate::new(0.001, 100.0).unwrap();
        for sharing in [RateSharing::Shared, RateSharing::PerCoil] {
            let answer = coils_needed(&query(5000, 50, poor, sharing));
            assert!(matches!(answer, Err(CountError::OutOfReach { .. })), "{answer:?}");
        }
        let answer = coils_needed(&query(1_000_000_000, 55, poor, RateSharing::PerCoil));
        assert!(matches!(answer, Err(CountError::OutOfReach { .. })), "{answer:?}");
        let answer = rings_to_slit(u32::MAX, poor, 0.5);
        assert!(matches!(answer, Err(CountError::OutOfReach { .. })), "{answer:?}");
    }

    proptest! {
        #[test]
        fn the_coils_are_enough_and_one_less_is_not(
            good_rings in 1_u32..400, left in 5_u32..60, a in 5.0..100.0, b in 0.5..10.0,
            shared in proptest::bool::ANY,
        ) {
            let sharing = if shared { RateSharing::Shared } else { RateSharing::PerCoil };
            let rate = GoodRate::new(a, b).unwrap();
            let coils = coils_needed(&query(good_rings, left, rate, sharing)).unwrap();
            let chance = |coils: u32| {
                let plan = vec![Coil { turns: left, lost: 0 }; coils as usize];
                GoodRingsLaw::of_coils(&plan, rate, sharing).unwrap().at_least(good_rings)
            };
            prop_assert_eq!(chance(coils) >= 0.95, true);
            prop_assert_eq!(chance(coils - 1) >= 0.95, false);
        }
    }
}
