//! What was linked and measured.

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
        /// Wire of the second ring size as typed, for patterns of two.
        second_wire_typed: Option<String>,
        /// Wire diameter of the second size, mm.
        second_wire_mm: Option<f64>,
        /// Ring of the second size as typed.
        second_ring_typed: Option<String>,
        /// Inside diameter of the second size once closed, mm.
        second_closed_inside_mm: Option<f64>,
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
