//! Which reel each coil's wire is cut from, so that little is bought and little is left over.

use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, constraint, default_solver, variable,
};
use thiserror::Error;

use crate::quantity::Length;

/// A reel in stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reel {
    /// Wire on it.
    pub length: Length,
}

/// Pieces of one length that are needed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pieces {
    /// Length of each, tails included.
    pub length: Length,
    /// How many.
    pub count: u32,
}

/// Where the pieces come from.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// `from_reel[r][p]`: pieces of kind `p` cut from reel `r`; one entry per reel, then per kind.
    pub from_reel: Vec<Vec<u32>>,
    /// Pieces of each kind for which wire has to be bought; one entry per kind.
    pub to_buy: Vec<u32>,
    /// What is left on each reel afterwards; one entry per reel.
    pub left: Vec<Length>,
}

/// The cutting-up could not be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum CutListError {
    /// The solver gave up, which for such a problem means a fault in the program.
    #[error("no cut list was found for {kinds} kinds of pieces on {reels} reels")]
    Unsolved {
        /// Kinds of pieces.
        kinds: usize,
        /// Reels.
        reels: usize,
    },
}

impl CutList {
    /// Length to buy for `pieces`, in the order they were given.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// `pieces` are those the list was made for.
    /// # Source
    /// Sum.
    ///
    /// ```
    /// use linkwright_calc::{plan::{cut_up, Pieces, Reel}, quantity::Length};
    /// let pieces = [Pieces { length: Length::from_mm(800.0), count: 3 }];
    /// let list = cut_up(&[Reel { length: Length::from_mm(1700.0) }], &pieces).unwrap();
    /// assert_eq!(list.length_to_buy(&pieces).mm(), 800.0);
    /// ```
    #[must_use]
    pub fn length_to_buy(&self, pieces: &[Pieces]) -> Length {
        let mm = pieces.iter().zip(&self.to_buy).map(|(p, n)| p.length.mm() * f64::from(*n)).sum();
        Length::from_mm(mm)
    }
}

/// Cuts the pieces from the reels so that the least wire is bought, and then so that the reels
/// that are started hold the least wire: short ends are used up before a full reel is begun.
///
/// Two small integer programmes, one after the other. Whole `x[r][p]` pieces of kind `p` come from reel
/// `r`, `y[r]` is 1 if the reel is started, `b[p]` pieces are bought:
/// `sum_r x[r][p] + b[p] = count[p]`, `sum_p L[p] x[r][p] <= L[r] y[r]`;
/// first the least `B = sum_p L[p] b[p]`, then, with no more than that bought, the least
/// `sum_r L[r] y[r]`.
///
/// # Units
/// Lengths in, whole pieces and lengths out. All reels hold the same wire: same alloy, temper and
/// diameter; the caller sees to that.
/// # Validity
/// Meant for a workshop: some dozen reels and kinds.
/// # Errors
/// [`CutListError::Unsolved`] if the solver fails.
/// # Source
/// Cutting-stock problem in its assignment form; textbook, from memory.
///
/// ```
/// use linkwright_calc::{plan::{cut_up, Pieces, Reel}, quantity::Length};
/// let mm = Length::from_mm;
/// // Two 0.78 m pieces fit the short reel; the long one is not started.
/// let list = cut_up(
///     &[Reel { length: mm(10_000.0) }, Reel { length: mm(1_600.0) }],
///     &[Pieces { length: mm(780.0), count: 2 }],
/// ).unwrap();
/// assert_eq!(list.from_reel, [[0], [2]]);
/// assert_eq!(list.left[1].mm(), 40.0);
/// ```
pub fn cut_up(reels: &[Reel], pieces: &[Pieces]) -> Result<CutList, CutListError> {
    let least_bought = list(reels, pieces, None)?;
    list(reels, pieces, Some(least_bought.length_to_buy(pieces)))
}

/// Room left to what is bought, for the solver's rounding: far below any piece.
const ROUNDING: Length = Length::from_mm(0.001);

/// The list that buys least, or, if it is said how much is bought at most, that starts the least wire.
fn list(
    reels: &[Reel],
    pieces: &[Pieces],
    bought_at_most: Option<Length>,
) -> Result<CutList, CutListError> {
    let unsolved = CutListError::Unsolved { kinds: pieces.len(), reels: reels.len() };
    let mut variables = ProblemVariables::new();
    let cut: Vec<Vec<_>> = reels
        .iter()
        .map(|_| {
            pieces.iter().map(|p| variables.add(variable().integer().min(0).max(p.count))).collect()
        })
        .collect();
    let started: Vec<_> = reels.iter().map(|_| variables.add(variable().binary())).collect();
    let bought: Vec<_> =
        pieces.iter().map(|p| variables.add(variable().integer().min(0).max(p.count))).collect();

    // Metres keep the numbers near one, which the solver's tolerances are made for.
    let metres = |length: Length| length.mm() / 1000.0;
    let buying: Expression = pieces.iter().zip(&bought).map(|(p, &b)| metres(p.length) * b).sum();
    let starting: Expression = reels.iter().zip(&started).map(|(r, &y)| metres(r.length) * y).sum();

    let mut model = match bought_at_most {
        None => variables.minimise(buying).using(default_solver),
        Some(most) => {
            let most_m = metres(most + ROUNDING);
            variables.minimise(starting).using(default_solver).with(constraint!(buying <= most_m))
        }
    };
    for (kind, piece) in pieces.iter().enumerate() {
        let from_stock: Expression = cut.iter().map(|reel| reel[kind]).sum();
        model = model.with(constraint!(from_stock + bought[kind] == piece.count));
    }
    for (reel, (row, &y)) in reels.iter().zip(cut.iter().zip(&started)) {
        let used: Expression = pieces.iter().zip(row).map(|(p, &x)| metres(p.length) * x).sum();
        model = model.with(constraint!(used <= metres(reel.length) * y));
    }
    let solution = model.solve().map_err(|_| unsolved)?;

    let whole = |value: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "integer variables between zero and a u32"
        )]
        let pieces = value.round().max(0.0) as u32;
        pieces
    };
    let from_reel: Vec<Vec<u32>> =
        cut.iter().map(|row| row.iter().map(|&x| whole(solution.value(x))).collect()).collect();
    let to_buy = bought.iter().map(|&b| whole(solution.value(b))).collect();
    let left = reels
        .iter()
        .zip(&from_reel)
        .map(|(reel, row)| {
            let used_mm: f64 =
                pieces.iter().zip(row).map(|(p, n)| p.length.mm() * f64::from(*n)).sum();
            Length::from_mm(reel.length.mm() - used_mm)
        })
        .collect();
    Ok(CutList { from_reel, to_buy, left })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    #[test]
    fn with_no_reels_everything_is_bought() {
        let list = cut_up(&[], &[Pieces { length: mm(782.8), count: 3 }]).unwrap();
        assert_eq!(list.to_buy, [3]);
    }

    #[test]
    fn a_piece_longer_than_every_reel_is_bought_and_not_joined() {
        let reels = [Reel { length: mm(700.0) }, Reel { length: mm(700.0) }];
        let list = cut_up(&reels, &[Pieces { length: mm(1000.0), count: 1 }]).unwrap();
        assert_eq!(list.to_buy, [1]);
        assert_eq!(list.left, [mm(700.0), mm(700.0)]);
    }

    #[test]
    fn nothing_is_bought_while_a_reel_however_large_has_the_wire() {
        // 1.02 m and 0.676 m of a reel of 215 m: it was once thought dearer to start it than to buy both.
        let pieces = [(1020.0, 1), (675.8, 1)].map(|(l, count)| Pieces { length: mm(l), count });
        let list = cut_up(&[Reel { length: mm(214_990.0) }], &pieces).unwrap();
        assert_eq!(
            (list.to_buy.as_slice(), list.from_reel[0].as_slice()),
            (&[0, 0][..], &[1, 1][..])
        );
        // Of two that would do, the smaller is started.
        let reels = [214_990.0, 3_000.0].map(|l| Reel { length: mm(l) });
        assert_eq!(cut_up(&reels, &pieces).unwrap().from_reel, [[0, 0], [1, 1]]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn every_piece_has_a_place_and_no_reel_is_overdrawn(
            reels_mm in prop::collection::vec(100.0..5000.0_f64, 0..4),
            pieces in prop::collection::vec((200.0..1500.0_f64, 1_u32..5), 1..4),
        ) {
            let reels: Vec<Reel> = reels_mm.iter().map(|&l| Reel { length: mm(l) }).collect();
            let pieces: Vec<Pieces> =
                pieces.iter().map(|&(l, count)| Pieces { length: mm(l), count }).collect();
            let list = cut_up(&reels, &pieces).unwrap();
            for (kind, piece) in pieces.iter().enumerate() {
                let cut: u32 = list.from_reel.iter().map(|reel| reel[kind]).sum();
                prop_assert_eq!(cut + list.to_buy[kind], piece.count);
            }
            for left in &list.left {
                // The solver works to about 1e-8 of a metre.
                prop_assert!(left.mm() >= -1e-3, "overdrawn: {} mm", left.mm());
            }
        }
    }
}
