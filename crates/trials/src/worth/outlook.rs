//! What the plays say of every blade in every place, laid out so that news about one moves all.

use nalgebra::{DMatrix, DVectorView};
use rand::SeedableRng;
use rand::rngs::Xoshiro256PlusPlus;

use super::proposal::Place;
use crate::learned::{Outcome, PLAYS, PLAYS_F64, normals};

/// Columns of plays about their means; one column a blade in a place, places in order.
pub(super) struct Outlook {
    /// Mean good rings per turn of each.
    pub(super) means: Vec<f64>,
    /// Good rings per turn, less the mean.
    yields: DMatrix<f64>,
    /// Long-run good share, less the mean.
    shares: DMatrix<f64>,
    /// What the share read off one test coil scatters about its long run.
    reading_variances: Vec<f64>,
}

impl Outlook {
    pub(super) fn of(places: &[Place], test_turns: u32) -> Outlook {
        let blades: Vec<(&Place, &Outcome)> = places
            .iter()
            .flat_map(|place| place.blades.iter().map(move |blade| (place, blade)))
            .collect();
        let mut yields = DMatrix::zeros(PLAYS, blades.len());
        let mut shares = DMatrix::zeros(PLAYS, blades.len());
        let mut means = Vec::with_capacity(blades.len());
        let mut reading_variances = Vec::with_capacity(blades.len());
        for (column, (place, blade)) in blades.into_iter().enumerate() {
            let turns = f64::from(place.money.turns.max(1));
            let plays = blade.good_share.iter().zip(&blade.lost_turns);
            for (play, (share, lost)) in plays.enumerate() {
                yields[(play, column)] = place.money.good_rings(*share, *lost) / turns;
                shares[(play, column)] = *share;
            }
            means.push(yields.column(column).mean());
            reading_variances.push(reading_variance(blade, test_turns));
        }
        centre(&mut yields);
        centre(&mut shares);
        Outlook { means, yields, shares, reading_variances }
    }

    /// How far one standard deviation of the news from a test of each of these blades moves the
    /// yield of every blade: one column a test.
    pub(super) fn slopes(&self, tests: &[usize]) -> DMatrix<f64> {
        let mut news = DMatrix::zeros(PLAYS, tests.len());
        for (mut column, test) in news.column_iter_mut().zip(tests) {
            let share = self.shares.column(*test);
            let variance = covariance(share, share);
            if variance > 0.0 {
                let sd = (variance + self.reading_variances[*test]).sqrt();
                column.copy_from(&(share / (sd * (PLAYS_F64 - 1.0))));
            }
        }
        self.yields.tr_mul(&news)
    }

    /// Takes a test as done, its result still unknown: every belief becomes as narrow as it will be
    /// then.
    pub(super) fn done(&mut self, test: usize, seed: u64) {
        let share = self.shares.column(test).clone_owned();
        let of_reading = self.reading_variances[test];
        let variance = covariance(share.as_view(), share.as_view()) + of_reading;
        if variance <= 0.0 {
            return;
        }
        let mut read = share.clone();
        let mut chance = Xoshiro256PlusPlus::seed_from_u64(seed);
        let noise = normals(&mut chance);
        let noise_mean = noise.iter().sum::<f64>() / ((PLAYS_F64 - 1.0) + 1.0);
        let noise = noise.into_iter().map(|bell| of_reading.sqrt() * (bell - noise_mean));
        read.iter_mut().zip(noise).for_each(|(read, noise)| *read += noise);
        for beliefs in [&mut self.yields, &mut self.shares] {
            for mut belief in beliefs.column_iter_mut() {
                let moved = belief.dot(&share) / (PLAYS_F64 - 1.0) / variance;
                belief.axpy(-moved, &read, 1.0);
            }
        }
    }
}

/// `E[q (1 - q) (1 + (n - 1) rho) / n]`: rings of one coil are alike.
fn reading_variance(blade: &Outcome, test_turns: u32) -> f64 {
    let turns = f64::from(test_turns.max(1));
    let plays = blade.good_share.iter().zip(&blade.likeness);
    let sum: f64 =
        plays.map(|(share, alike)| share * (1.0 - share) * (1.0 + (turns - 1.0) * alike)).sum();
    sum / turns / ((PLAYS_F64 - 1.0) + 1.0)
}

fn centre(columns: &mut DMatrix<f64>) {
    for mut column in columns.column_iter_mut() {
        let mean = column.mean();
        column.add_scalar_mut(-mean);
    }
}

fn covariance(one: DVectorView<'_, f64>, other: DVectorView<'_, f64>) -> f64 {
    one.dot(&other) / (PLAYS_F64 - 1.0)
}
