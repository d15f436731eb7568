//! Batches of rings.

use crate::id::Id;
use crate::record::record;
use crate::records::{Run, WireLot};

record! {
    /// Rings made under one setting and kept together.
    Batch in "batch", a "batch" {
        /// The code on its label.
        code: String,
        /// Day it was made.
        made_on: String,
        /// The run it came from.
        run_id: Option<Id<Run>>,
        /// The lot of wire.
        wire_lot_id: Option<Id<WireLot>>,
        /// Key of the metal.
        metal: String,
        /// Temper of the wire.
        temper: String,
        /// Wire as typed.
        wire_typed: String,
        /// Wire diameter, mm.
        wire_mm: f64,
        /// Rod as typed.
        rod_typed: Option<String>,
        /// Rod diameter, mm.
        rod_mm: Option<f64>,
        /// Inside diameter of the open ring, mean of the readings, mm.
        inside_mm: Option<f64>,
        /// How many rings were measured.
        inside_readings: Option<u32>,
        /// Inside diameter once closed, mm.
        closed_inside_mm: Option<f64>,
        /// How that is known: "measured", "worked out from a kerf of 0.25 mm"; "" if it is not.
        closed_how: String,
        /// Rings in it.
        rings: u32,
        /// Two sigma of that count, rings; absent if counted one by one.
        rings_uncertainty: Option<f64>,
        /// How they were counted.
        counted_how: String,
        /// Where it is kept.
        place: String,
        /// Anything else.
        note: String,
        /// Day it was used up or sold; on the shelf if absent.
        gone_on: Option<String>,
    }
}
