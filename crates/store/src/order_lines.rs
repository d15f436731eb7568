//! The lines of an order, with every ring size of their patterns.

use crate::act::Act;
use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{FurtherRing, OrderLine, RingOrder};
use crate::view::View;

/// A line of an order with the ring sizes beyond its own.
#[derive(Clone, Debug, PartialEq)]
pub struct LineInFull {
    /// Its number.
    pub id: Id<OrderLine>,
    /// The line.
    pub line: OrderLine,
    /// The further sizes, in the pattern's order.
    pub further: Vec<FurtherRing>,
}

impl View<'_> {
    /// The lines of an order, in their places.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn lines_of(&self, order: Id<RingOrder>) -> Result<Vec<Saved<OrderLine>>, StoreError> {
        self.some("where order_id = ?1 order by position", [order])
    }

    /// The same with every ring size.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn lines_in_full(&self, order: Id<RingOrder>) -> Result<Vec<LineInFull>, StoreError> {
        let lines = self.lines_of(order)?.into_iter();
        lines.map(|line| self.in_full(line)).collect()
    }

    /// A line with every ring size.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn in_full(&self, line: Saved<OrderLine>) -> Result<LineInFull, StoreError> {
        let further = self.further_of::<FurtherRing>(line.id)?.into_iter();
        let further = further.map(|ring| ring.record).collect();
        Ok(LineInFull { id: line.id, line: line.record, further })
    }
}

impl Act<'_> {
    /// Takes a line out of an order with its further ring sizes.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is none.
    pub fn remove_line(&self, line: Id<OrderLine>) -> Result<(), StoreError> {
        self.remove_in_full::<FurtherRing>(line)
    }
}
