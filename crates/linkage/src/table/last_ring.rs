//! Room for the last ring over aspect ratios.

use super::curve::{beginning, gap_beside_worst, left_out, monotone};
use crate::opening::{Fits, WIDEST, last_ring, needed};
use crate::pattern::Pattern;
use crate::pose::Pose;
use crate::solve::{Halt, Watch};

/// Room for the last ring at one aspect ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastRingRow {
    /// Inside diameter over wire diameter of the main ring.
    pub aspect_ratio: f64,
    /// Ring of the cell best left for last.
    pub ring: usize,
    /// How far its ends can stand apart, in main wire diameters; 3 of its own at most.
    pub ends_apart: f64,
    /// How far they must.
    pub needed: f64,
}

/// Room for the last ring of a pattern.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastRings {
    /// Rows by rising aspect ratio and room, the first at the limit; the last is where the ends stand as
    /// far apart as anyone opens a ring, or the last of the table.
    pub rows: &'static [LastRingRow],
    /// Largest error of the ends' distance, in main wire diameters, when one inner row is left out and
    /// interpolated.
    pub within: f64,
}

impl LastRingRow {
    /// How the ring goes in.
    pub fn fits(&self) -> Fits {
        Fits::of(self.ends_apart, self.needed)
    }
}

impl LastRings {
    /// Reads the room between the rows.
    ///
    /// Rows of one verdict are read by the monotone cubic; between two verdicts the lower
    /// is told. Beyond the last row nothing gets less, so that it holds there too.
    ///
    /// # Units
    /// Aspect ratio in, main wire diameters out.
    /// # Validity
    /// From the first row on.
    /// # Source
    /// As [`Entry::at`](super::Entry::at).
    ///
    /// ```
    /// use linkwright_linkage::{opening::Fits, table::entries};
    /// let cable = entries().iter().find(|entry| entry.name == "cable_1in1").unwrap();
    /// assert_eq!(cable.last_ring.at(2.05).unwrap().fits(), Fits::Tight);
    /// assert_eq!(cable.last_ring.at(3.0).unwrap().fits(), Fits::GoesIn);
    /// ```
    pub fn at(&self, aspect_ratio: f64) -> Option<LastRingRow> {
        let below = self.rows.iter().rposition(|row| row.aspect_ratio <= aspect_ratio)?;
        let same = |row: &&LastRingRow| row.is_like(&self.rows[below]);
        let before = self.rows[..below].iter().rev().take_while(same).count();
        let after = self.rows[below..].iter().take_while(same).count();
        let like = &self.rows[below - before..below + after];
        let ends_apart = monotone(like, aspect_ratio, |row| row.aspect_ratio, |row| row.ends_apart);
        Some(LastRingRow { aspect_ratio, ends_apart, ..self.rows[below] })
    }
}

impl LastRingRow {
    fn is_like(&self, other: &LastRingRow) -> bool {
        self.fits() == other.fits() && (self.needed - other.needed).abs() < 1e-9
    }
}

/// Rows to begin with.
const ROWS: u32 = 12;
/// Rows at most.
const MOST_ROWS: usize = 28;
/// Where the verdict changes is told to this share of the aspect ratio.
const CLOSEST: f64 = 4e-3;
/// A row may be off by so many wires when it is left out and interpolated: less than anyone sees.
const LEFT_OUT_WITHIN: f64 = 0.06;
/// The first row lies this share above the limit.
const ABOVE_LIMIT: f64 = 1e-6;
/// Ends that stand apart by this share of what anyone opens a ring stand as far as is asked.
const FULLY: f64 = 0.997;

/// Room for the last ring as solved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ComputedLastRings {
    /// Rows by rising aspect ratio and room.
    pub rows: Vec<LastRingRow>,
    /// As [`LastRings::within`].
    pub within: f64,
}

/// Works out the room for the last ring from the smallest aspect ratio on.
///
/// `slack` is the pose of the thickest wire. An opening that was found in thicker wire is there in
/// thinner wire too, so that in ring radii the room never falls.
///
/// # Errors
/// [`Halt`] if the watch stops a solve.
pub fn compute_last_rings(
    pattern: &Pattern,
    slack: &Pose,
    least: f64,
    watch: &mut dyn Watch,
) -> Result<ComputedLastRings, Halt> {
    let mut solve = |aspect_ratio: f64| {
        let wire = 2.0 / (aspect_ratio + 1.0);
        let links = &pattern.spec().links;
        let open = last_ring(slack, links, wire, watch)?;
        Ok::<_, Halt>(open.map(|open| LastRingRow {
            aspect_ratio,
            ring: open.ring,
            ends_apart: open.ends_apart / wire,
            needed: needed(slack, links, open.ring),
        }))
    };
    let mut rows: Vec<LastRingRow> = Vec::new();
    for aspect_ratio in beginning(least, ABOVE_LIMIT, ROWS) {
        rows.extend(solve(aspect_ratio)?);
        never_less(&mut rows, slack);
        let widest = |row: &LastRingRow| WIDEST * slack.rings[row.ring].wire_share;
        if rows.last().is_some_and(|row| row.ends_apart >= FULLY * widest(row)) {
            break;
        }
    }
    loop {
        never_less(&mut rows, slack);
        let Some(gap) = widest_doubt(&rows).filter(|_| rows.len() < MOST_ROWS) else {
            break;
        };
        let Some(between) = solve(0.5 * (rows[gap].aspect_ratio + rows[gap + 1].aspect_ratio))?
        else {
            break;
        };
        rows.insert(gap + 1, between);
    }
    let within = left_out_errors(&rows).into_iter().map(|(_, error)| error).fold(0.0, f64::max);
    Ok(ComputedLastRings { rows, within })
}

/// Where a row has less room, in ring radii, than the one below, it takes over what stands there.
fn never_less(rows: &mut [LastRingRow], slack: &Pose) {
    for at in 1..rows.len() {
        let below = rows[at - 1];
        let wires = (rows[at].aspect_ratio + 1.0) / (below.aspect_ratio + 1.0);
        let share = |row: &LastRingRow, times: f64| times * row.ends_apart / row.needed;
        if share(&below, wires) > share(&rows[at], 1.0) {
            let widest = WIDEST * slack.rings[below.ring].wire_share;
            let ends_apart = (below.ends_apart * wires).min(widest);
            rows[at] = LastRingRow { aspect_ratio: rows[at].aspect_ratio, ends_apart, ..below };
        }
    }
}

/// Inner rows of every run with how far off the ends' distance is if each alone is left out.
fn left_out_errors(rows: &[LastRingRow]) -> Vec<(usize, f64)> {
    let mut from = 0;
    let mut errors = Vec::new();
    for run in rows.chunk_by(LastRingRow::is_like) {
        let off = left_out(run, |row| row.aspect_ratio, |row| row.ends_apart);
        errors.extend(off.into_iter().map(|(at, error)| (from + at, error)));
        from += run.len();
    }
    errors
}

/// The gap in which one more row helps most: one between two verdicts until it is small, then the wider
/// one beside the row that is told worst.
fn widest_doubt(rows: &[LastRingRow]) -> Option<usize> {
    let width = |gap: usize| rows[gap + 1].aspect_ratio - rows[gap].aspect_ratio;
    let is_wide = |gap: &usize| width(*gap) > 2.0 * CLOSEST * rows[*gap].aspect_ratio;
    let differ = |gap: &usize| rows[*gap].fits() != rows[*gap + 1].fits();
    let between = (0..rows.len().saturating_sub(1)).filter(differ).find(is_wide);
    between.or_else(|| {
        let errors = left_out_errors(rows);
        gap_beside_worst(rows, |row| row.aspect_ratio, errors, (LEFT_OUT_WITHIN, CLOSEST))
    })
}
