//! Solving the lengths of the table anew.

use super::curve::{Fineness, OnCurve, kept, within};
use super::numbers_from_pose;
use super::rows::{Solver, solved};
use crate::extent::extent;
use crate::pattern::{Cell, Kind, Pattern};
use crate::pose::Pose;
use crate::solve::{Found, Halt, Pull, Search, Watch, taut, taut_from, thickest_wire};

/// How finely lengths are told. Errors are shares of the length; no rows lie closer together than a
/// quarter of a micrometre on a ring of 5 mm.
pub(super) const LENGTHS: Fineness = Fineness {
    above_limit: 1e-6,
    rows: 17,
    most_rows: 72,
    within: 8e-4,
    closest: 5e-5,
    step: 2e-3,
};
/// A row is longer than another found for it if it gains more than this share; a sheet as long as
/// another is wider if it gains more than that.
const LONGER: f64 = 1e-6;
const WIDER: f64 = 1e-3;

/// A row as solved; lengths in main wire diameters.
#[derive(Clone, Debug, PartialEq)]
pub struct ComputedRow {
    /// Inside diameter over wire diameter of the main ring.
    pub aspect_ratio: f64,
    /// Advance per cell.
    pub advance: f64,
    /// Advance across; 0 for a chain.
    pub across: f64,
    /// Side-on width; 0 for a sheet.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Climbs made.
    pub starts: u32,
    /// Climbs that met the best.
    pub hits: u32,
    /// The pose, main ring radius 1.
    pub pose: Pose,
}

/// All of one pattern as solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Computed {
    /// Smallest aspect ratio found, as the table keeps it: to a millionth.
    pub aspect_ratio_min: f64,
    /// Climbs made for it.
    pub limit_starts: u32,
    /// Climbs that met it.
    pub limit_hits: u32,
    /// Largest relative error of the advance when one inner row is left out and interpolated.
    pub within: f64,
    /// Rows by rising aspect ratio; none for a cluster.
    pub rows: Vec<ComputedRow>,
}

impl ComputedRow {
    fn new(aspect_ratio: f64, found: &Found) -> ComputedRow {
        let wire = wire_of(aspect_ratio);
        let seen = extent(&found.pose, wire);
        let (advance, across) = match found.pose.cell {
            Cell::Screw { period, .. } => (period, 0.0),
            Cell::Lattice { along, across, .. } => (along, across),
            Cell::Bend { .. } | Cell::Cluster => (0.0, 0.0),
        };
        ComputedRow {
            aspect_ratio,
            advance: advance / wire,
            across: across / wire,
            width: seen.width / wire,
            thickness: seen.thickness / wire,
            starts: found.starts,
            hits: found.hits,
            pose: found.pose.clone(),
        }
    }

    /// Whether it is longer than another of the same aspect ratio, or as long and wider.
    fn is_better_than(&self, other: &ComputedRow) -> bool {
        self.advance > other.advance * (1.0 + LONGER)
            || self.advance > other.advance * (1.0 - LONGER)
                && self.across > other.across * (1.0 + WIDER)
    }

    /// The pose as numbers.
    pub fn numbers(&self) -> Vec<f64> {
        numbers_from_pose(&self.pose)
    }
}

/// Main wire diameter at radius 1.
fn wire_of(aspect_ratio: f64) -> f64 {
    2.0 / (aspect_ratio + 1.0)
}

/// Solves one row; `None` if it is not possible.
///
/// # Errors
/// [`Halt`] if the watch stops the solve.
pub fn compute_row(
    pattern: &Pattern,
    aspect_ratio: f64,
    search: Search,
    known: &[Pose],
    watch: &mut dyn Watch,
) -> Result<Option<ComputedRow>, Halt> {
    let wire = wire_of(aspect_ratio);
    let found = taut(pattern, wire, Pull::Along, search, known, watch)?;
    Ok(found.map(|found| ComputedRow::new(aspect_ratio, &found)))
}

/// Solves the lengths of a pattern from its limit on.
///
/// Rows lie closer together near the limit, where curves bend, and wherever a row cannot be told from
/// its neighbours. Each starts, among others, from the pose of the row below, which is valid in
/// thinner wire, and is tried again from the pose of the row above: a longer state may be easy to
/// find in thin wire only.
///
/// # Errors
/// [`Halt`] if the watch stops the solve.
pub fn compute(pattern: &Pattern, search: Search, watch: &mut dyn Watch) -> Result<Computed, Halt> {
    let limit = thickest_wire(pattern, search, watch)?;
    let aspect_ratio_min = kept(2.0 / limit.room - 1.0);
    let rows = match pattern.kind() {
        Kind::Cluster => Vec::new(),
        Kind::Chain | Kind::Sheet => {
            let mut lengths = Lengths { pattern, limit: limit.pose, search, watch };
            solved(&mut lengths, aspect_ratio_min, &LENGTHS)?
        }
    };
    Ok(Computed {
        aspect_ratio_min,
        limit_starts: limit.starts,
        limit_hits: limit.hits,
        within: within(&rows, &LENGTHS),
        rows,
    })
}

/// Solves rows of lengths.
struct Lengths<'a> {
    pattern: &'a Pattern,
    /// The pose of the thickest wire.
    limit: Pose,
    search: Search,
    watch: &'a mut dyn Watch,
}

impl Solver for Lengths<'_> {
    type Row = ComputedRow;

    fn row(
        &mut self,
        aspect_ratio: f64,
        beside: &[&ComputedRow],
    ) -> Result<Option<ComputedRow>, Halt> {
        let known = beside.iter().map(|row| &row.pose).chain([&self.limit]);
        let known: Vec<Pose> = known.cloned().collect();
        compute_row(self.pattern, aspect_ratio, self.search, &known, self.watch)
    }

    /// A row that gains is searched anew with what was found.
    fn gains(&mut self, row: &mut ComputedRow, beside: &ComputedRow) -> Result<bool, Halt> {
        let wire = wire_of(row.aspect_ratio);
        let found = taut_from(&beside.pose, wire, Pull::Along, self.watch)?;
        let found = found.map(|found| ComputedRow::new(row.aspect_ratio, &found));
        let Some(found) = found.filter(|found| found.is_better_than(row)) else {
            return Ok(false);
        };
        let known = [found.pose, row.pose.clone()];
        let again = compute_row(self.pattern, row.aspect_ratio, self.search, &known, self.watch)?;
        let better = again.filter(|again| again.is_better_than(row));
        let gains = better.is_some();
        if let Some(better) = better {
            *row = better;
        }
        Ok(gains)
    }
}

impl OnCurve for ComputedRow {
    fn aspect_ratio(&self) -> f64 {
        self.aspect_ratio
    }

    fn height(&self) -> f64 {
        self.advance
    }

    /// As a share of the length.
    fn off(&self, read: f64) -> f64 {
        (read / self.advance - 1.0).abs()
    }
}
