//! Room for the last ring over aspect ratios.

use super::curve::{Fineness, OnCurve, read, state_at, within};
use super::rows::{Solver, solved};
use crate::opening::{Fits, WIDEST, last_ring, needed};
use crate::pattern::{Link, Pattern};
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
        let state = state_at(self.rows, &ROOM, aspect_ratio)?;
        let below = state.iter().rev().find(|row| row.aspect_ratio <= aspect_ratio)?;
        let ends_apart = read(state, aspect_ratio, |row| row.ends_apart);
        Some(LastRingRow { aspect_ratio, ends_apart, ..*below })
    }
}

impl OnCurve for LastRingRow {
    fn aspect_ratio(&self) -> f64 {
        self.aspect_ratio
    }

    fn height(&self) -> f64 {
        self.ends_apart
    }

    fn is_like(&self, other: &LastRingRow) -> bool {
        self.fits() == other.fits() && (self.needed - other.needed).abs() < 1e-9
    }
}

/// How finely the room is told: where the verdict changes to 0.8 per cent of the aspect ratio, distances
/// to less than anyone sees.
const ROOM: Fineness = Fineness {
    above_limit: 1e-6,
    rows: 12,
    most_rows: 28,
    within: 0.06,
    closest: 4e-3,
    step: f64::INFINITY,
};
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
    let mut room = Room { slack, links: &pattern.spec().links, watch };
    let rows = solved(&mut room, least, &ROOM)?;
    let within = within(&rows, &ROOM);
    Ok(ComputedLastRings { rows, within })
}

/// Solves rows of room for the last ring.
struct Room<'a> {
    slack: &'a Pose,
    links: &'a [Link],
    watch: &'a mut dyn Watch,
}

impl Solver for Room<'_> {
    type Row = LastRingRow;

    fn row(
        &mut self,
        aspect_ratio: f64,
        beside: &[&LastRingRow],
    ) -> Result<Option<LastRingRow>, Halt> {
        let wire = 2.0 / (aspect_ratio + 1.0);
        let open = last_ring(self.slack, self.links, wire, self.watch)?;
        let mut row = open.map(|open| LastRingRow {
            aspect_ratio,
            ring: open.ring,
            ends_apart: open.ends_apart / wire,
            needed: needed(self.slack, self.links, open.ring),
        });
        if let (Some(row), Some(below)) = (&mut row, beside.first()) {
            self.gains(row, below)?;
        }
        Ok(row)
    }

    /// A row that has less room, in ring radii, than one in thicker wire takes over what stands there.
    fn gains(&mut self, row: &mut LastRingRow, beside: &LastRingRow) -> Result<bool, Halt> {
        let wires = (row.aspect_ratio + 1.0) / (beside.aspect_ratio + 1.0);
        let share = |row: &LastRingRow, times: f64| times * row.ends_apart / row.needed;
        let gains = wires > 1.0 && share(beside, wires) > share(row, 1.0);
        if gains {
            let ends_apart = (beside.ends_apart * wires).min(self.widest(beside));
            *row = LastRingRow { aspect_ratio: row.aspect_ratio, ends_apart, ..*beside };
        }
        Ok(gains)
    }

    fn is_last(&self, row: &LastRingRow) -> bool {
        row.ends_apart >= FULLY * self.widest(row)
    }
}

impl Room<'_> {
    /// As far apart as anyone opens a ring, in main wires.
    fn widest(&self, row: &LastRingRow) -> f64 {
        WIDEST * self.slack.rings[row.ring].wire_share
    }
}
