//! Which settings of scatter and departure remain likely: nine of them stand for all.

use std::f64::consts::SQRT_2;

use super::{Mode, ModeQuery, TIGHT, find_mode, in_parallel};
use crate::gate::NODES_3;
use crate::model::{GatePrior, Layout, TermPrior};

/// Step at which the evidence is felt about, in the logarithm of either setting.
const FEEL: f64 = 0.25;
/// Furthest move at once.
const MOVE_MOST: f64 = 0.8;
/// A move shorter than this ends the search.
const MOVE_LEAST: f64 = 0.08;
/// Rounds at most.
const ROUNDS_MOST: usize = 8;
/// A setting with less than this share of the evidence is left out.
const SHARE_LEAST: f64 = 1e-3;
/// Neither setting leaves this range, in log odds: beyond it the rule's nodes no longer tell coils apart.
const RANGE: [f64; 2] = [0.02, 5.0];
/// The search takes the evidence to be no flatter and no sharper than this, per unit squared.
const SHARPNESS: [f64; 2] = [1.0, 1e4];

/// Scatter of the coils and departure from geometry, both in log odds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Setting {
    pub scatter: f64,
    pub departure: f64,
}

/// One more trial hardly moves the mode: one step from this near leaves a millionth of it.
const WARM_CLOSE: f64 = 0.02;

/// One setting that remains likely.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Point {
    pub setting: Setting,
    /// Its share of the belief.
    pub share: f64,
    /// Logarithm of the rule's weight for it, kept for the next refit.
    ln_rule: f64,
    pub mode: Mode,
}

/// What is believed of one gate after the trials: a few bell curves.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct GatePosterior {
    pub layout: Layout,
    /// What was believed of each column.
    pub prior: Vec<TermPrior>,
    pub points: Vec<Point>,
}

/// One gate as the search needs it.
#[derive(Clone, Copy)]
pub(crate) struct GateJob<'a> {
    pub query: ModeQuery<'a>,
    pub prior: &'a GatePrior,
}

impl Setting {
    fn at(ln: [f64; 2]) -> Setting {
        let [scatter, departure] = ln.map(|ln| ln.clamp(RANGE[0].ln(), RANGE[1].ln()).exp());
        Setting { scatter, departure }
    }
}

impl Point {
    /// The point with its mode laid out for other columns, cells and rows.
    pub(crate) fn moved(
        &self,
        columns: &[Option<usize>],
        middles: &[f64],
        cells: &[Option<usize>],
        rows: usize,
    ) -> Point {
        Point { mode: self.mode.moved(columns, middles, cells, rows), ..*self }
    }
}

impl GateJob<'_> {
    /// Evidence with the settings' own prior.
    fn ln_belief(&self, ln: [f64; 2], mode: &Mode) -> f64 {
        mode.ln_evidence + self.prior.ln_scatter.ln_at(ln[0]) + self.prior.ln_departure.ln_at(ln[1])
    }
}

/// Where one gate's search stands.
struct Standing {
    ln: [f64; 2],
    mode: Option<Mode>,
    /// Less the second derivatives of the belief: along the scatter, across, along the departure.
    bend: [f64; 3],
    found: bool,
}

/// Nine settings about the most likely one, for each gate.
pub(crate) fn search(gates: &[GateJob<'_>]) -> Vec<Vec<Point>> {
    let mut standings: Vec<Standing> = gates
        .iter()
        .map(|gate| Standing {
            ln: [gate.prior.ln_scatter.mean, gate.prior.ln_departure.mean],
            mode: None,
            bend: [4.0, 0.0, 3.0],
            found: false,
        })
        .collect();
    for _ in 0..ROUNDS_MOST {
        let open: Vec<usize> = (0..gates.len()).filter(|i| !standings[*i].found).collect();
        if open.is_empty() {
            break;
        }
        let middles = in_parallel(&open, |&i| {
            let standing = &standings[i];
            find_mode(gates[i].query, Setting::at(standing.ln), standing.mode.as_ref(), None)
        });
        let offsets = [[FEEL, 0.0], [-FEEL, 0.0], [0.0, FEEL], [0.0, -FEEL], [FEEL, FEEL]];
        let jobs: Vec<(usize, [f64; 2])> =
            (0..open.len()).flat_map(|place| offsets.map(|offset| (place, offset))).collect();
        let around = in_parallel(&jobs, |&(place, offset)| {
            let gate = &gates[open[place]];
            let ln = add(standings[open[place]].ln, offset);
            let mode = find_mode(gate.query, Setting::at(ln), Some(&middles[place]), None);
            gate.ln_belief(ln, &mode)
        });
        for ((place, middle), around) in
            middles.into_iter().enumerate().zip(around.as_chunks::<5>().0)
        {
            let i = open[place];
            let standing = &mut standings[i];
            let here = gates[i].ln_belief(standing.ln, &middle);
            standing.mode = Some(middle);
            standing.climb(here, around);
        }
    }
    let jobs: Vec<(usize, [f64; 2], f64)> = standings
        .iter()
        .enumerate()
        .flat_map(|(i, standing)| standing.nine().map(|(ln, ln_rule)| (i, ln, ln_rule)))
        .collect();
    let modes = in_parallel(&jobs, |&(i, ln, _)| {
        find_mode(gates[i].query, Setting::at(ln), standings[i].mode.as_ref(), None)
    });
    let mut found: Vec<Vec<Point>> = gates.iter().map(|_| Vec::new()).collect();
    for ((i, ln, ln_rule), mode) in jobs.into_iter().zip(modes) {
        let share = gates[i].ln_belief(ln, &mode) + ln_rule;
        found[i].push(Point { setting: Setting::at(ln), share, ln_rule, mode });
    }
    found.into_iter().map(shared_out).collect()
}

/// One setting, taken as known.
pub(crate) fn single(gate: &GateJob<'_>, setting: Setting) -> Vec<Point> {
    let mode = find_mode(gate.query, setting, None, Some(TIGHT));
    vec![Point { setting, share: 1.0, ln_rule: 0.0, mode }]
}

/// The same settings after more trials: modes from `starts`, shares from the new evidence.
pub(crate) fn reweigh(gates: &[GateJob<'_>], points: &[Vec<Point>]) -> Vec<Vec<Point>> {
    let jobs: Vec<(usize, &Point)> = points
        .iter()
        .enumerate()
        .flat_map(|(i, points)| points.iter().map(move |point| (i, point)))
        .collect();
    let modes = in_parallel(&jobs, |&(i, point)| {
        find_mode(gates[i].query, point.setting, Some(&point.mode), Some(WARM_CLOSE))
    });
    let mut found: Vec<Vec<Point>> = gates.iter().map(|_| Vec::new()).collect();
    for ((i, point), mode) in jobs.into_iter().zip(modes) {
        let ln = [point.setting.scatter.ln(), point.setting.departure.ln()];
        let share = gates[i].ln_belief(ln, &mode) + point.ln_rule;
        found[i].push(Point { share, mode, ..*point });
    }
    found.into_iter().map(shared_out).collect()
}

/// Turns log shares into shares; the least are left out of the shares but kept for the next refit.
fn shared_out(mut points: Vec<Point>) -> Vec<Point> {
    let largest = points.iter().map(|point| point.share).fold(f64::NEG_INFINITY, f64::max);
    let mut total = 0.0;
    for point in &mut points {
        let share = (point.share - largest).exp();
        point.share = if share.is_finite() { share } else { 0.0 };
        total += point.share;
    }
    let mut kept = 0.0;
    for point in &mut points {
        point.share /= total;
        if point.share <= SHARE_LEAST {
            point.share = 0.0;
        }
        kept += point.share;
    }
    for point in &mut points {
        point.share /= kept;
    }
    points
}

impl Standing {
    /// One move towards the most likely setting, from the belief here and at the five places around.
    fn climb(&mut self, here: f64, around: &[f64; 5]) {
        let [right, left, up, down, both] = *around;
        let slope = [(right - left) / (2.0 * FEEL), (up - down) / (2.0 * FEEL)];
        let squared = FEEL * FEEL;
        self.bend = [
            (2.0 * here - right - left) / squared,
            (right + up - both - here) / squared,
            (2.0 * here - up - down) / squared,
        ];
        let mut step = [0.0; 2];
        for (direction, sharpness) in axes(self.bend) {
            let along = direction[0] * slope[0] + direction[1] * slope[1];
            step = add(step, direction.map(|part| part * along / sharpness));
        }
        let length = step[0].hypot(step[1]);
        let share = (MOVE_MOST / length).min(1.0);
        let from = self.ln;
        self.ln = add(self.ln, step.map(|part| part * share))
            .map(|ln| ln.clamp(RANGE[0].ln(), RANGE[1].ln()));
        self.found = (self.ln[0] - from[0]).hypot(self.ln[1] - from[1]) < MOVE_LEAST;
    }

    /// Three by three settings along the axes of the bend, with the logarithm of the rule's weight.
    fn nine(&self) -> [([f64; 2], f64); 9] {
        let [(first, first_sharpness), (second, second_sharpness)] = axes(self.bend);
        let mut nine = [(self.ln, 0.0); 9];
        for (i, place) in nine.iter_mut().enumerate() {
            let ((x, wx), (y, wy)) = (NODES_3[i / 3], NODES_3[i % 3]);
            let along = first.map(|part| part * SQRT_2 * x / first_sharpness.sqrt());
            let across = second.map(|part| part * SQRT_2 * y / second_sharpness.sqrt());
            *place = (add(self.ln, add(along, across)), wx.ln() + x * x + wy.ln() + y * y);
        }
        nine
    }
}

/// Axes of a bend, each with its sharpness held within [`SHARPNESS`].
fn axes([xx, xy, yy]: [f64; 3]) -> [([f64; 2], f64); 2] {
    let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
    let (sin, cos) = angle.sin_cos();
    [[cos, sin], [-sin, cos]].map(|[x, y]| {
        let sharpness = xx * x * x + 2.0 * xy * x * y + yy * y * y;
        let held =
            if sharpness.is_finite() { sharpness.clamp(SHARPNESS[0], SHARPNESS[1]) } else { 4.0 };
        ([x, y], held)
    })
}

fn add(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] + b[0], a[1] + b[1]]
}
