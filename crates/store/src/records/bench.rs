//! What happens at the bench: a frozen sheet, the run made from it, its coils, ticks and readings.

use crate::id::Id;
use crate::moment::Moment;
use crate::record::record;
use crate::records::{Blade, BladeEvent, RingOrder, WireLot};

record! {
    /// A plan of one line as it stood when a run was started; never changed.
    FrozenSheet in "frozen_sheet", a "run sheet" {
        /// The order it was planned for.
        order_id: Id<RingOrder>,
        /// The line of that order.
        line_name: String,
        /// When it was frozen.
        frozen_at: Moment,
        /// Version of the program that planned it.
        program_version: String,
        /// Order, workshop and metals that went in, as JSON.
        inputs: String,
        /// The sheet that came out, as JSON.
        answer: String,
    }
}

record! {
    /// Work at the bench from one frozen sheet.
    Run in "run", a "run" {
        /// Its sheet.
        frozen_sheet_id: Id<FrozenSheet>,
        /// What it is called.
        name: String,
        /// When it was started.
        started_at: Moment,
        /// When it was finished; in hand if absent.
        finished_at: Option<Moment>,
        /// The step the bench is at.
        step: String,
        /// The coil the bench is at, from 1.
        coil_number: u32,
        /// The wire taken.
        wire_lot_id: Option<Id<WireLot>>,
        /// Mass of the wire taken, g.
        wire_in_g: Option<f64>,
        /// When it was annealed, if it was.
        annealed_at: Option<Moment>,
        /// Whether annealing was passed over on purpose.
        anneal_skipped: bool,
        /// Why it was set aside, if it was.
        set_aside_why: Option<String>,
        /// Why it was called off, if it was.
        called_off_why: Option<String>,
        /// Anything else.
        note: String,
    }
}

record! {
    /// One coil of a run.
    Coil in "coil", a "coil" {
        /// Its run.
        run_id: Id<Run>,
        /// Its number in the run, from 1.
        number: u32,
        /// Turns to wind, from the sheet.
        turns_target: u32,
        /// Turns wound so far.
        turns_wound: u32,
        /// When winding was done.
        wound_at: Option<Moment>,
        /// Turns counted after it sprang open.
        turns_relaxed: Option<f64>,
        /// When it came off the rod.
        off_at: Option<Moment>,
        /// Pieces it was cut into for the holder.
        pieces: Option<u32>,
        /// Blade that slit it.
        blade_id: Option<Id<Blade>>,
        /// Projection below the coil's top as measured; as the sheet has it if absent.
        projection_typed: Option<String>,
        /// That projection, mm.
        projection_mm: Option<f64>,
        /// When it was clamped.
        clamped_at: Option<Moment>,
        /// When it was slit.
        slit_at: Option<Moment>,
        /// Good rings.
        good: u32,
        /// Rings not severed.
        uncut: u32,
        /// Rings nicked or bent.
        nicked: u32,
        /// Rings crushed.
        crushed: u32,
        /// When the four counts were done.
        counted_at: Option<Moment>,
        /// What befell the blade.
        blade_event: BladeEvent,
        /// Anything else.
        note: String,
    }
}

record! {
    /// One tick of a check list.
    Tick in "tick", a "tick" {
        /// Its run.
        run_id: Id<Run>,
        /// Coil it was ticked for.
        coil_number: u32,
        /// Which item.
        item: String,
        /// When.
        ticked_at: Moment,
    }
}

record! {
    /// One ring measured in a run.
    Reading in "reading", a "reading" {
        /// Its run.
        run_id: Id<Run>,
        /// Its place among the readings, from 1.
        position: u32,
        /// As typed.
        typed: String,
        /// Inside diameter, mm.
        inside_mm: f64,
    }
}
