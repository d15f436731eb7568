//! The very sizes among those looked for that some trial has: an index leads to the newest of each.

use rusqlite::types::Value;

use super::{Length, SizeClue, TrialFilter};
use crate::error::StoreError;
use crate::view::View;

/// More sizes than this are not looked up one by one.
const SIZES_MOST: u8 = 64;

/// A size of wire, of rod or of both that some trial has, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum TriedSize {
    Wire(f64),
    Rod(f64),
    Both { wire_mm: f64, rod_mm: f64 },
}

impl TriedSize {
    pub(super) const fn condition(self) -> &'static str {
        match self {
            TriedSize::Wire(_) => "wire_mm = ?",
            TriedSize::Rod(_) => "rod_mm = ?",
            TriedSize::Both { .. } => "wire_mm = ? and rod_mm = ?",
        }
    }

    pub(super) fn values(self) -> Vec<Value> {
        match self {
            TriedSize::Wire(mm) | TriedSize::Rod(mm) => vec![Value::from(mm)],
            TriedSize::Both { wire_mm, rod_mm } => vec![Value::from(wire_mm), Value::from(rod_mm)],
        }
    }

    /// The index that has the trials of this size in the order of their days.
    pub(super) const fn index(self) -> &'static str {
        match self {
            TriedSize::Wire(_) => "trial_of_wire_size",
            TriedSize::Rod(_) => "trial_of_rod_size",
            TriedSize::Both { .. } => "trial_of_both_sizes",
        }
    }
}

/// What one clue may be about.
#[derive(Default)]
struct Lengths {
    wires: Vec<Length>,
    rods: Vec<Length>,
}

impl Lengths {
    fn of(clue: &SizeClue) -> Lengths {
        let mut lengths = Lengths::default();
        lengths.add(clue);
        lengths
    }

    fn add(&mut self, clue: &SizeClue) {
        match clue {
            SizeClue::Wire(length) => self.wires.push(*length),
            SizeClue::Rod(length) => self.rods.push(*length),
            SizeClue::Either(length) => {
                self.wires.push(*length);
                self.rods.push(*length);
            }
            SizeClue::Any(clues) => clues.iter().for_each(|clue| self.add(clue)),
        }
    }
}

impl View<'_> {
    /// The sizes that were tried and fit the clues, or one of them: whatever fits all has one of
    /// these sizes. `None` if they are too many to be looked up one by one.
    pub(super) fn tried_sizes(
        &self,
        filter: &TrialFilter,
    ) -> Result<Option<Vec<TriedSize>>, StoreError> {
        let clues: Vec<Lengths> = filter.sizes.iter().map(Lengths::of).collect();
        let wires = clues.iter().find(|clue| clue.rods.is_empty());
        let rods = clues.iter().find(|clue| clue.wires.is_empty());
        let mut sizes = Vec::new();
        match (wires, rods, clues.first()) {
            (Some(of_wire), Some(of_rod), _) => {
                for wire_mm in self.tried("wire_mm", None, &of_wire.wires)? {
                    for rod_mm in self.tried("rod_mm", Some(wire_mm), &of_rod.rods)? {
                        sizes.push(TriedSize::Both { wire_mm, rod_mm });
                    }
                }
            }
            (_, _, Some(clue)) => {
                let wires = self.tried("wire_mm", None, &clue.wires)?;
                sizes.extend(wires.into_iter().map(TriedSize::Wire));
                let rods = self.tried("rod_mm", None, &clue.rods)?;
                sizes.extend(rods.into_iter().map(TriedSize::Rod));
            }
            (_, _, None) => return Ok(None),
        }
        Ok((sizes.len() <= usize::from(SIZES_MOST)).then_some(sizes))
    }

    /// The different sizes in a column within some lengths, on one wire or on all; one more than
    /// are looked up at most. Jumps from one to the next in the index.
    fn tried(
        &self,
        column: &str,
        wire_mm: Option<f64>,
        lengths: &[Length],
    ) -> Result<Vec<f64>, StoreError> {
        let on_wire = if wire_mm.is_some() { "wire_mm = ?4 and" } else { "?4 is null and" };
        let query = format!(
            "with recursive next (mm) as (
                 select min({column}) from trial where {on_wire} {column} between ?1 and ?2
                 union all
                 select (select min({column}) from trial
                         where {on_wire} {column} > next.mm and {column} <= ?2)
                 from next where next.mm is not null
             )
             select mm from next where mm is not null limit ?3"
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let mut sizes = Vec::new();
        for length in lengths {
            let given = rusqlite::params![length.low_mm, length.high_mm, SIZES_MOST + 1, wire_mm];
            for mm in statement.query_map(given, |row| row.get(0))? {
                sizes.push(mm?);
            }
        }
        Ok(sizes)
    }
}
