//! The precomputed table: every pattern of the craft solved over aspect ratios, so that a slider moves.
//!
//! `cargo xtask chain-tables` solves it anew with this crate and writes `data.rs`; `--check` solves a
//! sample and compares.

mod bend;
mod compute;
mod curve;
mod data;
mod last_ring;
mod rows;

pub use bend::{BendReading, BendRow, Bends, ComputedBends, compute_bends};
pub use compute::{Computed, ComputedRow, compute, compute_row};
pub use data::PROVENANCE;
pub use last_ring::{ComputedLastRings, LastRingRow, LastRings, compute_last_rings};

use compute::LENGTHS;
use curve::{OnCurve, read, state_at, states};

use crate::pattern::{Cell, Pattern, craft};
use crate::pose::Pose;
use crate::solve::Way;
use crate::vector::Vec3;

/// One solved aspect ratio; lengths in main wire diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Inside diameter over wire diameter of the main ring.
    pub aspect_ratio: f64,
    /// Advance per cell, pulled along.
    pub advance: f64,
    /// For a sheet, advance from cell to cell across the rows in that state; 0 for a chain.
    pub across: f64,
    /// Side-on width of a chain; 0 for a sheet.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Climbs made.
    pub starts: u32,
    /// Climbs that met the best.
    pub hits: u32,
    /// The pose: per ring centre and normal, then the cell's parameters.
    pub pose: &'static [f64],
}

/// Everything the table knows of one pattern.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Key of the pattern.
    pub name: &'static str,
    /// Smallest aspect ratio found.
    pub aspect_ratio_min: f64,
    /// Climbs made for it.
    pub limit_starts: u32,
    /// Climbs that met it.
    pub limit_hits: u32,
    /// Largest relative error of the advance when one inner row is left out and interpolated: a bound
    /// on that of the whole table, which is about eight times less.
    pub within: f64,
    /// Rows by rising aspect ratio, the first at the limit.
    pub rows: &'static [Row],
    /// Tightest bends over its face; no rows for a sheet or a cluster.
    pub over_face: Bends,
    /// Tightest bends over its edge.
    pub edgewise: Bends,
    /// Room for its last ring.
    pub last_ring: LastRings,
}

/// What the table says at one aspect ratio; lengths in main wire diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Advance per cell.
    pub advance: f64,
    /// For a sheet, advance across; 0 for a chain.
    pub across: f64,
    /// Side-on width of a chain; 0 for a sheet.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Climbs of the row nearest by.
    pub starts: u32,
    /// Climbs of that row that met its best.
    pub hits: u32,
}

/// The entry of a pattern, if it is exactly the one of the craft.
///
/// A pattern that shares the name but not the rings, links or sizes is not in the table.
pub fn entry(pattern: &Pattern) -> Option<&'static Entry> {
    let entry = data::ENTRIES.iter().find(|entry| entry.name == pattern.name())?;
    craft::is_of_the_craft(pattern.spec()).then_some(entry)
}

/// All entries.
pub const fn entries() -> &'static [Entry] {
    data::ENTRIES
}

impl Entry {
    /// Reads the table between its rows.
    ///
    /// Monotone cubic interpolation: between two rows no value leaves their range.
    ///
    /// # Units
    /// Aspect ratio in, wire diameters out.
    /// # Validity
    /// From [`aspect_ratio_min`](Entry::aspect_ratio_min) to the last row; `None` outside.
    /// # Source
    /// Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980), from memory; the three-point slopes are
    /// weighted harmonic means.
    ///
    /// ```
    /// use linkwright_linkage::table::entries;
    /// let cable = entries().iter().find(|entry| entry.name == "cable_1in1").unwrap();
    /// // The pitch of a cable chain is its inside diameter.
    /// assert!((cable.at(3.7).unwrap().advance - 3.7).abs() < 1e-4);
    /// assert_eq!(cable.at(1.9), None);
    /// ```
    pub fn at(&self, aspect_ratio: f64) -> Option<Reading> {
        let ar = aspect_ratio;
        let last = self.rows.last()?.aspect_ratio;
        let rows = self.state(ar).filter(|_| (self.aspect_ratio_min..=last).contains(&ar))?;
        let read = |value: fn(&Row) -> f64| read(rows, ar, value);
        let off = |row: &&Row| (row.aspect_ratio - ar).abs();
        let nearest = rows.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
        Some(Reading {
            advance: read(|row| row.advance),
            across: read(|row| row.across),
            width: read(|row| row.width),
            thickness: read(|row| row.thickness),
            starts: nearest.starts,
            hits: nearest.hits,
        })
    }

    /// Tightest bends one way.
    pub const fn bends(&self, way: Way) -> &Bends {
        match way {
            Way::OverFace => &self.over_face,
            Way::Edgewise => &self.edgewise,
        }
    }

    /// The rows state by state: each but the first begins with another, longer state of the pattern, for
    /// which thicker wire does not leave room. Nothing is read across.
    pub fn states(&self) -> impl Iterator<Item = &'static [Row]> {
        states(self.rows, &LENGTHS)
    }

    /// The rows of the state the pattern is in at an aspect ratio; `None` for a cluster, which has none.
    ///
    /// Between the last row of one state and the first of the next, which lie closer than any ring is
    /// made, it is still the lower.
    pub fn state(&self, aspect_ratio: f64) -> Option<&'static [Row]> {
        // The first row lies a millionth above the limit.
        let first = self.rows.first()?.aspect_ratio;
        state_at(self.rows, &LENGTHS, aspect_ratio.max(first))
    }

    /// The solved pose of the last row at or below an aspect ratio, main ring radius 1.
    ///
    /// It is valid at that aspect ratio too, and a good place for
    /// [`taut_from`](crate::solve::taut_from) to start.
    pub fn pose_below(&self, pattern: &Pattern, aspect_ratio: f64) -> Option<Pose> {
        let row = self.rows.iter().rev().find(|row| row.aspect_ratio <= aspect_ratio)?;
        pose_from_numbers(pattern.start(), row.pose)
    }
}

impl OnCurve for Row {
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

/// A pose as a row of numbers: per ring centre and normal, then the cell's parameters.
pub fn numbers_from_pose(pose: &Pose) -> Vec<f64> {
    let mut numbers = Vec::new();
    for ring in &pose.rings {
        let (c, n) = (ring.circle.centre, ring.circle.normal);
        numbers.extend([c.x, c.y, c.z, n.x, n.y, n.z]);
    }
    match pose.cell {
        Cell::Cluster => {}
        Cell::Screw { period, twist_rad, .. } => numbers.extend([period, twist_rad]),
        Cell::Lattice { along, shear, across } => numbers.extend([along, shear, across]),
        Cell::Bend { turn_rad, shift_x, shift_z } => numbers.extend([turn_rad, shift_x, shift_z]),
    }
    numbers
}

/// The pose of a row of numbers, radii and kind of cell as in `like`; `None` if the count is wrong.
pub fn pose_from_numbers(like: &Pose, numbers: &[f64]) -> Option<Pose> {
    let mut pose = like.clone();
    let (rings, cell) = numbers.split_at_checked(6 * pose.rings.len())?;
    for (ring, at) in pose.rings.iter_mut().zip(rings.chunks_exact(6)) {
        ring.circle.centre = Vec3::new(at[0], at[1], at[2]);
        ring.circle.normal = Vec3::new(at[3], at[4], at[5]).unit()?;
    }
    match (&mut pose.cell, cell) {
        (Cell::Cluster, []) => {}
        (Cell::Screw { period, twist_rad, .. }, &[p, t]) => (*period, *twist_rad) = (p, t),
        (Cell::Lattice { along, shear, across }, &[a, s, c]) => {
            (*along, *shear, *across) = (a, s, c)
        }
        (Cell::Bend { turn_rad, shift_x, shift_z }, &[t, x, z]) => {
            (*turn_rad, *shift_x, *shift_z) = (t, x, z)
        }
        _ => return None,
    }
    Some(pose)
}

#[cfg(test)]
mod tests {
    use super::curve::{largest, within};
    use super::{Entry, LENGTHS, entries};
    use crate::opening::Fits;
    use crate::solve::Way;

    /// Aspect ratios from the limit up to 14, beyond the last row, close together at first.
    fn aspect_ratios(entry: &Entry) -> impl Iterator<Item = f64> {
        let least = entry.aspect_ratio_min;
        (0..3_000).map(move |step| least + (14.0 - least) * (f64::from(step) / 3_000.0).powi(2))
    }

    #[test]
    fn every_length_is_told_to_two_thousandths_and_the_bound_is_what_leaving_rows_out_shows() {
        for entry in entries() {
            assert!(entry.within < 2e-3, "{}: {}", entry.name, entry.within);
            let worst = within(entry.rows, &LENGTHS);
            // Two digits of the bound are kept, six decimals of the rows.
            let off = (worst - entry.within).abs();
            assert!(off < 0.06 * worst + 1e-5, "{}: {worst} {}", entry.name, entry.within);
        }
    }

    #[test]
    fn lengths_never_fall_in_thinner_wire_and_states_change_where_no_ring_can_tell() {
        for entry in entries() {
            let mut before = 0.0;
            for ar in aspect_ratios(entry) {
                let Some(read) = entry.at(ar) else { continue };
                // In ring radii; a pose of thick wire stands in thin wire.
                let length = read.advance / (ar + 1.0);
                assert!(length > before * (1.0 - 2e-4), "{} at {ar}", entry.name);
                before = length;
            }
            let states: Vec<_> = entry.states().collect();
            for pair in states.windows(2) {
                let (Some(below), Some(above)) = (pair[0].last(), pair[1].first()) else {
                    panic!("{}: a state of no rows", entry.name);
                };
                let apart = above.aspect_ratio - below.aspect_ratio;
                assert!(apart < 2e-4 * below.aspect_ratio, "{}", entry.name);
                // Between the two the lower state is told.
                let between = 0.5 * (below.aspect_ratio + above.aspect_ratio);
                let read = entry.at(between).expect("in range");
                assert!((read.advance - below.advance).abs() < 1e-12, "{}", entry.name);
            }
        }
    }

    #[test]
    fn every_chain_bends_both_ways_more_in_thinner_wire_and_once_limp_stays_limp() {
        for entry in entries() {
            for way in [Way::OverFace, Way::Edgewise] {
                let bends = entry.bends(way);
                let is_chain = entry.rows.first().is_some_and(|row| row.width > 0.0);
                assert_eq!(is_chain, !bends.rows.is_empty(), "{} {way:?}", entry.name);
                let ends = bends.rows.last().is_none_or(|last| {
                    bends.limp_from_last
                        || last.aspect_ratio > largest(entry.aspect_ratio_min) - 1e-5
                });
                assert!(ends, "{} {way:?}: neither limp nor told to the end", entry.name);
                let (mut turn_deg, mut limp) = (0.0, false);
                for read in aspect_ratios(entry).filter_map(|ar| bends.at(ar)) {
                    assert!(read.row.turn_deg > turn_deg - 0.05, "{} {read:?}", entry.name);
                    assert!(read.limp || !limp, "{} {read:?}", entry.name);
                    assert!(read.row.inside_radius <= read.row.middle_radius, "{}", entry.name);
                    (turn_deg, limp) = (read.row.turn_deg, read.limp);
                }
            }
        }
    }

    #[test]
    fn the_last_ring_opens_further_in_thinner_wire_and_its_verdict_never_falls() {
        for entry in entries() {
            let (mut room, mut rank) = (0.0, 0);
            for ar in aspect_ratios(entry) {
                let Some(read) = entry.last_ring.at(ar) else { continue };
                let now = match read.fits() {
                    Fits::DoesNot => 0,
                    Fits::Tight => 1,
                    Fits::GoesIn => 2,
                };
                // In wires; the best ring may change where sizes differ.
                let share = read.ends_apart / read.needed;
                assert!(share > room - 1e-9 && now >= rank, "{} at {ar}: {read:?}", entry.name);
                (room, rank) = (share, now);
            }
            assert_eq!(rank, 2, "{}: loose rings take their last", entry.name);
        }
    }
}
