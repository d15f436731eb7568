//! The precomputed table: every pattern of the craft solved over aspect ratios, so that a slider moves.
//!
//! `cargo xtask chain-tables` solves it anew with this crate and writes `data.rs`; `--check` solves a
//! sample and compares.

mod compute;
mod curve;
mod data;

pub use compute::{Computed, ComputedRow, compute, compute_row};
pub use data::PROVENANCE;

use curve::monotone;

use crate::pattern::{Cell, Pattern, craft};
use crate::pose::Pose;
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
        let (first, last) = (self.rows.first()?, self.rows.last()?);
        if !(self.aspect_ratio_min..=last.aspect_ratio).contains(&aspect_ratio) {
            return None;
        }
        // The first row lies a millionth above the limit.
        let ar = aspect_ratio.max(first.aspect_ratio);
        let read = |value: fn(&Row) -> f64| monotone(self.rows, ar, |row| row.aspect_ratio, value);
        let off = |row: &&Row| (row.aspect_ratio - ar).abs();
        let nearest = self.rows.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
        Some(Reading {
            advance: read(|row| row.advance),
            across: read(|row| row.across),
            width: read(|row| row.width),
            thickness: read(|row| row.thickness),
            starts: nearest.starts,
            hits: nearest.hits,
        })
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
