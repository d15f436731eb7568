//! A curve solved row by row, each row helped by its neighbours.

use std::collections::BTreeSet;

use super::curve::{Fineness, OnCurve, beginning, kept, widest_doubt};
use crate::solve::Halt;

/// What solves the rows of a curve.
pub(super) trait Solver {
    /// A row with what its neighbours can begin with.
    type Row: OnCurve;

    /// The row at an aspect ratio, from the row below and, if it is set between two, the row above;
    /// `None` if it is not possible.
    fn row(&mut self, aspect_ratio: f64, beside: &[&Self::Row]) -> Result<Option<Self::Row>, Halt>;

    /// Whether a row gains from what was found for the one beside it; it keeps what it gains.
    fn gains(&mut self, row: &mut Self::Row, beside: &Self::Row) -> Result<bool, Halt>;

    /// Whether nothing changes any more from this row on.
    fn is_last(&self, row: &Self::Row) -> bool {
        let _ = row;
        false
    }
}

/// The rows of a curve from the limit on: first as many as it begins with, then one more wherever that
/// helps most. No row is left that could gain from the one beside it.
pub(super) fn solved<S: Solver>(
    solver: &mut S,
    least: f64,
    fineness: &Fineness,
) -> Result<Vec<S::Row>, Halt> {
    let mut rows: Vec<S::Row> = Vec::new();
    for aspect_ratio in beginning(least, fineness) {
        let below: Vec<&S::Row> = rows.last().into_iter().collect();
        let row = solver.row(aspect_ratio, &below)?;
        rows.extend(row);
        if rows.last().is_some_and(|row| solver.is_last(row)) {
            break;
        }
    }
    let all = (0..rows.len()).collect();
    hand_on(solver, &mut rows, all)?;
    while rows.len() < fineness.most_rows
        && let Some(gap) = widest_doubt(&rows, fineness)
    {
        let (below, above) = (&rows[gap], &rows[gap + 1]);
        let middle = kept(0.5 * (below.aspect_ratio() + above.aspect_ratio()));
        let Some(between) = solver.row(middle, &[below, above])? else {
            break;
        };
        rows.insert(gap + 1, between);
        hand_on(solver, &mut rows, BTreeSet::from([gap + 1]))?;
    }
    Ok(rows)
}

/// Hands what rows have found on to the rows beside them, as long as any gains; from the thinnest wire
/// down, where states are easiest to find. What is last ends the rows.
fn hand_on<S: Solver>(
    solver: &mut S,
    rows: &mut Vec<S::Row>,
    mut news: BTreeSet<usize>,
) -> Result<(), Halt> {
    while let Some(from) = news.pop_last() {
        for to in [from.checked_sub(1), Some(from + 1)].into_iter().flatten() {
            if let Ok([row, beside]) = rows.get_disjoint_mut([to, from])
                && solver.gains(row, beside)?
            {
                news.insert(to);
            }
        }
        if let Some(last) = rows.iter().position(|row| solver.is_last(row)) {
            rows.truncate(last + 1);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{Solver, solved};
    use crate::solve::Halt;
    use crate::table::curve::{Fineness, OnCurve, largest};

    /// A parabola that is found in thin wire alone, and handed on.
    #[derive(Clone, Copy, Debug, PartialEq)]
    struct Found {
        aspect_ratio: f64,
        knows: bool,
    }

    impl OnCurve for Found {
        fn aspect_ratio(&self) -> f64 {
            self.aspect_ratio
        }
        fn height(&self) -> f64 {
            if self.knows { self.aspect_ratio * self.aspect_ratio } else { 0.0 }
        }
    }

    /// Finds from `from` on; what was found can be known down to `to`.
    struct Finder {
        from: f64,
        to: f64,
    }

    impl Solver for Finder {
        type Row = Found;

        fn row(&mut self, aspect_ratio: f64, beside: &[&Found]) -> Result<Option<Found>, Halt> {
            let mut row = Found { aspect_ratio, knows: aspect_ratio >= self.from };
            for other in beside {
                self.gains(&mut row, other)?;
            }
            Ok(Some(row))
        }

        fn gains(&mut self, row: &mut Found, beside: &Found) -> Result<bool, Halt> {
            let gains = beside.knows && !row.knows && row.aspect_ratio >= self.to;
            row.knows |= gains;
            Ok(gains)
        }

        fn is_last(&self, row: &Found) -> bool {
            row.knows && row.aspect_ratio >= 8.0
        }
    }

    const FINENESS: Fineness = Fineness {
        above_limit: 1e-3,
        rows: 9,
        most_rows: 24,
        within: 0.1,
        closest: 1e-3,
        step: f64::INFINITY,
    };

    #[test]
    fn what_one_row_finds_is_handed_on_as_far_as_it_gains_and_what_is_last_ends_the_rows() {
        let rows =
            solved(&mut Finder { from: 11.0, to: 5.0 }, 2.0, &FINENESS).expect("not stopped");
        assert!(rows.iter().all(|row| row.knows == (row.aspect_ratio >= 5.0)), "{rows:?}");
        let past: Vec<&Found> = rows.iter().filter(|row| row.aspect_ratio >= 8.0).collect();
        assert_eq!(past.len(), 1, "{rows:?}");
        assert!(rows.len() > 9 && rows.is_sorted_by(|a, b| a.aspect_ratio < b.aspect_ratio));
    }

    #[test]
    fn without_an_end_rows_go_on_to_the_largest_aspect_ratio() {
        let rows = solved(&mut Finder { from: 20.0, to: 20.0 }, 2.0, &FINENESS);
        let last = rows.expect("not stopped").last().map(|row| row.aspect_ratio);
        assert_eq!(last, Some(largest(2.0)));
    }
}
