//! Coils, or turns to slit, so that enough good rings are likely.

use super::CountError;
use super::odds::{GoodRate, chance_of_at_least};
use crate::limits::{Limit, LimitError, SHARE};

/// No plan has more turns than this.
const TURNS_MOST: u32 = 10_000_000;

/// Chances below this are left out when coils are added up: far too few to add up to a digit.
const NEGLIGIBLE: f64 = 1e-20;

/// Most sums worth doing to add up coils, about a second's work.
const SUMS_MOST: usize = 1_000_000_000;

/// Whether the unknown rate is one for the whole job, or drawn anew for each coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RateSharing {
    /// One rate for all coils: a bad day spoils them all. The cautious choice.
    Shared,
    /// A rate of its own for each coil: bad coils and good ones even out.
    PerCoil,
}

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
/// Losses at the ends are fixed, not random.
/// # Errors
/// - [`CountError::NothingLeft`] if all turns of a coil are lost;
/// - [`CountError::OutOfReach`] if no number of coils is enough;
/// - [`CountError::Limit`] naming `confidence`.
/// # Source
/// Mechanics F6, F7.
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
/// - [`CountError::OutOfReach`] if no number up to ten million is enough;
/// - [`CountError::Limit`] naming `confidence`.
/// # Source
/// Mechanics F6.
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
    if good_rings > TURNS_MOST {
        return Err(CountError::OutOfReach { good_rings, confidence, rings_most: TURNS_MOST });
    }
    let enough = |turns| chance_of_at_least(good_rings, turns, rate).is_ok_and(|p| p >= confidence);
    if enough(good_rings) {
        return Ok(good_rings);
    }
    let (mut too_few, mut turns) = (good_rings, good_rings.saturating_mul(2).max(2));
    while !enough(turns) {
        if turns >= TURNS_MOST {
            return Err(CountError::OutOfReach { good_rings, confidence, rings_most: TURNS_MOST });
        }
        (too_few, turns) = (turns, turns.saturating_mul(2).min(TURNS_MOST));
    }
    while turns - too_few > 1 {
        let middle = too_few + (turns - too_few) / 2;
        if enough(middle) { turns = middle } else { too_few = middle }
    }
    Ok(turns)
}

fn check_confidence(confidence: f64) -> Result<f64, LimitError> {
    // A certainty would take endless rings.
    Limit { field: "confidence", low: 1e-6, high: 0.999_999, ..SHARE }.check(confidence)
}

/// Adds coil after coil to the distribution of good rings; counts at or above the wanted one are
/// kept in one last entry, so that the work stays bounded by it.
fn per_coil(query: &CoilsQuery, left: u32) -> Result<u32, CountError> {
    let out_of_reach = |rings_most| CountError::OutOfReach {
        good_rings: query.good_rings,
        confidence: query.confidence,
        rings_most,
    };
    if query.good_rings > TURNS_MOST {
        return Err(out_of_reach(TURNS_MOST));
    }
    let wanted = query.good_rings as usize;
    let one_coil = query.rate.chances(left);
    let coils_most = TURNS_MOST / left;
    let mut sums_left = SUMS_MOST;
    let mut so_far = vec![0.0; wanted + 1];
    so_far[0] = 1.0;
    for coils in 0..=coils_most {
        if so_far[wanted] >= query.confidence {
            return Ok(coils);
        }
        let likely: Vec<(usize, f64)> =
            so_far.iter().copied().enumerate().filter(|(_, chance)| *chance > NEGLIGIBLE).collect();
        let sums = likely.len() * one_coil.len() + wanted;
        let Some(left_over) = sums_left.checked_sub(sums) else {
            return Err(out_of_reach(coils * left));
        };
        sums_left = left_over;
        so_far.fill(0.0);
        for (good, chance) in likely {
            for (more, chance_more) in one_coil.iter().enumerate() {
                so_far[(good + more).min(wanted)] += chance * chance_more;
            }
        }
    }
    Err(out_of_reach(TURNS_MOST))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_rings_than_any_plan_has_are_refused_at_once() {
        for sharing in [RateSharing::Shared, RateSharing::PerCoil] {
            let query = CoilsQuery {
                good_rings: 1_000_000_000,
                turns_per_coil: 60,
                lost_per_coil: 5,
                rate: GoodRate::new(95.0, 5.0).unwrap(),
                confidence: 0.95,
                sharing,
            };
            assert!(matches!(coils_needed(&query), Err(CountError::OutOfReach { .. })));
        }
    }

    #[test]
    fn a_hopeless_rate_is_given_up_in_time() {
        let query = CoilsQuery {
            good_rings: 20_000,
            turns_per_coil: 60,
            lost_per_coil: 5,
            rate: GoodRate::new(1e-6, 1e9).unwrap(),
            confidence: 0.95,
            sharing: RateSharing::PerCoil,
        };
        let error = coils_needed(&query).unwrap_err();
        assert!(matches!(error, CountError::OutOfReach { good_rings: 20_000, .. }), "{error}");
    }
}
