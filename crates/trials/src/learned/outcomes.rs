//! The belief about a cell in the few numbers a play that a decision needs.

use super::belief::with_write_offs;
use super::draws::GateDraws;
use super::{Learned, PLAYS, write_off_share};
use crate::fit::in_parallel;
use crate::gate::ShareTable;
use crate::play::GATES;
use crate::promise::BetaBinomial;
use crate::trial::Cell;

/// What coils of one cell come to, one entry a play in each list.
///
/// Entry `i` of two cells belongs to the same draw, so that they may be compared play by play.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Long-run good share of the turns that are not end losses.
    pub good_share: Vec<f64>,
    /// Turns lost at both ends of a coil, on average.
    pub lost_turns: Vec<f64>,
    /// How alike the rings of one coil are: 0 not at all, 1 all good or all spoiled.
    pub likeness: Vec<f64>,
}

impl Learned {
    /// What coils of every cell come to in every play, cells in the order given.
    ///
    /// # Units
    /// Shares of one; turns.
    /// # Validity
    /// The plays of [`plays`](Learned::plays) under the same seed, with the scatter of coils
    /// already averaged.
    /// # Source
    /// The reference on the statistics of the cutting trials, sections 5 and 9.
    pub fn outcomes(&self, cells: &[Cell], seed: u64) -> Vec<Outcome> {
        let draws = self.all_gate_draws(cells, seed);
        let lost = self.lost_turns(cells, seed);
        let tables = GATES.map(|gate| self.share_tables(gate));
        let numbers: Vec<usize> = (0..cells.len()).collect();
        in_parallel(&numbers, |cell| {
            let mut outcome = Outcome {
                good_share: vec![0.0; PLAYS],
                lost_turns: lost[cell * PLAYS..(cell + 1) * PLAYS].to_vec(),
                likeness: vec![0.0; PLAYS],
            };
            for play in 0..PLAYS {
                let (share, likeness) = passing_all(&draws, &tables, *cell, play);
                outcome.good_share[play] = share;
                outcome.likeness[play] = likeness;
            }
            outcome
        })
    }
}

/// The good share and the likeness of rings of one cell in one play: the gates' moments multiplied.
fn passing_all(
    draws: &[GateDraws],
    tables: &[Vec<ShareTable>; 3],
    cell: usize,
    play: usize,
) -> (f64, f64) {
    let mut share = 1.0;
    let mut moments = [1.0, 1.0];
    for gate in GATES {
        let draws = &draws[gate.index()];
        let table = &tables[gate.index()][draws.point_of_play[play]];
        let [once, twice] = table.once_and_twice_at(draws.log_odds[cell * PLAYS + play]);
        share *= with_write_offs(once, write_off_share(gate));
        moments = [moments[0] * once, moments[1] * twice];
    }
    (share, BetaBinomial::with_moments(moments[0], moments[1]).likeness())
}
