//! Trials: one recorded go with one setting.

use crate::id::Id;
use crate::record::{record, words};
use crate::records::{Blade, Run, WireLot};

words! {
    /// Where a trial came from.
    TrialSource {
        /// From a run at the bench.
        Run = "run",
        /// Typed in by hand.
        Typed = "typed",
        /// Typed in from a pencil card.
        Card = "card",
        /// From a table of old trials.
        Imported = "imported",
    }
}

words! {
    /// What befell the blade.
    BladeEvent {
        /// Nothing.
        None = "none",
        /// It broke.
        Broke = "broke",
        /// It went dull.
        Dulled = "dulled",
        /// It jammed.
        Jammed = "jammed",
    }
}

words! {
    /// How it went, as the jeweller judges.
    Outcome {
        /// To be done again like this.
        Good = "good",
        /// Usable, but not to be repeated as it is.
        Poor = "poor",
        /// No use.
        Failed = "failed",
    }
}

record! {
    /// One recorded go with one setting.
    Trial in "trial", a "trial" {
        /// Day of the trial.
        tried_on: String,
        /// Where the record came from.
        source: TrialSource,
        /// Key of the metal.
        metal: String,
        /// Temper of the wire.
        temper: String,
        /// Whether it was annealed at the bench before winding.
        annealed: bool,
        /// Wire as typed.
        wire_typed: String,
        /// Wire diameter, mm.
        wire_mm: f64,
        /// Rod as typed.
        rod_typed: String,
        /// Rod diameter, mm.
        rod_mm: f64,
        /// The lot of wire, if known.
        wire_lot_id: Option<Id<WireLot>>,
        /// The blade, if it is one of the workshop's.
        blade_id: Option<Id<Blade>>,
        /// The blade as noted; "" if it was not.
        blade_name: String,
        /// Diameter of the blade, mm.
        blade_diameter_mm: Option<f64>,
        /// Projection below the coil's top as typed.
        projection_typed: Option<String>,
        /// Projection, mm.
        projection_mm: Option<f64>,
        /// Inside diameters of measured rings as typed, such as "4.12 4.15 mm".
        inside_typed: Option<String>,
        /// Their mean, mm.
        inside_mean_mm: Option<f64>,
        /// How many were measured.
        inside_readings: Option<u32>,
        /// Turns wound.
        turns_wound: Option<u32>,
        /// Turns counted after the coil sprang open.
        turns_relaxed: Option<f64>,
        /// Good rings; absent if not counted.
        good: Option<u32>,
        /// Rings not severed.
        uncut: Option<u32>,
        /// Rings nicked or bent.
        nicked: Option<u32>,
        /// Rings crushed.
        crushed: Option<u32>,
        /// What befell the blade.
        blade_event: BladeEvent,
        /// How it went.
        outcome: Outcome,
        /// The run it came from.
        run_id: Option<Id<Run>>,
        /// The coil of that run.
        coil_number: Option<u32>,
        /// Who did it; never printed on public paper.
        worker: String,
        /// Anything else.
        note: String,
    }
}
