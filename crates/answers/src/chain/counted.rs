//! The rings of a piece that comes nearest to the length wanted, as an order takes them.

use linkwright_calc::quantity::Length;

use super::answered::ChainAnswer;
use super::asked::PieceAsked;

/// Whole repeats of a piece, and its rings.
#[derive(Clone, Debug, PartialEq)]
pub struct Counts {
    /// Repeats.
    pub cells: u64,
    /// Rings of each size, end rings among the first.
    pub each: Vec<u64>,
    /// Length over all they come to; nothing for a sheet or a cluster.
    pub length: Option<Length>,
}

impl Counts {
    /// Rings of all sizes, end rings included.
    pub fn rings(&self) -> u64 {
        self.each.iter().sum()
    }
}

/// The counts; `None` where the rings do not go together or no piece was asked for.
pub fn counts(answer: &ChainAnswer) -> Option<Counts> {
    let ends = match answer.piece {
        Some(PieceAsked::Long { ends, .. } | PieceAsked::Round { ends, .. }) => {
            u64::from(ends.rings)
        }
        _ => 0,
    };
    let (cells, length) = match (answer.around, answer.length) {
        (Some(around), Some(length)) => {
            let nearest = around.nearest(length);
            (nearest.cells, Some(nearest.length))
        }
        _ => {
            let main = answer.rings.first()?;
            (main.count? / main.per_cell.max(1) as u64, None)
        }
    };
    let each = answer.rings.iter().enumerate().map(|(size, used)| {
        let ends = if size == 0 { ends } else { 0 };
        cells.saturating_mul(used.per_cell as u64) + ends
    });
    Some(Counts { cells, each: each.collect(), length })
}
