//! What was linked and measured.

use crate::id::Id;
use crate::record::record;

record! {
    /// A piece of a pattern, pulled straight and measured over all.
    MeasuredPiece in "measured_piece", a "measured piece" {
        /// Key of the pattern.
        pattern: String,
        /// Day it was measured.
        measured_on: String,
        /// Metal as typed; empty where it was not said.
        metal: String,
        /// Wire as typed.
        wire_typed: String,
        /// Wire diameter, mm.
        wire_mm: f64,
        /// Ring as typed, with inside or outside and open or closed.
        ring_typed: String,
        /// Inside diameter once closed, mm.
        closed_inside_mm: f64,
        /// Rings of all sizes in the piece.
        rings: u32,
        /// Length over all as typed.
        length_typed: String,
        /// Length over all, mm.
        length_mm: f64,
        /// Anything else.
        note: String,
    }
}

record! {
    /// A ring size of a measured piece beyond its first, for patterns of several.
    RingOfPiece in "ring_of_piece", a "further ring size of a measured piece" {
        /// The piece.
        measured_piece_id: Id<MeasuredPiece>,
        /// Its place among the pattern's sizes, from 2.
        size: u32,
        /// Wire as typed.
        wire_typed: String,
        /// Wire diameter, mm.
        wire_mm: f64,
        /// Ring as typed, with inside or outside and open or closed.
        ring_typed: String,
        /// Inside diameter once closed, mm.
        closed_inside_mm: f64,
    }
}
