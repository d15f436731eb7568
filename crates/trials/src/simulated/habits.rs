//! Which coils are cut: as a jeweller works, or spread evenly to try the chart's word.

use rand::{Rng, RngExt};

use super::bench::{Circumstances, OPERATORS, sizes, some_metal};
use super::chance::{bell, chance, pick};
use super::coil::Sitting;
use super::truth::BLADE_LIFE_RINGS;
use super::{SimulatedError, Workshop};
use crate::geometry::features;
use crate::trial::{Cell, TrialRow};

/// Sizes most often made: wire in mm, mandrel over wire, and the spreads of their logarithms.
const POPULAR: [(f64, f64); 2] = [(1.0, 0.4), (4.5, 0.4)];
/// How much more one workshop makes of a size than another, as a logarithm.
const TASTE: f64 = 0.7;
/// How much more one workshop likes a blade than another, as a logarithm.
const LIKING: f64 = 0.5;
/// What is left of the liking for a blade that the eye says is wrong for the size.
const WRONG: f64 = 0.12;
/// Jobs of a session, and coils of a job, at most.
const JOBS_MOST: u32 = 3;
/// See [`JOBS_MOST`].
const COILS_MOST: u32 = 4;
/// Fewest and most turns of a coil, and the length of the holder in mm.
const TURNS: [u32; 2] = [12, 60];
/// See [`TURNS`].
const HOLDER_MM: f64 = 75.0;
/// Share of jobs taped, and of those cut with lubricant.
const TAPED: f64 = 0.7;
/// See [`TAPED`].
const LUBRICATED: f64 = 0.4;
/// Share of jobs in the usual metal.
const USUAL_METAL: f64 = 0.6;

impl Workshop {
    /// The first trials of the workshop as a jeweller makes them: sessions of a few jobs, a job of
    /// one to four coils, popular sizes far more often, blades that look right for the size.
    ///
    /// # Errors
    /// [`SimulatedError`] if a number of the tables leaves the limits of the model.
    pub fn trials(&self, count: usize) -> Result<Vec<TrialRow>, SimulatedError> {
        let mut source = chance(self.seed, &["trials"]);
        let chart = self.chart()?;
        let weights = self.popularity(&chart);
        let mut rings = vec![0.0; self.bench.blades.len()];
        let mut rows = Vec::with_capacity(count);
        loop {
            let session = self.session(&mut source);
            let operator = OPERATORS[pick(&mut source, &OPERATORS.map(|(_, share)| share))].0;
            for _ in 0..source.random_range(1..=JOBS_MOST) {
                let place = pick(&mut source, &weights);
                let job = Circumstances { operator, ..self.some_circumstances(&mut source) };
                for _ in 0..source.random_range(1..=COILS_MOST) {
                    if rows.len() == count {
                        return Ok(rows);
                    }
                    let blade = place % rings.len();
                    let turns = self.turns(&chart[place], &mut source);
                    let counted = self.bench.counts_rings.then_some(rings[blade]);
                    let job = Circumstances { rings_cut_since_new: counted, ..job.clone() };
                    let cell = self.cell(size_of(&chart[place]), blade, &job)?;
                    let sitting = Sitting { session, rings: rings[blade] };
                    let counts = self.cut(&cell, turns, sitting, &mut source);
                    rows.push(TrialRow::new(cell, turns, counts)?);
                    rings[blade] += f64::from(turns);
                    let [fewest, most] = BLADE_LIFE_RINGS;
                    if rings[blade] > fewest + (most - fewest) * source.random::<f64>() {
                        rings[blade] = 0.0;
                    }
                }
            }
        }
    }

    /// Coils spread evenly over the chart, metals, people and circumstances, each in a session of
    /// its own: what a chart's word is tried on. None of them is among [`Workshop::trials`].
    ///
    /// # Errors
    /// [`SimulatedError`] if a number of the tables leaves the limits of the model.
    pub fn held_out(&self, count: usize) -> Result<Vec<TrialRow>, SimulatedError> {
        let mut source = chance(self.seed, &["held out"]);
        let chart = self.chart()?;
        let mut rows = Vec::with_capacity(count);
        for _ in 0..count {
            let place = source.random_range(0..chart.len());
            let operator = OPERATORS[source.random_range(0..OPERATORS.len())].0;
            let job = Circumstances { operator, ..self.some_circumstances(&mut source) };
            let cell = self.cell(size_of(&chart[place]), place % self.bench.blades.len(), &job)?;
            let turns = self.turns(&cell, &mut source);
            let counts = self.coil(&cell, turns, &mut source);
            rows.push(TrialRow::new(cell, turns, counts)?);
        }
        Ok(rows)
    }

    /// How much of each size is made, in the order of the chart: this workshop's taste.
    pub(crate) fn popularity_of_sizes(&self) -> Vec<f64> {
        let mut source = chance(self.seed, &["taste"]);
        sizes()
            .map(|(wire_mm, mandrel_mm)| {
                let far: f64 = [wire_mm, mandrel_mm / wire_mm]
                    .into_iter()
                    .zip(POPULAR)
                    .map(|(value, (middle, spread))| ((value / middle).ln() / spread).powi(2))
                    .sum();
                (bell(&mut source, 0.0, TASTE) - 0.5 * far).exp()
            })
            .collect()
    }

    /// How often each cell of the chart is cut.
    fn popularity(&self, chart: &[Cell]) -> Vec<f64> {
        let mut source = chance(self.seed, &["taste"]);
        // Tastes come first from this source; the likings follow them.
        for _ in sizes() {
            bell(&mut source, 0.0, TASTE);
        }
        let likings: Vec<f64> =
            self.bench.blades.iter().map(|_| bell(&mut source, 0.0, LIKING).exp()).collect();
        let of_sizes = self.popularity_of_sizes();
        let blades = likings.len();
        chart
            .iter()
            .enumerate()
            .map(|(place, cell)| {
                let f = features(cell);
                let wrong = f.sever_margin_mm < 0.05 || f.far_margin_mm < 0.1;
                let sense = if wrong { WRONG } else { 1.0 };
                sense * of_sizes[place / blades] * likings[place % blades]
            })
            .collect()
    }

    fn some_circumstances(&self, source: &mut impl Rng) -> Circumstances {
        let usual = source.random::<f64>() < USUAL_METAL;
        let other = some_metal(source).unwrap_or(self.bench.metal);
        let (metal, yield_strength) = if usual { self.bench.metal } else { other };
        let [middle, _] = BLADE_LIFE_RINGS;
        let age = (source.random::<f64>() * middle).round();
        Circumstances {
            metal,
            yield_strength,
            taped: source.random::<f64>() < TAPED,
            lubricated: source.random::<f64>() < LUBRICATED,
            operator: OPERATORS[0].0,
            rings_cut_since_new: self.bench.counts_rings.then_some(age),
        }
    }

    /// Turns of a coil of that wire.
    fn turns(&self, cell: &Cell, source: &mut impl Rng) -> u32 {
        let turns = source.random_range(TURNS[0]..=TURNS[1]);
        let fit = HOLDER_MM / cell.parts().wire.diameter().mm();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "36 to 188")]
        let fit = fit as u32;
        turns.min(fit)
    }
}

fn size_of(cell: &Cell) -> (f64, f64) {
    (cell.parts().wire.diameter().mm(), cell.parts().mandrel.diameter().mm())
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn a_jeweller_leaves_most_of_the_chart_untried() {
        let untried = |count: usize| {
            let shares: Vec<f64> = (0..8)
                .map(|seed| {
                    let rows = Workshop::new(seed).unwrap().trials(count).unwrap();
                    let tried: HashSet<_> = rows.iter().map(|row| row.cell().key()).collect();
                    1.0 - f64::from(u32::try_from(tried.len()).unwrap()) / 720.0
                })
                .collect();
            shares.iter().sum::<f64>() / 8.0
        };
        let (few, many) = (untried(20), untried(2000));
        assert!(few > 0.97, "{few}");
        assert!((0.5..0.8).contains(&many), "{many}");
    }

    #[test]
    fn the_first_trials_stay_the_first() {
        let workshop = Workshop::new(9).unwrap();
        assert_eq!(workshop.trials(30).unwrap(), workshop.trials(90).unwrap()[..30]);
        assert_ne!(workshop.trials(30).unwrap(), Workshop::new(10).unwrap().trials(30).unwrap());
    }

    #[test]
    fn rings_are_counted_where_the_workshop_counts_them() {
        for seed in 0..6 {
            let workshop = Workshop::new(seed).unwrap();
            let counts = workshop.bench().counts_rings;
            for row in workshop.trials(40).unwrap().iter().chain(&workshop.held_out(10).unwrap()) {
                assert_eq!(row.cell().parts().rings_cut_since_new.is_some(), counts);
            }
        }
    }
}
