//! Why the model believes what it does of a cell: what geometry says, what other trials add, what
//! the cell's own trials add.

use super::Learned;
use crate::dense::dot;
use crate::geometry::features;
use crate::model::{QUIRK_OF_DEPARTURE, Term};
use crate::play::{GATES, Gate};
use crate::trial::Cell;

/// Why the log odds of one gate of one cell are believed to be what they are.
///
/// `geometry + elsewhere + own_trials` is the mean; `of_slopes + of_blade + of_sizes + of_people +
/// of_quirk` is `elsewhere + own_trials`, split the other way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GateStory {
    /// The gate.
    pub gate: Gate,
    /// Mean of the log odds of passing.
    pub mean: f64,
    /// Standard deviation of the belief about them, doubt not included.
    pub sd: f64,
    /// What geometry alone says.
    pub geometry: f64,
    /// What the workshop's trials in other cells add.
    pub elsewhere: f64,
    /// What the trials in this very cell add.
    pub own_trials: f64,
    /// Added because the trials moved the steps of geometry itself, tape and lubricant included.
    pub of_slopes: f64,
    /// Added for this blade.
    pub of_blade: f64,
    /// Added for sizes like this one.
    pub of_sizes: f64,
    /// Added for this metal and this operator.
    pub of_metal_and_operator: f64,
    /// Added for this very cell.
    pub of_quirk: f64,
    /// Trials in this very cell.
    pub trials_here: usize,
}

impl Learned {
    /// Why the model believes what it does of a cell, gate by gate.
    ///
    /// What the cell's own trials add is the difference to the belief with their part of the
    /// likelihood taken out, as a bell curve in the cell's log odds.
    pub fn explain(&self, cell: &Cell) -> [GateStory; 3] {
        GATES.map(|gate| self.gate_story(gate, cell))
    }

    fn gate_story(&self, gate: Gate, cell: &Cell) -> GateStory {
        let unknown = self.unknown_names(std::slice::from_ref(cell));
        let (layout, places) = self.widened(gate, &unknown);
        let mut row = Vec::new();
        layout.push_row(cell, &features(cell), &mut row);
        let priors: Vec<_> =
            layout.terms().iter().filter_map(|term| self.prior.term(gate, term)).collect();
        let geometry: f64 = row.iter().zip(&priors).map(|(x, prior)| x * prior.mean()).sum();
        let tested = self.design.sites.cells.get(&cell.key()).copied();

        let mut story = GateStory {
            gate,
            mean: 0.0,
            sd: 0.0,
            geometry,
            elsewhere: 0.0,
            own_trials: 0.0,
            of_slopes: 0.0,
            of_blade: 0.0,
            of_sizes: 0.0,
            of_metal_and_operator: 0.0,
            of_quirk: 0.0,
            trials_here: self.trials_in(&cell.key()),
        };
        let mut mean_square = 0.0;
        for (k, point) in self.gates[gate.index()].points.iter().enumerate() {
            let (share, mode) = (point.share, &point.mode);
            let mut mean = geometry;
            let mut lean = vec![0.0; places.len()];
            for (i, place) in places.iter().enumerate() {
                lean[i] = row[*place];
                let added = row[*place] * (mode.weights[i] - priors[*place].mean());
                mean += added;
                *story.part(&layout.terms()[*place]) += share * added;
            }
            // Columns the trials do not know keep their prior's spread.
            let mut variance: f64 = (0..row.len())
                .filter(|column| !places.contains(column))
                .map(|column| (row[column] * priors[column].sd(point.setting.departure)).powi(2))
                .sum();
            let mut own = 0.0;
            if let Some(cell) = tested {
                let precision = mode.quirk_precision[cell];
                for (lean, cross) in lean.iter_mut().zip(self.quirk_cross(gate, k, cell)) {
                    *lean -= cross / precision;
                }
                variance += 1.0 / precision;
                mean += mode.quirks[cell];
                story.of_quirk += share * mode.quirks[cell];
            } else {
                variance += (QUIRK_OF_DEPARTURE * point.setting.departure).powi(2);
            }
            mode.factor.solve_lower(&mut lean);
            variance += dot(&lean, &lean);
            if let Some(cell) = tested {
                let sites = &self.design.sites.sites_of_cell[cell];
                let curvature: f64 = sites.iter().map(|site| mode.site_curvature[*site]).sum();
                let slope: f64 = sites.iter().map(|site| mode.site_slope[*site]).sum();
                let without = 1.0 / variance - curvature;
                if without > 0.0 {
                    own = slope / without;
                }
            }
            story.mean += share * mean;
            story.own_trials += share * own;
            mean_square += share * (variance + mean * mean);
        }
        story.sd = (mean_square - story.mean * story.mean).max(0.0).sqrt();
        story.elsewhere = story.mean - story.geometry - story.own_trials;
        story
    }
}

impl GateStory {
    /// The part a term belongs to.
    fn part(&mut self, term: &Term) -> &mut f64 {
        match term {
            Term::Blade(..) => &mut self.of_blade,
            Term::Smooth(_) => &mut self.of_sizes,
            Term::Metal(_) | Term::Operator(_) => &mut self.of_metal_and_operator,
            Term::Intercept
            | Term::Sever(_)
            | Term::Far(_)
            | Term::Teeth
            | Term::Kerf
            | Term::Crush(_)
            | Term::Tape
            | Term::Lubricant
            | Term::Sharpness => &mut self.of_slopes,
        }
    }
}
