//! The belief played out: what the planning law and the chart count.

use super::draws::{GateDraws, chance, normals, points_of_plays};
use super::{EndPosterior, Learned};
use crate::dense::dot;
use crate::fit::in_parallel;
use crate::geometry::{Features, features};
use crate::model::Names;
use crate::play::{CellPlay, EndLoss, GATES};
use crate::trial::Cell;

/// Plays of every cell.
pub const PLAYS: usize = 400;
/// [`PLAYS`] as a number to calculate with.
pub(crate) const PLAYS_F64: f64 = 400.0;

impl Learned {
    /// The belief about each cell played out [`PLAYS`] times, cells in the order given.
    ///
    /// The same seed gives the same plays of a cell, whatever other cells are asked about with it;
    /// entry `i` of two cells is the same draw of all they share.
    pub fn plays(&self, cells: &[Cell], seed: u64) -> Vec<Vec<CellPlay>> {
        let unknown = self.unknown_names(cells);
        let cells: Vec<(&Cell, Features)> =
            cells.iter().map(|cell| (cell, features(cell))).collect();
        let gates = in_parallel(&GATES, |gate| self.gate_draws(*gate, &cells, &unknown, seed));
        let ends = in_parallel(&[(&self.entry, "entry"), (&self.stop, "stop")], |(end, name)| {
            end_draws(end, &cells, &unknown, seed, name)
        });
        let scatters: Vec<Vec<f64>> = gates
            .iter()
            .zip(&self.gates)
            .map(|(draws, gate)| {
                let scatter = |point: &usize| gate.points[*point].setting.scatter;
                draws.point_of_play.iter().map(scatter).collect()
            })
            .collect();
        let cell_plays = |cell: usize| {
            let from = cell * PLAYS;
            (0..PLAYS)
                .map(|play| CellPlay {
                    log_odds: GATES.map(|gate| gates[gate.index()].log_odds[from + play]),
                    coil_scatter: GATES.map(|gate| scatters[gate.index()][play]),
                    entry: ends[0][from + play],
                    stop: ends[1][from + play],
                })
                .collect()
        };
        (0..cells.len()).map(cell_plays).collect()
    }

    /// Mean turns lost at both ends, one row of plays per cell.
    pub(super) fn lost_turns(&self, cells: &[Cell], seed: u64) -> Vec<f64> {
        let unknown = self.unknown_names(cells);
        let cells: Vec<(&Cell, Features)> =
            cells.iter().map(|cell| (cell, features(cell))).collect();
        let ends = in_parallel(&[(&self.entry, "entry"), (&self.stop, "stop")], |(end, name)| {
            end_draws(end, &cells, &unknown, seed, name)
        });
        ends[0].iter().zip(&ends[1]).map(|(entry, stop)| entry.mean + stop.mean).collect()
    }

    /// Draws of the three gates, and how often each point of each gate was drawn from.
    pub(super) fn all_gate_draws(&self, cells: &[Cell], seed: u64) -> Vec<GateDraws> {
        let unknown = self.unknown_names(cells);
        let cells: Vec<(&Cell, Features)> =
            cells.iter().map(|cell| (cell, features(cell))).collect();
        in_parallel(&GATES, |gate| self.gate_draws(*gate, &cells, &unknown, seed))
    }
}

/// Losses at one end, one row of plays per cell.
fn end_draws(
    end: &EndPosterior,
    cells: &[(&Cell, Features)],
    unknown: &Names,
    seed: u64,
    name: &str,
) -> Vec<EndLoss> {
    let mut shared = chance(seed, &name);
    let point_of_play = points_of_plays(end.points.iter().map(|point| point.share), &mut shared);
    let known = end.points.first().map_or(0, |point| point.weights.len());
    let bells: Vec<Vec<f64>> = (0..known).map(|_| normals(&mut shared)).collect();
    let operator = end.unknown_operator();
    let others: Vec<Vec<f64>> = unknown
        .operators
        .iter()
        .map(|operator| normals(&mut chance(seed, &(name, operator))))
        .collect();
    let weights: Vec<Vec<f64>> = (0..PLAYS)
        .map(|play| {
            let point = &end.points[point_of_play[play]];
            let mut draw: Vec<f64> = bells.iter().map(|bells| bells[play]).collect();
            point.factor.solve_upper(&mut draw);
            let mut weights: Vec<f64> =
                point.weights.iter().zip(draw).map(|(middle, draw)| middle + draw).collect();
            weights.extend(others.iter().map(|bells| operator.mean + operator.sd * bells[play]));
            weights
        })
        .collect();
    let mut losses = Vec::with_capacity(cells.len() * PLAYS);
    for (cell, features) in cells {
        let row = end.row(cell, features, &unknown.operators);
        losses.extend(weights.iter().zip(&point_of_play).map(|(weights, point)| EndLoss {
            mean: dot(&row, weights).exp(),
            size: end.points[*point].size,
        }));
    }
    losses
}
