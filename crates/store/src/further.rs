//! Ring sizes beyond the first of whatever has one: a line of an order, a piece that was measured.

use crate::act::Act;
use crate::error::StoreError;
use crate::id::Id;
use crate::record::{Record, Saved};
use crate::records::{FurtherRing, MeasuredPiece, OrderLine, RingOfPiece};
use crate::view::View;

/// A ring size beyond the first of what it belongs to.
pub trait FurtherSize: Record + Clone + PartialEq {
    /// What it belongs to.
    type Of: Record;
    /// The column with the number of what it belongs to.
    const OF: &'static str;

    /// Its place among the sizes, from 2.
    fn size(&self) -> u32;

    /// The same, belonging to another.
    #[must_use]
    fn belonging_to(&self, of: Id<Self::Of>) -> Self;
}

impl FurtherSize for FurtherRing {
    type Of = OrderLine;
    const OF: &'static str = "order_line_id";

    fn size(&self) -> u32 {
        self.size
    }

    fn belonging_to(&self, of: Id<OrderLine>) -> FurtherRing {
        FurtherRing { order_line_id: of, ..self.clone() }
    }
}

impl FurtherSize for RingOfPiece {
    type Of = MeasuredPiece;
    const OF: &'static str = "measured_piece_id";

    fn size(&self) -> u32 {
        self.size
    }

    fn belonging_to(&self, of: Id<MeasuredPiece>) -> RingOfPiece {
        RingOfPiece { measured_piece_id: of, ..self.clone() }
    }
}

impl View<'_> {
    /// The ring sizes of a record beyond its own, in the pattern's order.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn further_of<R: FurtherSize>(&self, of: Id<R::Of>) -> Result<Vec<Saved<R>>, StoreError> {
        self.some(&format!("where {} = ?1 order by size", R::OF), [of])
    }
}

impl Act<'_> {
    /// Puts these further ring sizes in the place of those a record has. Each size keeps its number, so
    /// that each keeps its own history.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if a rule of their table stands against one.
    pub fn keep_further<R: FurtherSize>(
        &self,
        of: Id<R::Of>,
        rings: &[R],
    ) -> Result<(), StoreError> {
        let kept = self.further_of::<R>(of)?;
        let is_gone = |kept: &R| rings.iter().all(|ring| ring.size() != kept.size());
        for gone in kept.iter().filter(|kept| is_gone(&kept.record)) {
            self.remove(gone.id)?;
        }
        for ring in rings {
            let ring = ring.belonging_to(of);
            match kept.iter().find(|kept| kept.record.size() == ring.size()) {
                Some(kept) if kept.record == ring => {}
                Some(kept) => self.change(kept.id, &ring)?,
                None => drop(self.add(&ring)?),
            }
        }
        Ok(())
    }

    /// Takes a record out with its further ring sizes.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is none.
    pub fn remove_in_full<R: FurtherSize>(&self, of: Id<R::Of>) -> Result<(), StoreError> {
        self.keep_further::<R>(of, &[])?;
        self.remove(of)
    }
}
