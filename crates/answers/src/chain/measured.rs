//! Pieces that were linked and measured: what each says of the length of its pattern, told alike by the
//! app, by files, by commands and by `batch`.

use linkwright_calc::limits::LimitError;
use linkwright_linkage::answer::{
    ClosedRing, Correction, Linked, MeasuredError, MeasuredPiece, QuestionError, Reading,
};
use linkwright_linkage::pattern::{Kind, Pattern};
use thiserror::Error;

use super::solver::Solver;

/// Pieces of a pattern that are learned from at most.
pub const PIECES_MOST: usize = 40;

/// A measured piece and what it is compared with.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceGiven {
    /// What was measured.
    pub piece: MeasuredPiece,
    /// What it says, if it is of rings of its own; nothing if it is of the rings that are asked about.
    pub reading: Option<Reading>,
    /// The day it was measured, as noted.
    pub date: Option<String>,
}

/// Why a measured piece says nothing.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PieceError {
    /// It is of another size than its rings give.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
    /// Its rings are no rings of the pattern.
    #[error(transparent)]
    Question(QuestionError),
    /// A ring of it is outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// Its rings are too unlike those of the pattern.
    #[error(
        "its rings were not solved within {steps} steps; measure a piece of rings nearer to the pattern's \
         own proportion"
    )]
    NotSolved {
        /// Steps taken.
        steps: u32,
    },
    /// The pattern is measured otherwise.
    #[error("{pattern} is no chain; only the length of a chain is corrected by measured pieces")]
    NoChain {
        /// Key of the pattern.
        pattern: String,
    },
}

/// What a piece of stated rings, the main size first, says of the ratio of real to worked-out length.
///
/// # Errors
/// [`PieceError`] if the pattern is no chain, its rings do not suit it, or it is so far off that it must be
/// another chain.
pub fn reading(
    pattern: &Pattern,
    rings: &[ClosedRing],
    piece: MeasuredPiece,
    solver: &Solver,
) -> Result<Reading, PieceError> {
    if pattern.kind() != Kind::Chain {
        return Err(PieceError::NoChain { pattern: pattern.name().to_owned() });
    }
    let linked = solver.linked(pattern, rings).map_err(|error| match error {
        QuestionError::Halt(_) => {
            let rings = pattern.spec().rings.len();
            PieceError::NotSolved { steps: solver.steps_most(rings).unwrap_or_default() }
        }
        error => PieceError::Question(error),
    })?;
    Ok(linked.reading(piece)?)
}

/// What pieces teach, those of no stated rings being of the rings of `linked`, not corrected yet.
///
/// # Errors
/// The place of the first piece that cannot be of these rings, counted from nought, with what is wrong.
pub fn correction(
    linked: &Linked,
    pieces: &[PieceGiven],
) -> Result<Correction, (usize, MeasuredError)> {
    let read = pieces.iter().enumerate().map(|(at, given)| match given.reading {
        Some(reading) => Ok(reading),
        None => linked.reading(given.piece).map_err(|error| (at, error)),
    });
    Ok(Correction::from_readings(&read.collect::<Result<Vec<_>, _>>()?))
}
