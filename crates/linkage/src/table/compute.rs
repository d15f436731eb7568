//! Solving the table anew.

use super::curve::monotone;
use super::numbers_from_pose;
use crate::extent::extent;
use crate::pattern::{Cell, Kind, Pattern};
use crate::pose::Pose;
use crate::solve::{Found, Halt, Pull, Search, Watch, taut, thickest_wire};

/// Rows per pattern; odd, so that every second one can be left out to measure the error.
const ROWS: u32 = 17;
/// Largest aspect ratio of the table: beyond it any chain is loose.
const LARGEST: f64 = 12.0;
/// The first row lies this share above the limit.
const ABOVE_LIMIT: f64 = 1e-6;

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
    /// Smallest aspect ratio found.
    pub aspect_ratio_min: f64,
    /// Climbs made for it.
    pub limit_starts: u32,
    /// Climbs that met it.
    pub limit_hits: u32,
    /// Error of the advance when every second row is left out, relative.
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

/// Solves everything the table holds of a pattern.
///
/// Rows lie closer together near the limit, where curves bend. Each starts, among others, from the
/// pose of the row below, which is valid in thinner wire.
///
/// # Errors
/// [`Halt`] if the watch stops the solve.
pub fn compute(pattern: &Pattern, search: Search, watch: &mut dyn Watch) -> Result<Computed, Halt> {
    let limit = thickest_wire(pattern, search, watch)?;
    let least = 2.0 / limit.room - 1.0;
    let mut rows: Vec<ComputedRow> = Vec::new();
    let counted = if pattern.kind() == Kind::Cluster { 0 } else { ROWS };
    for step in 0..counted {
        let share = f64::from(step) / f64::from(ROWS - 1);
        let first = least * (1.0 + ABOVE_LIMIT);
        let aspect_ratio = first + (LARGEST.max(2.0 * least) - first) * share * share;
        let below = rows.last().map_or(&limit.pose, |row| &row.pose);
        let known = [below.clone(), limit.pose.clone()];
        rows.extend(compute_row(pattern, aspect_ratio, search, &known, watch)?);
    }
    Ok(Computed {
        aspect_ratio_min: least,
        limit_starts: limit.starts,
        limit_hits: limit.hits,
        within: left_out_error(&rows),
        rows,
    })
}

fn left_out_error(rows: &[ComputedRow]) -> f64 {
    let kept: Vec<&ComputedRow> = rows.iter().step_by(2).collect();
    let read = |ar| monotone(&kept, ar, |row| row.aspect_ratio, |row| row.advance);
    let left_out = rows.iter().skip(1).step_by(2);
    left_out
        .map(|row| (read(row.aspect_ratio) - row.advance).abs() / row.advance)
        .fold(0.0, f64::max)
}
