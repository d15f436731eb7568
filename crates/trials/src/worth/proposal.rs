//! Test coils in the order in which their news is worth most for their cost.

use std::cmp::Ordering;

use super::lines::{Line, Lines};
use super::outlook::Outlook;
use crate::decide::CoilMoney;
use crate::fit::in_parallel;
use crate::learned::Outcome;
use crate::number::mean;

/// One place of the chart (a wire on a rod) with the blades it could be cut with.
#[derive(Clone, Debug)]
pub struct Place {
    /// What each blade comes to here, all places under one seed.
    pub blades: Vec<Outcome>,
    /// What coils of this place cost and bring.
    pub money: CoilMoney,
    /// Turns the workshop means to cut here until the question is asked again.
    pub planned_turns: f64,
}

/// A test coil and what its news is worth.
///
/// # Units
/// The currency unit of the places' [`CoilMoney`].
#[derive(Clone, Debug, PartialEq)]
pub struct TestCoil {
    /// Place in the list of places.
    pub place: usize,
    /// Blade in the list of that place.
    pub blade: usize,
    /// What the planned turns bring more, on average, once the counts are known and followed.
    pub gain: f64,
    /// What the test coil costs: counting it, and what its rings bring less than they could.
    pub cost: f64,
    /// Places whose blade could change with the counts.
    pub could_change: Vec<usize>,
}

impl TestCoil {
    /// Whether the test brings more than it costs; from the first that does not, testing may stop.
    pub fn is_worth_it(&self) -> bool {
        self.gain > self.cost
    }
}

/// Share of a coil's work that counting and noting it takes: assumed, no source.
const BOTHER: f64 = 0.25;
/// Tests looked at for the second coil of a plan and on: the best of the first round.
const SHORT_LIST: usize = 160;
/// Tests whose slopes are worked out in one go.
const CHUNK: usize = 48;

/// The test coils to cut next, the most gain for the cost first; each is chosen as if those before
/// it were done, whatever they show.
///
/// The gain of a test is `sum_p turns_p (v_p - r_p) { E max(y0_p, max_b U_pb given the counts) -
/// max(y0_p, max_b E U_pb) }`: `U` good rings per turn, `y0` where a coil begins to pay.
///
/// A coil of a size that is cut anyway costs what its rings bring less than with the best blade; one
/// that nobody needs costs all that goes into it. To both comes the bother: a quarter of a coil's
/// work, at least what one ring is worth.
///
/// # Units
/// As [`TestCoil`].
/// # Validity
/// The time to change the blade is not counted. The counts' news is taken as bell-shaped and the yields as moving in proportion to it. A
/// place whose rings are worth no more than scrap gains nothing.
/// # Source
/// The reference on the statistics of the cutting trials, section 8 (knowledge gradient, moment
/// matching); the expectation is exact here, by corners of the envelope.
///
/// ```
/// use linkwright_trials::{CoilCost, CoilMoney, Outcome, Place, try_next};
/// let cost = CoilCost { per_coil: 1.0, per_turn: 0.1, scrap_per_turn: 0.05 };
/// let money = CoilMoney { ring_value: 0.3, cost, turns: 30 };
/// let plays = |low: f64, high: f64| Outcome {
///     good_share: (0..400).map(|i| if i % 2 == 0 { low } else { high }).collect(),
///     lost_turns: vec![2.0; 400],
///     likeness: vec![0.05; 400],
/// };
/// // One blade is known, the other may be better or worse.
/// let blades = vec![plays(0.9, 0.9), plays(0.8, 0.97)];
/// let tests = try_next(&[Place { blades, money, planned_turns: 2000.0 }], 20, 1, 7);
/// assert_eq!((tests[0].blade, tests[0].could_change.len()), (1, 1));
/// assert!(tests[0].is_worth_it());
/// ```
pub fn try_next(places: &[Place], test_turns: u32, count: usize, seed: u64) -> Vec<TestCoil> {
    let mut outlook = Outlook::of(places, test_turns);
    let at: Vec<(usize, usize)> = places
        .iter()
        .enumerate()
        .flat_map(|(place, of)| (0..of.blades.len()).map(move |blade| (place, blade)))
        .collect();
    let stakes: Vec<Stake> = places.iter().map(|place| Stake::of(place, test_turns)).collect();
    let mut tests: Vec<usize> = (0..at.len()).collect();
    let mut plan: Vec<TestCoil> = Vec::new();
    for round in (0_u64..).take(count) {
        let mut ranked = ranked(&outlook, &stakes, places, &at, &tests);
        let Some(&(best, gain)) = ranked.first().filter(|(_, gain)| *gain > 0.0) else { break };
        let (place, blade) = at[best];
        plan.push(TestCoil {
            place,
            blade,
            gain,
            cost: stakes[place].test_costs[blade],
            could_change: could_change(&outlook, &stakes, places, best),
        });
        if round == 0 {
            ranked.truncate(SHORT_LIST);
            tests = ranked.into_iter().map(|(test, _)| test).collect();
        }
        outlook.done(best, seed.wrapping_add(round));
    }
    plan
}

/// What is at stake in one place.
struct Stake {
    /// What one good ring per turn more is worth over the planned turns.
    weight: f64,
    /// Good rings per turn at which cutting begins to pay.
    break_even: f64,
    /// What a test coil with each blade costs.
    test_costs: Vec<f64>,
}

impl Stake {
    fn of(place: &Place, test_turns: u32) -> Stake {
        let money = place.money;
        let cost = money.cost;
        let gained = (money.ring_value - cost.scrap_per_turn).max(0.0);
        let coil = CoilMoney { turns: test_turns, ..money };
        let nets: Vec<f64> = place.blades.iter().map(|blade| mean_net(blade, coil)).collect();
        let best = nets.iter().copied().fold(0.0, f64::max);
        let is_needed = place.planned_turns >= f64::from(test_turns);
        let bother = (BOTHER * cost.per_coil).max(money.ring_value);
        let test_cost = |net: &f64| bother + if is_needed { best - net } else { coil.spent(0.0) };
        Stake {
            weight: place.planned_turns.max(0.0) * gained,
            break_even: money.break_even(),
            test_costs: nets.iter().map(test_cost).collect(),
        }
    }
}

fn mean_net(blade: &Outcome, coil: CoilMoney) -> f64 {
    let plays = blade.good_share.iter().zip(&blade.lost_turns);
    mean(plays.map(|(share, lost)| coil.net(coil.good_rings(*share, *lost))))
}

/// Every test with its gain, the most gain for the cost first.
fn ranked(
    outlook: &Outlook,
    stakes: &[Stake],
    places: &[Place],
    at: &[(usize, usize)],
    tests: &[usize],
) -> Vec<(usize, f64)> {
    let chunks: Vec<&[usize]> = tests.chunks(CHUNK).collect();
    let gains = in_parallel(&chunks, |chunk| {
        let slopes = outlook.slopes(chunk);
        let mut room = Lines::default();
        let mut gain_of = |slopes: &[f64]| -> f64 {
            each_place(outlook, stakes, places, slopes)
                .map(
                    |(_, stake, lines)| {
                        if room.take(lines) { stake.weight * room.gain() } else { 0.0 }
                    },
                )
                .sum()
        };
        slopes.as_slice().chunks_exact(at.len()).map(&mut gain_of).collect::<Vec<f64>>()
    });
    let mut ranked: Vec<(usize, f64)> =
        tests.iter().copied().zip(gains.into_iter().flatten()).collect();
    let for_cost = |(test, gain): &(usize, f64)| {
        let (place, blade) = at[*test];
        gain / stakes[place].test_costs[blade].max(1e-9)
    };
    ranked.sort_by(|a, b| {
        for_cost(b).partial_cmp(&for_cost(a)).unwrap_or(Ordering::Equal).then(a.0.cmp(&b.0))
    });
    ranked
}

/// Every place that has something at stake, with the lines of its choices: cut nothing, or one of
/// the blades.
fn each_place<'a>(
    outlook: &'a Outlook,
    stakes: &'a [Stake],
    places: &'a [Place],
    slopes: &'a [f64],
) -> impl Iterator<Item = (usize, &'a Stake, impl Iterator<Item = Line> + 'a)> {
    let mut from = 0;
    places.iter().zip(stakes).enumerate().filter_map(move |(number, (place, stake))| {
        let blades = from..from + place.blades.len();
        from = blades.end;
        let uncut = Line { mean: stake.break_even, slope: 0.0 };
        let of_blade = move |blade| Line { mean: outlook.means[blade], slope: slopes[blade] };
        (stake.weight > 0.0)
            .then(|| (number, stake, std::iter::once(uncut).chain(blades.map(of_blade))))
    })
}

fn could_change(outlook: &Outlook, stakes: &[Stake], places: &[Place], test: usize) -> Vec<usize> {
    let slopes = outlook.slopes(&[test]);
    let mut room = Lines::default();
    each_place(outlook, stakes, places, slopes.as_slice())
        .filter_map(|(number, _, lines)| {
            (room.take(lines) && room.could_change()).then_some(number)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decide::tests::money;
    use crate::learned::PLAYS;

    /// Shares that swing about a middle, alike for the same phase.
    fn swinging(middle: f64, swing: f64, phase: f64) -> Outcome {
        let play = |play: usize| {
            let turn = f64::from(u32::try_from(play).expect("400")) * 0.7 + phase;
            middle + swing * turn.sin()
        };
        Outcome {
            good_share: (0..PLAYS).map(play).collect(),
            lost_turns: vec![2.0; PLAYS],
            likeness: vec![0.03; PLAYS],
        }
    }

    fn place(blades: Vec<Outcome>, planned_turns: f64) -> Place {
        Place { blades, money: money(), planned_turns }
    }

    #[test]
    fn the_doubtful_rival_is_tried_before_the_known_and_the_hopeless() {
        let blades =
            vec![swinging(0.92, 0.001, 0.0), swinging(0.91, 0.06, 1.0), swinging(0.40, 0.06, 2.0)];
        let plan = try_next(&[place(blades, 5000.0)], 20, 1, 3);
        assert_eq!(plan[0].blade, 1);
        assert_eq!(plan[0].could_change, [0]);
    }

    #[test]
    fn sizes_the_workshop_sells_are_tried_first() {
        let blades = |phase| vec![swinging(0.92, 0.001, 0.0), swinging(0.91, 0.06, phase)];
        let places = [place(blades(0.3), 100.0), place(blades(1.3), 5000.0)];
        let plan = try_next(&places, 20, 1, 3);
        assert_eq!(plan[0].place, 1);
        // What swings alike is moved along.
        assert_eq!(plan[0].could_change, [0, 1]);
    }

    #[test]
    fn a_needed_coil_costs_what_the_best_blade_would_have_brought_more() {
        let blades = vec![swinging(0.92, 0.001, 0.0), swinging(0.88, 0.06, 1.3)];
        let cost = |planned_turns| {
            let plan = try_next(&[place(blades.clone(), planned_turns)], 20, 1, 3);
            assert_eq!(plan[0].blade, 1);
            plan[0].cost
        };
        // Bother: a quarter of 1.5. 18 turns of 20 are no end losses; four in a hundred more are
        // lost, each worth 0.30 less 0.06 of scrap. The swing's mean over the plays is not quite 0.
        assert!((cost(5000.0) - (0.375 + 18.0 * 0.04 * 0.24)).abs() < 0.01, "{}", cost(5000.0));
        // All of it to scrap: 1.5 + 20 (0.1 - 0.06).
        assert!((cost(10.0) - (0.375 + 2.3)).abs() < 1e-9, "{}", cost(10.0));
    }

    #[test]
    fn once_a_test_is_planned_the_next_looks_elsewhere() {
        let places: Vec<Place> = [0.0, 1.6]
            .map(|phase| {
                place(vec![swinging(0.92, 0.001, 0.5), swinging(0.91, 0.06, phase)], 5000.0)
            })
            .into();
        let plan = try_next(&places, 20, 2, 3);
        assert_ne!(plan[0].place, plan[1].place);
        let again = try_next(&places, 20, 8, 3);
        assert!(again[7].gain < again[0].gain / 3.0, "{again:?}");
    }

    #[test]
    fn nothing_is_worth_trying_where_nothing_is_unknown_or_nothing_is_planned() {
        let known = place(vec![swinging(0.9, 0.0, 0.0), swinging(0.8, 0.0, 0.0)], 5000.0);
        let unplanned = place(vec![swinging(0.9, 0.05, 0.0), swinging(0.88, 0.05, 2.0)], 0.0);
        assert!(try_next(&[known, unplanned], 20, 3, 3).is_empty());
        assert!(try_next(&[], 20, 3, 3).is_empty());
    }
}
