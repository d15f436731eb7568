//! Blades and the holder they run over.

use crate::id::Id;
use crate::record::record;

record! {
    /// A slitting blade.
    Blade in "blade", a "blade" {
        /// Its name.
        name: String,
        /// Diameter as typed.
        diameter_typed: String,
        /// Diameter, mm.
        diameter_mm: f64,
        /// Kerf as typed.
        kerf_typed: String,
        /// Kerf, mm.
        kerf_mm: f64,
        /// Count of teeth.
        teeth: Option<u32>,
        /// Diameter of the hub as typed.
        hub_typed: Option<String>,
        /// Diameter of the hub, mm.
        hub_mm: Option<f64>,
        /// Day it was first fitted.
        fitted_on: Option<String>,
        /// Rings it cut before records began.
        rings_before: u32,
        /// Wire section it cut before records began, mm2.
        cut_before_mm2: f64,
        /// Day it was retired; in use if absent.
        retired_on: Option<String>,
        /// Why it was retired.
        retired_why: String,
        /// Anything else.
        note: String,
    }
}

record! {
    /// A holder with its slotted cover; lengths as typed.
    Holder in "holder", a "holder" {
        /// Its name.
        name: String,
        /// Length for the coil and its head start.
        length_typed: String,
        /// Clear length before the coil; worked out if absent.
        head_start_typed: Option<String>,
        /// How far short of the coil's end the blade's axis halts.
        stop_setback_typed: Option<String>,
        /// How much the clamp flattens the coil.
        squash_typed: String,
        /// Clearance to keep above the far wall.
        margin_typed: String,
        /// The blade whose projection was measured.
        projection_blade_id: Option<Id<Blade>>,
        /// The projection measured with it.
        projection_typed: Option<String>,
        /// Whether plans are made for this holder.
        in_use: bool,
        /// Anything else.
        note: String,
    }
}
