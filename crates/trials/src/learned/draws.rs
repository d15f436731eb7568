//! Draws of the log odds of many cells at one gate, from the few bell curves that stand for the belief.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use nalgebra::DMatrix;
use rand::rngs::Xoshiro256PlusPlus;
use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;

use super::{Learned, PLAYS, PLAYS_F64};
use crate::dense::{add_scaled, dot};
use crate::geometry::Features;
use crate::model::{Layout, Names, QUIRK_OF_DEPARTURE, Term, add_name};
use crate::number::real;
use crate::play::Gate;
use crate::trial::Cell;

/// Spread of the log odds about their mean is widened by this: what the model itself may have wrong.
/// Set from the reference's simulated workshops, where bands without it covered too little.
pub const DOUBT: f64 = 1.15;

/// Log odds below which trials no longer tell one shape of curve from another: one ring in twenty.
const TAIL_FROM: f64 = -3.0;
/// How much steeper than the logistic curve the log odds may go on falling there, as a share of the
/// way beyond [`TAIL_FROM`]: the standard deviation of a bell curve folded at nothing. Chosen on
/// simulated workshops 101 to 116; `docs/theory/trials.md`, section 5.
const TAIL_DOUBT: f64 = 0.5;

/// Draws of one gate.
pub(super) struct GateDraws {
    /// Which of the gate's points each play came from.
    pub point_of_play: Vec<usize>,
    /// Log odds, one row of plays per cell.
    pub log_odds: Vec<f64>,
}

/// A source of chance that depends on the seed and on what it is for, and on nothing else: the
/// chance of a cell is the same whatever other cells are asked about.
pub(super) fn chance(seed: u64, purpose: &impl Hash) -> Xoshiro256PlusPlus {
    let mut hasher = DefaultHasher::new();
    seed.hash(&mut hasher);
    purpose.hash(&mut hasher);
    Xoshiro256PlusPlus::seed_from_u64(hasher.finish())
}

/// Which point each play comes from: as near to the shares as whole plays allow, in random order.
pub(super) fn points_of_plays(
    shares: impl Iterator<Item = f64>,
    chance: &mut Xoshiro256PlusPlus,
) -> Vec<usize> {
    let start: f64 = chance.random();
    let mut points = Vec::with_capacity(PLAYS);
    let mut filled = 0.0;
    for (point, share) in shares.enumerate() {
        filled += share * PLAYS_F64;
        while points.len() < PLAYS && real(points.len()) + start < filled {
            points.push(point);
        }
    }
    let last = points.last().copied().unwrap_or(0);
    points.resize(PLAYS, last);
    points.shuffle(chance);
    points
}

impl Learned {
    /// Names among the cells that the trials do not know.
    pub(super) fn unknown_names(&self, cells: &[Cell]) -> Names {
        let known = &self.design.names;
        // Without any trial the first cell's operator is the one the others are compared with.
        let reference = match self.trials() {
            0 => cells.first().and_then(|cell| cell.parts().operator.clone()),
            _ => self.design.reference_operator.clone(),
        };
        let mut unknown = Names::default();
        for parts in cells.iter().map(Cell::parts) {
            if !known.blades.contains(&parts.blade.name) {
                add_name(&mut unknown.blades, &parts.blade.name);
            }
            if !known.metals.contains(&parts.metal) {
                add_name(&mut unknown.metals, &parts.metal);
            }
            if let Some(operator) = &parts.operator
                && Some(operator) != reference.as_ref()
                && !known.operators.contains(operator)
            {
                add_name(&mut unknown.operators, operator);
            }
        }
        unknown
    }

    /// Columns of a gate for the names of the trials and of the cells, and where each column of the
    /// trials is among them.
    pub(super) fn widened(&self, gate: Gate, unknown: &Names) -> (Layout, Vec<usize>) {
        let layout = Layout::new(gate, &self.design.names.and(unknown), &self.prior);
        let places: HashMap<&Term, usize> =
            layout.terms().iter().enumerate().map(|(i, term)| (term, i)).collect();
        let base = self.gates[gate.index()].layout.terms();
        let places = base.iter().map(|term| places[term]).collect();
        (layout, places)
    }

    /// Draws of the log odds of every cell at one gate.
    pub(super) fn gate_draws(
        &self,
        gate: Gate,
        cells: &[(&Cell, Features)],
        unknown: &Names,
        seed: u64,
    ) -> GateDraws {
        let (layout, places) = self.widened(gate, unknown);
        let width = layout.len();
        let posterior = &self.gates[gate.index()];
        let mut shared = chance(seed, &("weights", gate.index()));
        let point_of_play =
            points_of_plays(posterior.points.iter().map(|point| point.share), &mut shared);
        let mut known = vec![false; width];
        places.iter().for_each(|place| known[*place] = true);
        // One row of independent numbers per unknown column, the same whatever else is asked.
        let unknown_columns: Vec<(usize, Vec<f64>)> = (0..width)
            .filter(|column| !known[*column])
            .map(|column| {
                (column, normals(&mut chance(seed, &(gate.index(), &layout.terms()[column]))))
            })
            .collect();
        let bells: Vec<Vec<f64>> = (0..places.len()).map(|_| normals(&mut shared)).collect();

        let mut rows = Vec::with_capacity(cells.len() * width);
        for (cell, features) in cells {
            layout.push_row(cell, features, &mut rows);
        }
        let tested: Vec<Option<usize>> = cells
            .iter()
            .map(|(cell, _)| self.design.sites.cells.get(&cell.key()).copied())
            .collect();
        let quirks: Vec<Vec<f64>> = cells
            .iter()
            .map(|(cell, _)| normals(&mut chance(seed, &("quirk", gate.index(), cell.key()))))
            .collect();

        let mut log_odds = vec![0.0; cells.len() * PLAYS];
        for (k, point) in posterior.points.iter().enumerate() {
            let plays: Vec<usize> = (0..PLAYS).filter(|play| point_of_play[*play] == k).collect();
            if plays.is_empty() {
                continue;
            }
            let mode = &point.mode;
            let mut middle = vec![0.0; width];
            places.iter().zip(&mode.weights).for_each(|(place, weight)| middle[*place] = *weight);
            let mut spread = DMatrix::zeros(plays.len(), width);
            let mut draw = vec![0.0; places.len()];
            for (row, play) in plays.iter().enumerate() {
                draw.iter_mut().zip(&bells).for_each(|(draw, bells)| *draw = bells[*play]);
                mode.factor.solve_upper(&mut draw);
                places.iter().zip(&draw).for_each(|(place, draw)| spread[(row, *place)] = *draw);
            }
            for (column, bells) in &unknown_columns {
                let Some(prior) = self.prior.term(gate, &layout.terms()[*column]) else { continue };
                middle[*column] = prior.mean();
                let sd = prior.sd(point.setting.departure);
                for (row, play) in plays.iter().enumerate() {
                    spread[(row, *column)] = sd * bells[*play];
                }
            }
            // A tried cell's quirk leans against the weights it was learned with.
            let mut leaning = DMatrix::from_column_slice(width, cells.len(), &rows);
            let mut middles = Vec::with_capacity(cells.len());
            let mut quirk_sds = Vec::with_capacity(cells.len());
            for (i, tested) in tested.iter().enumerate() {
                let mut column = leaning.column_mut(i);
                let plain = dot(column.as_slice(), &middle);
                match tested {
                    Some(cell) => {
                        middles.push(plain + mode.quirks[*cell]);
                        let precision = mode.quirk_precision[*cell];
                        quirk_sds.push(1.0 / precision.sqrt());
                        let cross = self.quirk_cross(gate, k, *cell);
                        for (place, cross) in places.iter().zip(cross) {
                            column[*place] -= cross / precision;
                        }
                    }
                    None => {
                        middles.push(plain);
                        quirk_sds.push(QUIRK_OF_DEPARTURE * point.setting.departure);
                    }
                }
            }
            let drawn = spread * leaning;
            for (i, column) in drawn.column_iter().enumerate() {
                let all = &mut log_odds[i * PLAYS..(i + 1) * PLAYS];
                for (play, value) in plays.iter().zip(column.iter()) {
                    all[*play] = middles[i] + value + quirk_sds[i] * quirks[i][*play];
                }
            }
        }
        let steeper = normals(&mut chance(seed, &("tail", gate.index())));
        for plays in log_odds.chunks_exact_mut(PLAYS) {
            let mean = plays.iter().sum::<f64>() / PLAYS_F64;
            for (play, steeper) in plays.iter_mut().zip(&steeper) {
                *play = steepened(mean + DOUBT * (*play - mean), TAIL_DOUBT * steeper.abs());
            }
        }
        GateDraws { point_of_play, log_odds }
    }

    /// How a cell's quirk and the weights are tied: `sum W x` over the cell's trials, base columns.
    pub(super) fn quirk_cross(&self, gate: Gate, point: usize, cell: usize) -> Vec<f64> {
        let design = &self.design.gates[gate.index()];
        let mode = &self.gates[gate.index()].points[point].mode;
        let first = design.layout.site_terms();
        let circumstances = design.layout.len() - first;
        let mut cross = vec![0.0; design.layout.len()];
        for &site in &self.design.sites.sites_of_cell[cell] {
            let columns = &design.site_columns[site * first..(site + 1) * first];
            add_scaled(&mut cross[..first], mode.site_curvature[site], columns);
            let summed = &mode.site_columns[site * circumstances..(site + 1) * circumstances];
            add_scaled(&mut cross[first..], 1.0, summed);
        }
        cross
    }
}

/// Log odds that fall `by` of themselves faster once they are below [`TAIL_FROM`].
fn steepened(log_odds: f64, by: f64) -> f64 {
    log_odds + by * (log_odds - TAIL_FROM).min(0.0)
}

/// One bell-shaped number per play.
pub(crate) fn normals(chance: &mut Xoshiro256PlusPlus) -> Vec<f64> {
    (0..PLAYS).map(|_| chance.sample(StandardNormal)).collect()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::SQRT_2;

    use statrs::function::erf::erfc;

    use super::*;

    #[test]
    fn only_the_lower_tail_is_steepened_and_without_a_jump() {
        for log_odds in [-3.0, -1.0, 0.0, 6.0] {
            assert!((steepened(log_odds, 0.8) - log_odds).abs() < 1e-12);
        }
        assert!((steepened(-5.0, 0.5) + 6.0).abs() < 1e-12);
        assert!((steepened(-8.0, 0.0) + 8.0).abs() < 1e-12);
    }

    // Outside: the error function of the statrs library. 1.702 logits go to one standard deviation,
    // the usual factor between the two curves.
    #[test]
    fn a_bell_shaped_truth_lies_within_what_the_tail_allows() {
        for log_odds in [-5.0, -8.0_f64] {
            let below = 0.5 * erfc(-log_odds / 1.702 / SQRT_2);
            let bell = (below / (1.0 - below)).ln();
            let by = (bell - log_odds) / (log_odds - TAIL_FROM);
            assert!((0.5..2.4).contains(&(by / TAIL_DOUBT)), "{log_odds}: {by}");
        }
    }
}
