//! One trial: one coil, and what became of its turns.

use linkwright_calc::limits::Limit;

use super::{Cell, TrialError};

/// Turns of one coil.
const TURNS: Limit = Limit {
    field: "turns",
    unit: "turns",
    low: 1.0,
    high: 10_000.0,
    why: "one turn to far more than any holder takes",
};

/// What became of the turns of one coil; every turn is counted once, at the first thing that spoiled it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Lost where the blade enters.
    pub entry_lost: u32,
    /// Lost at the stop.
    pub stop_lost: u32,
    /// Crushed or flung by the clamp.
    pub crushed: u32,
    /// Not cut through.
    pub uncut: u32,
    /// Cut, but nicked or bent.
    pub deformed: u32,
    /// Good rings.
    pub good: u32,
}

/// One trial: one coil, and what became of its turns.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialRow {
    cell: Cell,
    turns: u32,
    counts: Counts,
}

impl Counts {
    /// All turns accounted for.
    pub fn sum(self) -> u64 {
        [self.entry_lost, self.stop_lost, self.crushed, self.uncut, self.deformed, self.good]
            .into_iter()
            .map(u64::from)
            .sum()
    }
}

impl TrialRow {
    /// A trial of the given cell.
    ///
    /// # Errors
    /// - [`TrialError::Limit`] for turns outside 1 to 10 000;
    /// - [`TrialError::CountsDoNotAddUp`] if the counts are not the turns.
    pub fn new(cell: Cell, turns: u32, counts: Counts) -> Result<TrialRow, TrialError> {
        TURNS.check(f64::from(turns))?;
        let counted = counts.sum();
        if counted != u64::from(turns) {
            return Err(TrialError::CountsDoNotAddUp { counted, turns });
        }
        Ok(TrialRow { cell, turns, counts })
    }

    /// What was tried.
    pub const fn cell(&self) -> &Cell {
        &self.cell
    }

    /// Turns of the coil.
    pub const fn turns(&self) -> u32 {
        self.turns
    }

    /// What became of them.
    pub const fn counts(&self) -> Counts {
        self.counts
    }

    /// Rings that came to each gate and rings that passed it: `[(passed, came); 3]`, kept first.
    ///
    /// Given how many came, the three counts are independent: the multinomial splits exactly.
    pub fn gates(&self) -> [(u32, u32); 3] {
        let Counts { crushed, uncut, deformed, good, .. } = self.counts;
        let severed = deformed + good;
        let kept = severed + uncut;
        [(kept, kept + crushed), (severed, kept), (good, severed)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::cell::tests::parts;

    #[test]
    fn counts_that_leave_a_turn_out_are_refused() {
        let cell = Cell::new(parts(1.0, 5.0)).unwrap();
        let counts = Counts { entry_lost: 1, stop_lost: 2, good: 26, ..Counts::default() };
        let refused = TrialRow::new(cell.clone(), 30, counts).unwrap_err();
        assert_eq!(refused, TrialError::CountsDoNotAddUp { counted: 29, turns: 30 });
        assert!(refused.to_string().contains("29 turns"), "{refused}");
        assert!(TrialRow::new(cell.clone(), 29, counts).is_ok());
        assert!(TrialRow::new(cell, 0, Counts::default()).is_err());
    }

    #[test]
    fn every_gate_sees_the_rings_the_gate_before_let_pass() {
        let counts =
            Counts { entry_lost: 1, stop_lost: 2, crushed: 3, uncut: 4, deformed: 5, good: 15 };
        let row = TrialRow::new(Cell::new(parts(1.0, 5.0)).unwrap(), 30, counts).unwrap();
        assert_eq!(row.gates(), [(24, 27), (20, 24), (15, 20)]);
    }
}
