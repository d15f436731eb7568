//! Pieces that were linked and measured, with every ring size of their patterns.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::error::StoreError;
use crate::id::Id;
use crate::records::{MeasuredPiece, RingOfPiece};
use crate::view::View;

/// A measured piece with the ring sizes beyond its own.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceInFull {
    /// Its number.
    pub id: Id<MeasuredPiece>,
    /// The piece.
    pub piece: MeasuredPiece,
    /// The further sizes, in the pattern's order.
    pub further: Vec<RingOfPiece>,
}

impl View<'_> {
    /// All measured pieces with every ring size, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn pieces_in_full(&self) -> Result<Vec<PieceInFull>, StoreError> {
        let mut further: BTreeMap<Id<MeasuredPiece>, Vec<RingOfPiece>> = BTreeMap::new();
        for ring in self.some::<RingOfPiece>("order by measured_piece_id, size", [])? {
            further.entry(ring.record.measured_piece_id).or_default().push(ring.record);
        }
        let in_full = self.all::<MeasuredPiece>()?.into_iter().map(|saved| PieceInFull {
            id: saved.id,
            further: further.remove(&saved.id).unwrap_or_default(),
            piece: saved.record,
        });
        Ok(in_full.collect())
    }
}

impl Act<'_> {
    /// Adds a measured piece with the ring sizes beyond its own.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if a rule of either table stands against it.
    pub fn add_piece(
        &self,
        piece: &MeasuredPiece,
        further: &[RingOfPiece],
    ) -> Result<Id<MeasuredPiece>, StoreError> {
        let id = self.add(piece)?;
        self.keep_further(id, further)?;
        Ok(id)
    }
}
