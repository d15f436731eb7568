//! The blade to use in one place, by money, play by play.

use super::money::CoilMoney;
use crate::learned::{Outcome, PLAYS, PLAYS_F64, quantile};
use crate::number::{mean, real};

/// A blade gives way to another only if the other is better with more than this chance; otherwise
/// the chart would flicker with every trial.
const CLEARLY: f64 = 0.6;

/// What one blade comes to in one place.
///
/// # Units
/// The currency unit of [`CoilMoney`]; chances of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeWorth {
    /// What a coil brings, on average, all costs taken off.
    pub net_mean: f64,
    /// It lies in here with 80 %, as far as the long-run share is unknown.
    pub net_80: [f64; 2],
    /// Chance that this blade is the best of all there are here, and better than not cutting.
    pub chance_best: f64,
    /// What a good ring costs, on average; infinite if there are none.
    pub ring_cost: f64,
    /// It lies in here with 80 %.
    pub ring_cost_80: [f64; 2],
}

/// Which blade to use in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    /// The blade to use, by its place in the list; `None` is "do not cut this here".
    pub choice: Option<usize>,
    /// A blade that is better on average than the choice, but not clearly.
    pub close: Option<usize>,
    /// Chance that not cutting here is best.
    pub chance_none: f64,
    /// Every blade, in the order given.
    pub blades: Vec<BladeWorth>,
}

/// The blade to use in one place: the best mean net of a coil, or none if none of them pays.
///
/// `held` is the blade that was in use before; it stays unless another is better on average and
/// better with a chance above 0.6, or it no longer pays.
///
/// # Units
/// As [`CoilMoney`].
/// # Validity
/// Outcomes of one place under one seed, one a blade, so that plays may be compared.
/// # Source
/// The reference on the statistics of the cutting trials, section 7; since the net is linear in the
/// good rings, the best blade is the one with the best mean.
///
/// ```
/// use linkwright_trials::{CoilCost, CoilMoney, Outcome, decide};
/// let cost = CoilCost { per_coil: 1.0, per_turn: 0.1, scrap_per_turn: 0.05 };
/// let money = CoilMoney { ring_value: 0.3, cost, turns: 30 };
/// let plays = |share: f64| Outcome {
///     good_share: vec![share; 400],
///     lost_turns: vec![2.0; 400],
///     likeness: vec![0.05; 400],
/// };
/// let decision = decide(&[plays(0.8), plays(0.95)], money, None);
/// assert_eq!(decision.choice, Some(1));
/// assert_eq!(decide(&[plays(0.2)], money, None).choice, None);
/// ```
pub fn decide(blades: &[Outcome], money: CoilMoney, held: Option<usize>) -> Decision {
    let nets: Vec<Vec<f64>> = blades.iter().map(|blade| nets(blade, money)).collect();
    let means: Vec<f64> = nets.iter().map(|nets| mean(nets.iter().copied())).collect();
    let mut wins = vec![0_u32; blades.len() + 1];
    for play in 0..PLAYS {
        let of_play = nets.iter().map(|nets| nets[play]);
        let best = best_of(of_play).unwrap_or(blades.len());
        wins[best] += 1;
    }
    let chances: Vec<f64> = wins.iter().map(|wins| f64::from(*wins) / PLAYS_F64).collect();

    let best = best_of(means.iter().copied());
    let held = held.filter(|held| means.get(*held).is_some_and(|mean| *mean > 0.0));
    let (choice, close) = match (best, held) {
        (Some(best), Some(held)) if best != held && !clearly(&nets[best], &nets[held]) => {
            (Some(held), Some(best))
        }
        _ => (best, None),
    };
    Decision {
        choice,
        close,
        chance_none: chances[blades.len()],
        blades: blades
            .iter()
            .zip(nets)
            .zip(means)
            .zip(chances)
            .map(|(((blade, nets), net_mean), chance_best)| {
                let (ring_cost, ring_cost_80) = ring_costs(blade, money);
                BladeWorth { net_mean, net_80: band(nets), chance_best, ring_cost, ring_cost_80 }
            })
            .collect(),
    }
}

/// The largest of the numbers if it is above nothing at all; the first of equals.
fn best_of(numbers: impl Iterator<Item = f64>) -> Option<usize> {
    let mut best = None;
    let mut most = 0.0;
    for (i, number) in numbers.enumerate() {
        if number > most {
            (best, most) = (Some(i), number);
        }
    }
    best
}

fn clearly(one: &[f64], other: &[f64]) -> bool {
    let better = one.iter().zip(other).filter(|(one, other)| one > other).count();
    real(better) / PLAYS_F64 > CLEARLY
}

fn nets(blade: &Outcome, money: CoilMoney) -> Vec<f64> {
    good_rings(blade, money).map(|rings| money.net(rings)).collect()
}

fn good_rings(blade: &Outcome, money: CoilMoney) -> impl Iterator<Item = f64> {
    let plays = blade.good_share.iter().zip(&blade.lost_turns);
    plays.map(move |(share, lost)| money.good_rings(*share, *lost))
}

/// What a good ring costs: all that is spent over all good rings, and the band of the plays.
fn ring_costs(blade: &Outcome, money: CoilMoney) -> (f64, [f64; 2]) {
    let rings: Vec<f64> = good_rings(blade, money).collect();
    let each = |rings: f64| {
        if rings > 0.0 { money.spent(rings) / rings } else { f64::INFINITY }
    };
    (each(mean(rings.iter().copied())), band(rings.iter().map(|rings| each(*rings)).collect()))
}

fn band(mut numbers: Vec<f64>) -> [f64; 2] {
    numbers.sort_unstable_by(f64::total_cmp);
    [quantile(&numbers, 0.1), quantile(&numbers, 0.9)]
}

#[cfg(test)]
mod tests {
    use super::super::money::tests::money;
    use super::*;

    /// A blade whose share runs evenly from `low` to `high` over the plays, or backwards.
    fn blade(low: f64, high: f64, backwards: bool) -> Outcome {
        let mut good_share: Vec<f64> =
            (0..PLAYS).map(|play| low + (high - low) * real(play) / (PLAYS_F64 - 1.0)).collect();
        if backwards {
            good_share.reverse();
        }
        Outcome { good_share, lost_turns: vec![2.0; PLAYS], likeness: vec![0.05; PLAYS] }
    }

    #[test]
    fn the_best_mean_net_is_used_and_chances_add_up() {
        let decision = decide(&[blade(0.7, 0.8, false), blade(0.6, 1.0, true)], money(), None);
        assert_eq!((decision.choice, decision.close), (Some(1), None));
        let all = decision.blades.iter().map(|blade| blade.chance_best).sum::<f64>();
        assert!((all + decision.chance_none - 1.0).abs() < 1e-12);
        // 0.7 + 0.1 x beats 1.0 - 0.4 x from x = 0.6 on.
        assert!((decision.blades[0].chance_best - 0.4).abs() < 0.005, "{decision:?}");
    }

    #[test]
    fn a_blade_in_use_stays_until_clearly_beaten() {
        let (steady, even) = (blade(0.8, 0.9, false), blade(0.801, 0.903, true));
        let beaten_hardly = decide(&[steady.clone(), even], money(), Some(0));
        assert_eq!((beaten_hardly.choice, beaten_hardly.close), (Some(0), Some(1)));
        let beaten = decide(&[steady, blade(0.9, 0.95, true)], money(), Some(0));
        assert_eq!((beaten.choice, beaten.close), (Some(1), None));
    }

    #[test]
    fn where_no_blade_pays_nothing_is_cut_even_if_it_was_before() {
        let decision = decide(&[blade(0.1, 0.3, false)], money(), Some(0));
        assert_eq!(decision.choice, None);
        assert!((decision.chance_none - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_good_ring_costs_what_is_spent_over_the_good_rings() {
        let sure = blade(0.9, 0.9, false);
        let worth = decide(&[sure], money(), None).blades[0];
        // 28 turns, 25.2 good: 1.5 + 3.0 - 0.06 * 4.8 = 4.212.
        assert!((worth.ring_cost - 4.212 / 25.2).abs() < 1e-12, "{worth:?}");
        assert!((worth.ring_cost_80[1] - worth.ring_cost_80[0]).abs() < 1e-12);
        let never = decide(&[blade(0.0, 0.0, false)], money(), None).blades[0];
        assert!(never.ring_cost.is_infinite());
    }
}
