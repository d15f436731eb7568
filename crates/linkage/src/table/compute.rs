//! Solving the table anew.

use super::curve::{beginning, gap_beside_worst, left_out};
use super::numbers_from_pose;
use crate::extent::extent;
use crate::pattern::{Cell, Kind, Pattern};
use crate::pose::Pose;
use crate::solve::{Found, Halt, Pull, Search, Watch, taut, taut_from, thickest_wire};

/// Rows per pattern to begin with.
const ROWS: u32 = 17;
/// Rows per pattern at most: where leaving a row out shows, more are set beside it.
const MOST_ROWS: usize = 72;
/// A row may be off by this share when it is left out and interpolated; twice the spacing makes an
/// error about eight times that of the table as it stands.
const LEFT_OUT_WITHIN: f64 = 8e-4;
/// No two rows lie closer together than this share of their aspect ratio: a quarter of a micrometre on
/// a ring of 5 mm.
const CLOSEST: f64 = 5e-5;
/// Rows that lie as close as that belong to different states if they differ by more than this share and
/// the curve is so many times as steep between them as on either side.
const STEP: f64 = 2e-3;
const STEEPER: f64 = 2.5;
/// A row is longer than another found for it if it gains more than this share.
const LONGER: f64 = 1e-6;
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
    /// Largest relative error of the advance when one inner row is left out and interpolated.
    pub within: f64,
    /// Rows with which another, longer state begins.
    pub steps: Vec<usize>,
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
    let least = 2.0 / limit.room - 1.0;
    let mut rows: Vec<ComputedRow> = Vec::new();
    let counted = if pattern.kind() == Kind::Cluster { 0 } else { ROWS };
    for aspect_ratio in beginning(least, ABOVE_LIMIT, counted) {
        let below = rows.last().map_or(&limit.pose, |row| &row.pose);
        let known = [below.clone(), limit.pose.clone()];
        rows.extend(compute_row(pattern, aspect_ratio, search, &known, watch)?);
    }
    if let Some(last) = rows.len().checked_sub(1) {
        lengthen_below(&mut rows, last, pattern, search, watch)?;
    }
    while rows.len() < MOST_ROWS
        && let Some(gap) = widest_doubt(&rows)
    {
        let (below, above) = (&rows[gap], &rows[gap + 1]);
        let aspect_ratio = 0.5 * (below.aspect_ratio + above.aspect_ratio);
        let known = [below.pose.clone(), above.pose.clone(), limit.pose.clone()];
        let Some(between) = compute_row(pattern, aspect_ratio, search, &known, watch)? else {
            break;
        };
        rows.insert(gap + 1, between);
        lengthen_below(&mut rows, gap + 1, pattern, search, watch)?;
        lengthen_above(&mut rows, gap + 1, pattern, search, watch)?;
    }
    let steps = steps(&rows);
    Ok(Computed {
        aspect_ratio_min: least,
        limit_starts: limit.starts,
        limit_hits: limit.hits,
        within: left_out_errors(&rows, &steps).iter().map(|(_, error)| *error).fold(0.0, f64::max),
        steps,
        rows,
    })
}

/// Tries the rows below one from its pose, as long as they gain.
fn lengthen_below(
    rows: &mut [ComputedRow],
    from: usize,
    pattern: &Pattern,
    search: Search,
    watch: &mut dyn Watch,
) -> Result<(), Halt> {
    for at in (0..from).rev() {
        let known = rows[at + 1].pose.clone();
        if !lengthened(&mut rows[at], &known, pattern, search, watch)? && at + 1 < from {
            break;
        }
    }
    Ok(())
}

/// Tries the rows above one from its pose, as long as they gain.
fn lengthen_above(
    rows: &mut [ComputedRow],
    from: usize,
    pattern: &Pattern,
    search: Search,
    watch: &mut dyn Watch,
) -> Result<(), Halt> {
    for at in from + 1..rows.len() {
        let known = rows[at - 1].pose.clone();
        if !lengthened(&mut rows[at], &known, pattern, search, watch)? {
            break;
        }
    }
    Ok(())
}

/// Whether a row gains from a pose of another; then it is searched anew with what was found.
fn lengthened(
    row: &mut ComputedRow,
    known: &Pose,
    pattern: &Pattern,
    search: Search,
    watch: &mut dyn Watch,
) -> Result<bool, Halt> {
    let wire = wire_of(row.aspect_ratio);
    let Some(found) = taut_from(known, wire, Pull::Along, watch)? else {
        return Ok(false);
    };
    if found.value / wire < row.advance * (1.0 + LONGER) {
        return Ok(false);
    }
    let known = [found.pose, row.pose.clone()];
    let again = compute_row(pattern, row.aspect_ratio, search, &known, watch)?;
    match again.filter(|again| again.advance > row.advance) {
        Some(longer) => *row = longer,
        None => return Ok(false),
    }
    Ok(true)
}

/// Rows with which another state begins: as close to the row below as rows lie, and yet much longer.
fn steps(rows: &[ComputedRow]) -> Vec<usize> {
    let chord = |at: usize| {
        let (below, above) = (&rows[at - 1], &rows[at]);
        (above.advance - below.advance) / (above.aspect_ratio - below.aspect_ratio)
    };
    let is_step = |&at: &usize| {
        let (below, above) = (&rows[at - 1], &rows[at]);
        above.aspect_ratio - below.aspect_ratio <= 2.0 * CLOSEST * below.aspect_ratio
            && above.advance - below.advance > STEP * below.advance
            && chord(at) > STEEPER * chord(at - 1).max(chord(at + 1))
    };
    (2..rows.len().saturating_sub(1)).filter(is_step).collect()
}

/// Inner rows of every state with the relative error of the advance if each alone is left out.
fn left_out_errors(rows: &[ComputedRow], steps: &[usize]) -> Vec<(usize, f64)> {
    let ends = steps.iter().copied().chain([rows.len()]);
    let mut from = 0;
    let mut errors = Vec::new();
    for end in ends {
        let off = left_out(&rows[from..end], |row| row.aspect_ratio, |row| row.advance);
        errors.extend(off.into_iter().map(|(at, off)| (from + at, off / rows[from + at].advance)));
        from = end;
    }
    errors
}

/// The gap in which one more row helps most: the wider one beside the row that is told worst.
fn widest_doubt(rows: &[ComputedRow]) -> Option<usize> {
    let errors = left_out_errors(rows, &steps(rows));
    gap_beside_worst(rows, |row| row.aspect_ratio, errors, (LEFT_OUT_WITHIN, CLOSEST))
}
