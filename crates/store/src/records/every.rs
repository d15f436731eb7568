//! All kinds of record, one after another.

use crate::record::Record;
use crate::records::{
    Batch, Blade, Coil, Fault, FrozenSheet, FurtherRing, Handout, HandoutGiven, Holder,
    KeptPattern, MeasuredPiece, MetalOverlay, OrderLine, OtherWorkshop, Photo, Reading,
    RingOfPiece, RingOrder, Rod, Run, Tick, Trial, WireLot, Workshop,
};

/// What is to be done with each kind of record.
pub(crate) trait EachKind<E> {
    /// Does it with one kind.
    fn kind<T: Record>(&mut self) -> Result<(), E>;
}

/// Goes through all kinds of record in the order they refer to each other.
pub(crate) fn every_kind<E>(each: &mut impl EachKind<E>) -> Result<(), E> {
    each.kind::<Workshop>()?;
    each.kind::<MetalOverlay>()?;
    each.kind::<WireLot>()?;
    each.kind::<Rod>()?;
    each.kind::<Blade>()?;
    each.kind::<Holder>()?;
    each.kind::<RingOrder>()?;
    each.kind::<OrderLine>()?;
    each.kind::<FurtherRing>()?;
    each.kind::<FrozenSheet>()?;
    each.kind::<Run>()?;
    each.kind::<Coil>()?;
    each.kind::<Tick>()?;
    each.kind::<Reading>()?;
    each.kind::<Trial>()?;
    each.kind::<Batch>()?;
    each.kind::<Handout>()?;
    each.kind::<HandoutGiven>()?;
    each.kind::<Photo>()?;
    each.kind::<Fault>()?;
    each.kind::<OtherWorkshop>()?;
    each.kind::<MeasuredPiece>()?;
    each.kind::<RingOfPiece>()?;
    each.kind::<KeptPattern>()
}
