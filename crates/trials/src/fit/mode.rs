//! The most likely weights at one setting of scatter and departure, and how much evidence there is
//! for that setting: Newton's method with the cells' quirks eliminated.

use nalgebra::{DMatrix, DMatrixView};

use super::Setting;
use crate::dense::{Factor, Symmetric, add_scaled, dot};
use crate::gate::coil_term;
use crate::model::{GateDesign, QUIRK_OF_DEPARTURE, Sites, TermPrior};

/// Newton's method stops when it could gain less than half of this.
const CLOSE: f64 = 1e-3;
/// As [`CLOSE`], where every digit is wanted.
pub(crate) const TIGHT: f64 = 1e-12;
/// Steps at most, and halvings of one step at most.
const STEPS_MOST: usize = 60;
/// See [`STEPS_MOST`].
const HALVINGS_MOST: usize = 8;
/// A fall of the log posterior below this is rounding and the rule's own error, not a step too far.
const FALL: f64 = 1e-7;

/// What is asked of one gate.
#[derive(Clone, Copy)]
pub(crate) struct ModeQuery<'a> {
    pub sites: &'a Sites,
    pub gate: &'a GateDesign,
    /// What is believed of each column.
    pub prior: &'a [TermPrior],
    pub write_off_share: f64,
}

/// The most likely weights, with what draws about them need.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Mode {
    /// Weights, one per column.
    pub weights: Vec<f64>,
    /// Quirks, one per cell.
    pub quirks: Vec<f64>,
    /// Each coil's own shift, where the next search starts.
    shifts: Vec<f64>,
    /// Factor of the weights' precision with the quirks eliminated.
    pub factor: Factor,
    /// Sum of the curvatures of each site.
    pub site_curvature: Vec<f64>,
    /// Sum of the slopes of each site.
    pub site_slope: Vec<f64>,
    /// Circumstances' columns of each site, summed with their curvatures.
    pub site_columns: Vec<f64>,
    /// Precision of each cell's quirk where the weights are known.
    pub quirk_precision: Vec<f64>,
    /// Log evidence for the setting, without its own prior.
    pub ln_evidence: f64,
}

impl Mode {
    /// Somewhere to start from for other columns, cells and rows: `columns[i]` and `cells[i]` say
    /// where the new ones stood here, `middles` where a new column starts.
    pub(crate) fn moved(
        &self,
        columns: &[Option<usize>],
        middles: &[f64],
        cells: &[Option<usize>],
        rows: usize,
    ) -> Mode {
        let mut shifts = self.shifts.clone();
        shifts.resize(rows, 0.0);
        let weight =
            |(column, middle): (&Option<usize>, &f64)| column.map_or(*middle, |i| self.weights[i]);
        let quirks = cells.iter().map(|cell| cell.map_or(0.0, |i| self.quirks[i])).collect();
        let weights = columns.iter().zip(middles).map(weight).collect();
        Mode { quirks, shifts, ..Mode::starting(weights, 0, 0) }
    }

    /// Somewhere to start from: weights that are known, quirks and coils as usual.
    pub(crate) fn starting(weights: Vec<f64>, cells: usize, rows: usize) -> Mode {
        Mode {
            weights,
            quirks: vec![0.0; cells],
            shifts: vec![0.0; rows],
            factor: Factor::empty(),
            site_curvature: Vec::new(),
            site_slope: Vec::new(),
            site_columns: Vec::new(),
            quirk_precision: Vec::new(),
            ln_evidence: 0.0,
        }
    }
}

/// The most likely weights at one setting, from `start` if there is one.
pub(crate) fn find_mode(
    query: ModeQuery<'_>,
    setting: Setting,
    start: Option<&Mode>,
    close: Option<f64>,
) -> Mode {
    let mut search = Search::new(query, setting, start);
    let mut ln_posterior = search.evaluate();
    let mut decrement_squared = search.assemble();
    for _ in 0..STEPS_MOST {
        if decrement_squared < close.unwrap_or(CLOSE) {
            break;
        }
        let mut share = 1.0;
        let mut better = false;
        for _ in 0..HALVINGS_MOST {
            search.step(share);
            let ln_there = search.evaluate();
            if ln_there >= ln_posterior - FALL {
                better = true;
                ln_posterior = ln_there;
                break;
            }
            search.step(-share);
            share /= 2.0;
        }
        if !better {
            // No step helps: as close as the likelihood's own error lets it come.
            search.weight_step.fill(0.0);
            search.quirk_step.fill(0.0);
            break;
        }
        decrement_squared = search.assemble();
    }
    search.finish(ln_posterior, decrement_squared)
}

struct Search<'a> {
    query: ModeQuery<'a>,
    setting: Setting,
    prior_mean: Vec<f64>,
    precision: Vec<f64>,
    quirk_prior_precision: f64,
    mode: Mode,
    slopes: Vec<f64>,
    curvatures: Vec<f64>,
    site_log_odds: Vec<f64>,
    /// Weight of each site's product with itself.
    site_weight: Vec<f64>,
    /// Site columns times their weights, then the circumstances' sums, one row per site.
    weighted: DMatrix<f64>,
    /// Site columns times `weighted`.
    product: DMatrix<f64>,
    /// The same of the circumstances' columns, one row per trial.
    weighted_rows: DMatrix<f64>,
    row_product: DMatrix<f64>,
    sum: Symmetric,
    gradient: Vec<f64>,
    quirk_gradient: Vec<f64>,
    /// One cell's quirk against all columns.
    cross: Vec<f64>,
    weight_step: Vec<f64>,
    quirk_step: Vec<f64>,
}

impl<'a> Search<'a> {
    fn new(query: ModeQuery<'a>, setting: Setting, start: Option<&Mode>) -> Search<'a> {
        let ModeQuery { sites, gate, prior, .. } = query;
        let (columns, rows) = (gate.layout.len(), gate.counts.len());
        let (site_count, cell_count) = (sites.cell_of_site.len(), sites.sites_of_cell.len());
        let circumstances = columns - gate.layout.site_terms();
        let prior_mean: Vec<f64> = prior.iter().map(|prior| prior.mean()).collect();
        let quirk_sd = QUIRK_OF_DEPARTURE * setting.departure;
        let (weights, quirks, shifts) = match start {
            Some(start) => (start.weights.clone(), start.quirks.clone(), start.shifts.clone()),
            None => (prior_mean.clone(), vec![0.0; cell_count], vec![0.0; rows]),
        };
        Search {
            query,
            setting,
            prior_mean,
            precision: prior.iter().map(|prior| prior.sd(setting.departure).powi(-2)).collect(),
            quirk_prior_precision: quirk_sd.powi(-2),
            mode: Mode {
                weights,
                quirks,
                shifts,
                factor: Factor::empty(),
                site_curvature: vec![0.0; site_count],
                site_slope: vec![0.0; site_count],
                site_columns: vec![0.0; site_count * circumstances],
                quirk_precision: vec![0.0; cell_count],
                ln_evidence: 0.0,
            },
            slopes: vec![0.0; rows],
            curvatures: vec![0.0; rows],
            site_log_odds: vec![0.0; site_count],
            site_weight: vec![0.0; site_count],
            weighted: DMatrix::zeros(site_count, columns),
            product: DMatrix::zeros(gate.layout.site_terms(), columns),
            weighted_rows: DMatrix::zeros(rows, circumstances),
            row_product: DMatrix::zeros(circumstances, circumstances),
            sum: Symmetric::zero(columns),
            gradient: vec![0.0; columns],
            quirk_gradient: vec![0.0; cell_count],
            cross: vec![0.0; columns],
            weight_step: vec![0.0; columns],
            quirk_step: vec![0.0; cell_count],
        }
    }

    /// Log posterior where the search stands; keeps slope and curvature of every coil.
    fn evaluate(&mut self) -> f64 {
        let ModeQuery { sites, gate, write_off_share, .. } = self.query;
        let site_terms = gate.layout.site_terms();
        let circumstances = gate.layout.len() - site_terms;
        let (of_site, of_row) = self.mode.weights.split_at(site_terms);
        let site_rows = gate.site_columns.chunks_exact(site_terms);
        for ((log_odds, columns), cell) in
            self.site_log_odds.iter_mut().zip(site_rows).zip(&sites.cell_of_site)
        {
            *log_odds = dot(columns, of_site) + self.mode.quirks[*cell];
        }
        let mut ln_posterior = 0.0;
        let rows = gate.row_columns.chunks_exact(circumstances);
        for (i, (count, columns)) in gate.counts.iter().zip(rows).enumerate() {
            if count.is_silent() {
                continue;
            }
            let log_odds = self.site_log_odds[sites.site_of_row[i]] + dot(columns, of_row);
            let term = coil_term(
                *count,
                log_odds,
                self.setting.scatter,
                write_off_share,
                self.mode.shifts[i],
            );
            ln_posterior += term.ln_likelihood;
            self.slopes[i] = term.slope;
            self.curvatures[i] = term.curvature;
            self.mode.shifts[i] = term.shift;
        }
        for ((weight, mean), precision) in
            self.mode.weights.iter().zip(&self.prior_mean).zip(&self.precision)
        {
            ln_posterior -= 0.5 * precision * (weight - mean).powi(2);
        }
        ln_posterior - 0.5 * self.quirk_prior_precision * dot(&self.mode.quirks, &self.mode.quirks)
    }

    /// Sets up Newton's equations where the search stands and solves them; gives the decrement squared.
    fn assemble(&mut self) -> f64 {
        let ModeQuery { sites, gate, .. } = self.query;
        let first = gate.layout.site_terms();
        let circumstances = gate.layout.len() - first;
        let Mode {
            weights,
            quirks,
            factor,
            site_curvature,
            site_slope,
            site_columns,
            quirk_precision,
            ..
        } = &mut self.mode;
        site_curvature.fill(0.0);
        site_slope.fill(0.0);
        site_columns.fill(0.0);
        self.sum.clear();
        self.gradient.fill(0.0);
        for (i, columns) in gate.row_columns.chunks_exact(circumstances).enumerate() {
            let (slope, curvature) = (self.slopes[i], self.curvatures[i]);
            let site = sites.site_of_row[i];
            site_curvature[site] += curvature;
            site_slope[site] += slope;
            let summed = &mut site_columns[site * circumstances..(site + 1) * circumstances];
            add_scaled(summed, curvature, columns);
            add_scaled(&mut self.gradient[first..], slope, columns);
        }
        scale_rows(&gate.row_columns_upright, &self.curvatures, &mut self.weighted_rows);
        let lying = DMatrixView::from_slice(&gate.row_columns, circumstances, gate.counts.len());
        self.row_product.gemm(1.0, &lying, &self.weighted_rows, 0.0);
        self.sum.add_corner(first, &self.row_product);
        let site_row = |site: usize| &gate.site_columns[site * first..(site + 1) * first];
        let mut eliminated = 0.0;
        for (cell, members) in sites.sites_of_cell.iter().enumerate() {
            let curvature: f64 = members.iter().map(|site| site_curvature[*site]).sum();
            let slope: f64 = members.iter().map(|site| site_slope[*site]).sum();
            let precision = curvature + self.quirk_prior_precision;
            let gradient = slope - self.quirk_prior_precision * quirks[cell];
            quirk_precision[cell] = precision;
            self.quirk_gradient[cell] = gradient;
            eliminated += gradient * gradient / precision;
            let back = gradient / precision;
            for &site in members {
                let (w, x) = (site_curvature[site], site_row(site));
                let summed = &site_columns[site * circumstances..(site + 1) * circumstances];
                add_scaled(&mut self.gradient[..first], site_slope[site] - back * w, x);
                add_scaled(&mut self.gradient[first..], -back, summed);
                // The usual cell is one site: its own sum and what its quirk takes away are one product.
                let alone = if members.len() == 1 { w / precision } else { 0.0 };
                self.site_weight[site] = w * (1.0 - alone);
                for (j, column) in summed.iter().enumerate() {
                    self.weighted[(site, first + j)] = column * (1.0 - alone);
                }
            }
            if let [site] = members[..] {
                let summed = &site_columns[site * circumstances..(site + 1) * circumstances];
                self.sum.add_outer(first, summed, -1.0 / precision);
            } else {
                self.cross.fill(0.0);
                for &site in members {
                    add_scaled(&mut self.cross[..first], site_curvature[site], site_row(site));
                    let summed = &site_columns[site * circumstances..(site + 1) * circumstances];
                    add_scaled(&mut self.cross[first..], 1.0, summed);
                }
                self.sum.add_outer(0, &self.cross, -1.0 / precision);
            }
        }
        scale_rows(&gate.site_columns_upright, &self.site_weight, &mut self.weighted);
        let lying = DMatrixView::from_slice(&gate.site_columns, first, self.site_weight.len());
        self.product.gemm(1.0, &lying, &self.weighted, 0.0);
        self.sum.add_lower(&self.product);
        self.sum.add_diagonal(&self.precision);
        for (i, gradient) in self.gradient.iter_mut().enumerate() {
            *gradient -= self.precision[i] * (weights[i] - self.prior_mean[i]);
        }
        if self.sum.factor_into(factor).is_none() {
            // The prior alone is positive definite and every curvature is at least nothing, so only
            // numbers that are no numbers come here; a step of nothing ends the search.
            self.weight_step.fill(0.0);
            self.quirk_step.fill(0.0);
            return 0.0;
        }
        self.weight_step.copy_from_slice(&self.gradient);
        factor.solve(&mut self.weight_step);
        let decrement_squared = dot(&self.gradient, &self.weight_step) + eliminated;
        let (site_step, row_step) = self.weight_step.split_at(first);
        for (cell, members) in sites.sites_of_cell.iter().enumerate() {
            let mut left = self.quirk_gradient[cell];
            for &site in members {
                let summed = &site_columns[site * circumstances..(site + 1) * circumstances];
                left -=
                    site_curvature[site] * dot(site_row(site), site_step) + dot(summed, row_step);
            }
            self.quirk_step[cell] = left / quirk_precision[cell];
        }
        decrement_squared
    }

    fn step(&mut self, share: f64) {
        add_scaled(&mut self.mode.weights, share, &self.weight_step);
        add_scaled(&mut self.mode.quirks, share, &self.quirk_step);
    }

    /// Takes the last small step and gathers the evidence; what is left out of it cancels.
    fn finish(mut self, ln_posterior: f64, decrement_squared: f64) -> Mode {
        let quirks: f64 = self
            .mode
            .quirk_precision
            .iter()
            .map(|precision| (self.quirk_prior_precision / precision).ln())
            .sum();
        let prior: f64 = self.precision.iter().map(|precision| precision.ln()).sum();
        self.mode.ln_evidence = ln_posterior
            + 0.5 * (decrement_squared + prior + quirks - self.mode.factor.ln_determinant());
        self.step(1.0);
        self.mode
    }
}

/// Each row of `rows` times its weight, into the first columns of `scaled`.
fn scale_rows(rows: &DMatrix<f64>, weights: &[f64], scaled: &mut DMatrix<f64>) {
    let count = weights.len();
    if count == 0 {
        return;
    }
    let columns = rows.as_slice().chunks_exact(count);
    for (column, scaled) in columns.zip(scaled.as_mut_slice().chunks_exact_mut(count)) {
        for ((scaled, x), weight) in scaled.iter_mut().zip(column).zip(weights) {
            *scaled = x * weight;
        }
    }
}
