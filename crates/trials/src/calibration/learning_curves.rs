//! What following the chart still loses after so many test coils, by how the tests were chosen.

use rand::rngs::Xoshiro256PlusPlus;
use rand::{RngExt, SeedableRng};

use super::table::Figure;
use crate::decide::{CoilMoney, decide};
use crate::fit::in_parallel;
use crate::learned::{Learned, Outcome};
use crate::model::Prior;
use crate::number::real;
use crate::promise::CoilCost;
use crate::simulated::{SimulatedError, Workshop};
use crate::trial::{Cell, TrialRow};
use crate::worth::{Place, try_next};

/// How the next test coil is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Testing {
    /// Any cell of the chart, each as likely as any other.
    Random,
    /// The cell whose good share is least known: the widest 80 % band.
    WidestBand,
    /// What [`try_next`] says.
    Worth,
}

/// What a workshop makes of each size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sales {
    /// As much of every size.
    Even,
    /// Popular sizes far more.
    Popular,
}

/// Trials of the workshop before the first test.
const TRIALS_BEFORE: usize = 8;
/// Turns of a test coil.
const TEST_TURNS: u32 = 20;
/// Seed of plays and of plans.
const SEED: u64 = 1;
/// A turn costs half of what a good ring is worth: a size that gives less than half is left uncut.
const MONEY: CoilMoney = CoilMoney {
    ring_value: 1.0,
    cost: CoilCost { per_coil: 0.0, per_turn: 0.5, scrap_per_turn: 0.0 },
    turns: 30,
};
/// Turns the workshop means to cut, over all sizes. Nothing depends on it: tests cost alike.
const PLANNED_TURNS: f64 = 1e4;

/// Good rings per turn that are lost by following the chart instead of the truth, weighed by what
/// is sold, after each of the given numbers of tests; the mean over the workshops of the seeds.
///
/// # Units
/// Good rings per turn.
/// # Errors
/// [`SimulatedError`] if a number of a workshop leaves the limits of the model.
pub fn learning_curve(
    seeds: &[u64],
    testing: Testing,
    sales: Sales,
    tests: &[usize],
) -> Result<Vec<Figure>, SimulatedError> {
    let curves: Vec<Vec<f64>> =
        in_parallel(seeds, |seed| Course::new(*seed, sales)?.run(testing, tests))
            .into_iter()
            .collect::<Result<_, _>>()?;
    Ok((0..tests.len())
        .map(|place| Figure::of(curves.iter().map(|curve| curve[place]).collect()))
        .collect())
}

/// One workshop on its course of tests.
struct Course {
    workshop: Workshop,
    chart: Vec<Cell>,
    blades: usize,
    /// Share of each size in what is sold.
    sold: Vec<f64>,
    /// True good rings per turn of each cell.
    truth: Vec<f64>,
    rows: Vec<TrialRow>,
    source: Xoshiro256PlusPlus,
}

impl Course {
    fn new(seed: u64, sales: Sales) -> Result<Course, SimulatedError> {
        let workshop = Workshop::new(seed)?;
        let chart = workshop.chart()?;
        let blades = workshop.bench().blades.len();
        let popular = workshop.popularity_of_sizes();
        let total: f64 = popular.iter().sum();
        let even = real(popular.len());
        let sold = popular
            .iter()
            .map(|weight| if sales == Sales::Even { 1.0 / even } else { weight / total })
            .collect();
        let turns = f64::from(MONEY.turns);
        let truth = chart
            .iter()
            .map(|cell| {
                let good = workshop.true_good_share(cell);
                MONEY.good_rings(good, workshop.true_lost_turns(cell)) / turns
            })
            .collect();
        let rows = workshop.trials(TRIALS_BEFORE)?;
        let source = Xoshiro256PlusPlus::seed_from_u64(seed);
        Ok(Course { workshop, chart, blades, sold, truth, rows, source })
    }

    fn run(mut self, testing: Testing, tests: &[usize]) -> Result<Vec<f64>, SimulatedError> {
        let mut learned = Learned::fit(&self.rows, &Prior::geometry());
        let mut curve = Vec::with_capacity(tests.len());
        let mut done = 0;
        for &wanted in tests {
            while done < wanted {
                learned = self.test(testing, learned)?;
                done += 1;
            }
            learned = Learned::fit(&self.rows, &Prior::geometry());
            curve.push(self.lost(&learned));
        }
        Ok(curve)
    }

    /// What following the chart loses.
    fn lost(&self, learned: &Learned) -> f64 {
        let outcomes = self.outcomes(learned);
        let break_even = MONEY.break_even();
        let truths = self.truth.chunks_exact(self.blades);
        let places = outcomes.iter().zip(truths).zip(&self.sold);
        places
            .map(|((blades, truth), sold)| {
                let best = truth.iter().copied().fold(break_even, f64::max);
                let chosen = decide(blades, MONEY, None).choice;
                sold * (best - chosen.map_or(break_even, |blade| truth[blade]))
            })
            .sum()
    }

    fn outcomes(&self, learned: &Learned) -> Vec<Vec<Outcome>> {
        let all = learned.outcomes(&self.chart, SEED);
        all.chunks(self.blades).map(<[Outcome]>::to_vec).collect()
    }

    /// The cell to test next.
    fn next(&mut self, testing: Testing, learned: &Learned) -> usize {
        let any = self.source.random_range(0..self.chart.len());
        match testing {
            Testing::Random => any,
            Testing::WidestBand => {
                let widths = learned.beliefs(&self.chart, SEED).into_iter().map(|belief| {
                    let [low, high] = belief.good_share_80;
                    high - low
                });
                let widest = widths.enumerate().max_by(|(_, a), (_, b)| a.total_cmp(b));
                widest.map_or(any, |(cell, _)| cell)
            }
            Testing::Worth => {
                let places: Vec<Place> = self
                    .outcomes(learned)
                    .into_iter()
                    .zip(&self.sold)
                    .map(|(blades, sold)| Place {
                        blades,
                        money: MONEY,
                        planned_turns: PLANNED_TURNS * sold,
                    })
                    .collect();
                let plan = try_next(&places, TEST_TURNS, 1, SEED);
                plan.first().map_or(any, |test| test.place * self.blades + test.blade)
            }
        }
    }

    /// Cuts a test coil and learns from it.
    fn test(&mut self, testing: Testing, learned: Learned) -> Result<Learned, SimulatedError> {
        let cell = self.next(testing, &learned);
        let counts = self.workshop.coil(&self.chart[cell], TEST_TURNS, &mut self.source);
        self.rows.push(TrialRow::new(self.chart[cell].clone(), TEST_TURNS, counts)?);
        // Nobody asks before the next row of the table where the choice does not.
        Ok(if testing == Testing::Random { learned } else { learned.refit_with(&self.rows) })
    }
}
