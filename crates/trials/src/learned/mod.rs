//! What a workshop's trials taught, and every question it answers.

mod belief;

mod draws;

mod explain;

mod outcomes;

mod plays;

use std::collections::HashMap;
use std::sync::Arc;

pub use belief::Belief;
pub(crate) use belief::quantile;
pub(crate) use draws::normals;
pub use explain::GateStory;
pub use outcomes::Outcome;
pub use plays::PLAYS;
pub(crate) use plays::PLAYS_F64;

use crate::fit::{
    End, EndPosterior, GateJob, GatePosterior, ModeQuery, Point, Setting, in_parallel, reweigh,
    search, single,
};
use crate::gate::WRITE_OFF_SHARE;
use crate::geometry::{Features, features};
use crate::model::{Design, Prior, Term, TermPrior};
use crate::play::{GATES, Gate};
use crate::trial::{CellKey, TrialRow};

/// What a workshop's trials taught.
#[derive(Clone, Debug)]
pub struct Learned {
    prior: Arc<Prior>,
    design: Design,
    gates: Vec<GatePosterior>,
    entry: EndPosterior,
    stop: EndPosterior,
}

/// Share of write-offs of a gate: only the clamp spoils a whole coil.
pub(crate) fn write_off_share(gate: Gate) -> f64 {
    if gate == Gate::Kept { WRITE_OFF_SHARE } else { 0.0 }
}

/// What is believed of each column of a gate before the trials.
pub(crate) fn column_priors(design: &Design, prior: &Prior, gate: Gate) -> Vec<TermPrior> {
    let terms = design.gates[gate.index()].layout.terms();
    terms.iter().filter_map(|term| prior.term(gate, term)).collect()
}

impl Learned {
    /// Learns from all trials afresh, with the settings of scatter and departure searched for.
    ///
    /// No trial at all is an answer too: geometry alone, with wide bands.
    pub fn fit(rows: &[TrialRow], prior: &Prior) -> Learned {
        Learned::with(rows, Arc::new(prior.clone()), None, search)
    }

    /// Learns from all trials at one scatter and one departure from geometry, the same for each
    /// gate, in log odds.
    pub fn fit_at(rows: &[TrialRow], prior: &Prior, scatter: f64, departure: f64) -> Learned {
        let setting = Setting { scatter, departure };
        Learned::with(rows, Arc::new(prior.clone()), None, |jobs| {
            in_parallel(jobs, |job| single(job, setting))
        })
    }

    /// Learns from the trials as they stand now, all of them, starting from what is known: the
    /// settings that remained likely are kept and weighed anew. For one more trial this is as good
    /// as [`Learned::fit`] and a good deal faster.
    pub fn refit_with(&self, rows: &[TrialRow]) -> Learned {
        Learned::with(rows, Arc::clone(&self.prior), Some(self), |jobs| {
            let starts: Vec<Vec<Point>> =
                self.gates.iter().zip(jobs).map(|(gate, job)| self.moved(gate, job)).collect();
            reweigh(jobs, &starts)
        })
    }

    fn with(
        rows: &[TrialRow],
        prior: Arc<Prior>,
        start: Option<&Learned>,
        points: impl FnOnce(&[GateJob<'_>]) -> Vec<Vec<Point>>,
    ) -> Learned {
        let rows: Vec<(&TrialRow, Features)> =
            rows.iter().map(|row| (row, features(row.cell()))).collect();
        let design = Design::new(&rows, &prior);
        let priors = GATES.map(|gate| column_priors(&design, &prior, gate));
        let jobs = GATES.map(|gate| GateJob {
            query: ModeQuery {
                sites: &design.sites,
                gate: &design.gates[gate.index()],
                prior: &priors[gate.index()],
                write_off_share: write_off_share(gate),
            },
            prior: &prior.gates[gate.index()],
        });
        let points = points(&jobs);
        let end = |end, prior, start| {
            EndPosterior::fit(end, &rows, &design.names.operators, prior, start)
        };
        let entry = end(End::Entry, &prior.entry, start.map(|start| &start.entry));
        let stop = end(End::Stop, &prior.stop, start.map(|start| &start.stop));
        let gates = design
            .gates
            .iter()
            .zip(priors)
            .zip(points)
            .map(|((gate, prior), points)| GatePosterior {
                layout: gate.layout.clone(),
                prior,
                points,
            })
            .collect();
        Learned { prior, design, gates, entry, stop }
    }
}

impl Learned {
    /// The points of one gate with their modes laid out for the trials as they stand now.
    fn moved(&self, gate: &GatePosterior, job: &GateJob<'_>) -> Vec<Point> {
        let ModeQuery { sites, gate: design, prior, .. } = job.query;
        let known: HashMap<&Term, usize> =
            gate.layout.terms().iter().enumerate().map(|(i, term)| (term, i)).collect();
        let columns: Vec<Option<usize>> =
            design.layout.terms().iter().map(|term| known.get(term).copied()).collect();
        let mut cells = vec![None; sites.sites_of_cell.len()];
        for (key, cell) in &sites.cells {
            cells[*cell] = self.design.sites.cells.get(key).copied();
        }
        let middles: Vec<f64> = prior.iter().map(|prior| prior.mean()).collect();
        gate.points
            .iter()
            .map(|point| point.moved(&columns, &middles, &cells, design.counts.len()))
            .collect()
    }

    /// Trials of one cell, whatever metal and circumstances.
    pub fn trials_in(&self, cell: &CellKey) -> usize {
        let sites = &self.design.sites;
        sites.cells.get(cell).map_or(0, |cell| sites.trials_of_cell[*cell])
    }

    /// Cells with a trial or more.
    pub fn cells_tried(&self) -> usize {
        self.design.sites.cells.len()
    }

    /// Trials in all.
    pub fn trials(&self) -> usize {
        self.design.sites.site_of_row.len()
    }
}

/// What a test or a page may want to see of the fit itself.
impl Learned {
    /// Log evidence for what is believed of a gate, at its most likely setting; constants that the
    /// trials do not change are left out.
    pub fn ln_evidence(&self, gate: Gate) -> f64 {
        let points = self.gates[gate.index()].points.iter();
        points.map(|point| point.mode.ln_evidence).fold(f64::NEG_INFINITY, f64::max)
    }

    /// What is believed of one gate.
    pub(crate) fn posterior(&self, gate: Gate) -> &GatePosterior {
        &self.gates[gate.index()]
    }

    /// Mean of the belief about one weight; nothing if the gate has no such term.
    pub fn weight(&self, gate: Gate, term: &Term) -> Option<f64> {
        let gate = &self.gates[gate.index()];
        let column = gate.layout.terms().iter().position(|other| other == term)?;
        Some(gate.points.iter().map(|point| point.share * point.mode.weights[column]).sum())
    }

    /// Mean of the belief about the coils' scatter and the departure from geometry, in log odds.
    pub fn settings(&self, gate: Gate) -> [f64; 2] {
        let points = &self.gates[gate.index()].points;
        let mean = |of: fn(&Setting) -> f64| {
            points.iter().map(|point| point.share * of(&point.setting)).sum()
        };
        [mean(|setting| setting.scatter), mean(|setting| setting.departure)]
    }
}
