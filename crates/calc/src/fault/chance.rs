//! How likely each cause is: starting shares, what was recorded, and what the run itself shows.

use statrs::distribution::{Beta, ContinuousCDF};

use super::{Evidence, Symptom};

/// How many recorded cases the starting shares weigh as much as.
///
/// They are rough judgements: ten cases of the workshop's own weigh as much as all of them.
pub const PRIOR_CASES: f64 = 10.0;

/// Ends of the range that holds a share with 80 %.
const LOW: f64 = 0.1;
const HIGH: f64 = 0.9;

/// How likely one cause is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// Chance that it is this one, a share of one.
    pub chance: f64,
    /// Low end of the range that holds the chance with 80 %.
    pub low: f64,
    /// High end of that range.
    pub high: f64,
    /// The same without what the run shows.
    pub before_evidence: f64,
    /// How often it was recorded.
    pub recorded: u32,
}

/// Chance of every cause of a symptom, in the order of its list.
///
/// With starting shares `s_i`, weight `w` and recorded counts `n_i`, the shares are Dirichlet with
/// `a_i = w s_i + n_i`; mean `m_i = a_i / A`, `A = w + sum n`; the range is that of the marginal
/// `Beta(a_i, A - a_i)`. Evidence multiplies by its factors `f_i`: `p_i = f_i m_i / sum f m`. The
/// ends of the range move by the same odds, `p_i/(1 - p_i)` over `m_i/(1 - m_i)`.
///
/// # Units
/// Shares of one.
/// # Validity
/// One cause at a time; a count for every cause, missing ones are nought.
/// # Source
/// Bayes' rule with a Dirichlet prior; `docs/theory/faults.md`, sections 1 and 2.
///
/// ```
/// use linkwright_calc::fault::{chances, symptom};
/// let uncut = symptom("F06").unwrap();
/// let start = chances(uncut, &[], &[]);
/// assert!((start[3].chance - 0.45).abs() < 1e-12);
/// // Ten cases of the first cause: (10 x 0.15 + 10) / 20.
/// let after = chances(uncut, &[10], &[]);
/// assert!((after[0].chance - 0.575).abs() < 1e-12);
/// ```
pub fn chances(symptom: &Symptom, recorded: &[u32], evidence: &[Evidence]) -> Vec<Chance> {
    let count = |at: usize| recorded.get(at).copied().unwrap_or(0);
    let weights: Vec<f64> = symptom
        .causes
        .iter()
        .enumerate()
        .map(|(at, cause)| PRIOR_CASES * cause.share_percent / 100.0 + f64::from(count(at)))
        .collect();
    let weight: f64 = weights.iter().sum();
    let factors: Vec<f64> = symptom
        .causes
        .iter()
        .map(|cause| {
            let of_cause = evidence.iter().filter(|evidence| evidence.cause == cause.code);
            of_cause.map(|evidence| evidence.factor).product()
        })
        .collect();
    let sum: f64 = weights.iter().zip(&factors).map(|(weight, factor)| weight * factor).sum();
    weights
        .iter()
        .zip(&factors)
        .enumerate()
        .map(|(at, (&own, factor))| {
            let before_evidence = own / weight;
            let chance = factor * own / sum;
            let moved = odds(chance) / odds(before_evidence);
            let [low, high] = [LOW, HIGH].map(|end| {
                let share = quantile(own, weight - own, end);
                if moved.is_finite() { of_odds(moved * odds(share)) } else { chance }
            });
            Chance { chance, low, high, before_evidence, recorded: count(at) }
        })
        .collect()
}

fn odds(share: f64) -> f64 {
    share / (1.0 - share)
}

fn of_odds(odds: f64) -> f64 {
    if odds.is_infinite() { 1.0 } else { odds / (1.0 + odds) }
}

/// The share below which `Beta(a, b)` lies with this chance; a cause without rivals is certain.
fn quantile(a: f64, b: f64, chance: f64) -> f64 {
    match Beta::new(a, b) {
        Ok(beta) => beta.inverse_cdf(chance),
        Err(_) => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::{PRIOR_CASES, chances};
    use crate::fault::{Evidence, Ground, symptom, symptoms};

    #[test]
    fn with_nothing_recorded_the_chances_are_the_starting_shares() {
        for symptom in symptoms() {
            for (chance, cause) in chances(symptom, &[], &[]).iter().zip(symptom.causes) {
                assert!((chance.chance - cause.share_percent / 100.0).abs() < 1e-12);
                assert!(chance.low < chance.chance && chance.chance < chance.high);
            }
        }
    }

    #[test]
    fn doubling_the_counts_moves_the_share_as_the_prior_weighs() {
        let flies = symptom("F03").unwrap();
        let counts = [3, 0, 0, 0, 2, 1];
        let doubled = counts.map(|count| 2 * count);
        let (once, twice) = (chances(flies, &counts, &[]), chances(flies, &doubled, &[]));
        for (at, cause) in flies.causes.iter().enumerate() {
            let prior = PRIOR_CASES * cause.share_percent / 100.0;
            let n = f64::from(counts[at]);
            assert!((once[at].chance - (prior + n) / 16.0).abs() < 1e-12);
            assert!((twice[at].chance - (prior + 2.0 * n) / 22.0).abs() < 1e-12);
        }
        // More cases leave less doubt.
        assert!(twice[0].high - twice[0].low < once[0].high - once[0].low);
    }

    #[test]
    fn a_factor_of_one_changes_nothing_and_a_factor_moves_the_odds_by_itself() {
        let broke = symptom("F01").unwrap();
        let evidence = |factor| Evidence {
            cause: "F01c",
            factor,
            words: String::new(),
            ground: Ground::Judgement,
        };
        let before = chances(broke, &[1, 2], &[]);
        let same = chances(broke, &[1, 2], &[evidence(1.0)]);
        for (before, same) in before.iter().zip(&same) {
            assert!((before.chance - same.chance).abs() < 1e-12);
            assert!((before.low - same.low).abs() < 1e-12);
        }
        let after = chances(broke, &[1, 2], &[evidence(4.0)]);
        let odds = |share: f64| share / (1.0 - share);
        let moved = odds(after[2].chance) / odds(before[2].chance);
        assert!((moved - 4.0).abs() < 1e-9, "{moved}");
        let sum: f64 = after.iter().map(|chance| chance.chance).sum();
        assert!((sum - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_range_is_that_of_the_marginal() {
        // Share 0.5 of weight 10 with nothing recorded is Beta(5, 5), whose distribution function
        // is the chance of at least 5 heads in 9 throws: sum C(9, k) x^k (1 - x)^(9 - k).
        let share = chances(symptom("F08").unwrap(), &[], &[])[2];
        let ways = [126.0, 84.0, 36.0, 9.0, 1.0];
        let below = |x: f64| -> f64 {
            (5..).zip(ways).map(|(k, ways)| ways * x.powi(k) * (1.0 - x).powi(9 - k)).sum()
        };
        assert!((below(share.low) - 0.1).abs() < 1e-6, "{}", below(share.low));
        assert!((below(share.high) - 0.9).abs() < 1e-6, "{}", below(share.high));
    }
}
