//! The newest coils of every cell: what is learned from where there are more than can be kept.

use std::collections::{HashMap, VecDeque};
use std::sync::Arc;

use linkwright_store::Id;
use linkwright_store::records::Trial;
use linkwright_trials::{CellKey, TrialRow};

/// How many coils of each cell are learned from, and of how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Newest {
    /// The newest so many of each wire, rod and blade.
    pub(crate) of_each: usize,
    /// Coils on record that would teach something.
    pub(crate) on_record: usize,
}

/// Coils taken so far: of each cell the newest, as many of each as stay within a bound together.
pub(super) struct NewestOfEach {
    most: usize,
    of_each: usize,
    kept: usize,
    taken: usize,
    cells: HashMap<CellKey, VecDeque<Coil>>,
    tempers: Vec<Arc<str>>,
}

/// A coil with what else is known of it.
pub(super) struct Coil {
    /// Its place among all that were taken.
    place: usize,
    pub(super) row: TrialRow,
    pub(super) temper: Arc<str>,
    pub(super) day: String,
    pub(super) trial: Id<Trial>,
}

impl NewestOfEach {
    pub(super) fn at_most(most: usize) -> NewestOfEach {
        NewestOfEach {
            most,
            of_each: usize::MAX,
            kept: 0,
            taken: 0,
            cells: HashMap::new(),
            tempers: Vec::new(),
        }
    }

    /// Takes a coil that is newer than all before.
    pub(super) fn take(&mut self, row: TrialRow, temper: &str, day: &str, trial: Id<Trial>) {
        let temper = self.temper(temper);
        let coils = self.cells.entry(row.cell().key()).or_default();
        coils.push_back(Coil { place: self.taken, row, temper, day: day.to_owned(), trial });
        self.taken += 1;
        if coils.len() > self.of_each {
            coils.pop_front();
        } else {
            self.kept += 1;
        }
        // One coil of each cell stays, however many cells there are.
        while self.kept > self.most && self.of_each > 1 {
            self.fewer_of_each();
        }
    }

    /// One less of the cells that have most.
    fn fewer_of_each(&mut self) {
        let longest = self.cells.values().map(VecDeque::len).max().unwrap_or(0);
        self.of_each = (longest - 1).max(1);
        for coils in self.cells.values_mut().filter(|coils| coils.len() > self.of_each) {
            coils.pop_front();
            self.kept -= 1;
        }
    }

    /// Few tempers are on record, each many times.
    fn temper(&mut self, temper: &str) -> Arc<str> {
        if let Some(known) = self.tempers.iter().find(|known| ***known == *temper) {
            return Arc::clone(known);
        }
        let temper: Arc<str> = temper.into();
        self.tempers.push(Arc::clone(&temper));
        temper
    }

    /// How many were kept of each cell, if not all were.
    pub(super) fn newest(&self) -> Option<Newest> {
        (self.kept < self.taken).then_some(Newest { of_each: self.of_each, on_record: self.taken })
    }

    /// The coils that were kept.
    pub(super) fn oldest_first(self) -> Vec<Coil> {
        let mut coils: Vec<Coil> = self.cells.into_values().flatten().collect();
        coils.sort_unstable_by_key(|coil| coil.place);
        coils
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::{Length, Stress};
    use linkwright_calc::slit::AxisHeight;
    use linkwright_calc::wind::Mandrel;
    use linkwright_calc::wire::Wire;
    use linkwright_trials::{Cell, CellParts, Counts};

    use super::super::kind::tests::blade;
    use super::super::kind::trial_blade;
    use super::*;

    /// A coil on a rod, marked by its good rings.
    fn coil(rod_mm: f64, good: u32) -> TrialRow {
        let mm = Length::from_mm;
        let cell = Cell::new(CellParts {
            wire: Wire::new(mm(1.0)).expect("within limits"),
            mandrel: Mandrel::new(mm(rod_mm)).expect("within limits"),
            blade: trial_blade(&blade("thin", 0.2)).expect("a blade"),
            axis: AxisHeight::new(mm(14.0)).expect("within limits"),
            metal: "copper".into(),
            yield_strength: Stress::from_mpa(100.0),
            taped: true,
            lubricated: true,
            operator: None,
            rings_cut_since_new: None,
        });
        let counts = Counts { good, ..Counts::default() };
        TrialRow::new(cell.expect("within limits"), good, counts).expect("adds up")
    }

    fn kept(most: usize, coils: &[(f64, u32)]) -> (Option<Newest>, Vec<u32>) {
        let mut newest = NewestOfEach::at_most(most);
        coils
            .iter()
            .for_each(|(rod_mm, good)| newest.take(coil(*rod_mm, *good), "soft", "", Id::new(1)));
        let coils = |newest: NewestOfEach| newest.oldest_first();
        (newest.newest(), coils(newest).iter().map(|coil| coil.row.counts().good).collect())
    }

    #[test]
    fn where_all_may_stay_all_stay_in_their_order() {
        let coils = [(4.0, 1), (5.0, 2), (4.0, 3)];
        assert_eq!(kept(3, &coils), (None, vec![1, 2, 3]));
    }

    #[test]
    fn of_too_many_the_oldest_of_the_most_tried_cell_go_first() {
        let coils = [(4.0, 1), (5.0, 2), (4.0, 3), (4.0, 4), (6.0, 5), (4.0, 6)];
        let newest = Newest { of_each: 2, on_record: 6 };
        assert_eq!(kept(4, &coils), (Some(newest), vec![2, 4, 5, 6]));
        let newest = Newest { of_each: 1, on_record: 6 };
        assert_eq!(kept(3, &coils), (Some(newest), vec![2, 5, 6]));
    }

    #[test]
    fn one_coil_of_each_cell_stays_however_few_may() {
        let coils = [(4.0, 1), (5.0, 2), (4.0, 3), (6.0, 4)];
        let newest = Newest { of_each: 1, on_record: 4 };
        assert_eq!(kept(1, &coils), (Some(newest), vec![2, 3, 4]));
    }
}
