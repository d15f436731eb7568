//! What the workshop has: rods, blades, holder, wire, habits and records.

use crate::coil::GoodRings;
use crate::limits::{Limit, LimitError};
use crate::metal::WireLot;
use crate::quantity::Length;
use crate::slit::{Blade, Projection};
use crate::wind::{Mandrel, RingTrial, WireState};

/// A workshop, as far as a run sheet needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct Workshop {
    /// Name the jeweller gives it.
    pub name: String,
    /// Rods to wind on.
    pub rods: Vec<Rod>,
    /// Blades to slit with.
    pub blades: Vec<OwnedBlade>,
    /// What holds the coil while it is slit.
    pub holder: Holder,
    /// Wire in stock, and what was measured on it.
    pub wire: Vec<StockedWire>,
    /// What is lost on the way to good rings.
    pub losses: Losses,
    /// Time taken.
    pub minutes: Minutes,
    /// Wanted chance of enough good rings, as a share of one.
    pub confidence: f64,
}

/// A rod with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Rod {
    /// What is marked on it, or what the jeweller calls it.
    pub name: String,
    /// The rod as measured.
    pub mandrel: Mandrel,
}

/// A blade with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnedBlade {
    /// What the jeweller calls it.
    pub name: String,
    /// Its measures.
    pub blade: Blade,
}

/// What holds the coil, and how the blade stands over it.
#[derive(Clone, Debug, PartialEq)]
pub struct Holder {
    /// Length a coil and the head start share.
    pub length: Length,
    /// Clear length kept before the coil for the blade; worked out for each blade if not given.
    pub head_start: Option<Length>,
    /// How far short of the end of the coil the blade's axis halts at the stop.
    pub stop_setback: Option<Length>,
    /// Projection measured with one blade, from which that of every other blade follows.
    pub measured: Option<MeasuredProjection>,
    /// How much the plates squash the coil.
    pub squash: Length,
    /// Clear distance wanted between the blade and the far wall.
    pub margin: Length,
}

/// One blade's projection below the plane that touches the top of the coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredProjection {
    /// Index of the blade in [`Workshop::blades`].
    pub blade: usize,
    /// How far it reached.
    pub projection: Projection,
}

/// A lot of wire and what was measured on it.
#[derive(Clone, Debug, PartialEq)]
pub struct StockedWire {
    /// What the jeweller calls it.
    pub name: String,
    /// Metal, temper, diameter, amount and price.
    pub lot: WireLot,
    /// Date of its price, as typed.
    pub price_date: Option<String>,
    /// Rings measured, by coil, with the state of the wire as it was wound.
    pub trials: Vec<(WireState, RingTrial)>,
}

/// What is lost on the way to good rings, each on its own line.
#[derive(Clone, Debug, PartialEq)]
pub struct Losses {
    /// Turns lost at the two ends of each coil.
    pub end_turns: u32,
    /// Turns lost at the stop by the workshop's own record; worked out for each blade if not given.
    pub stop_turns: Option<u32>,
    /// Wire wasted on each coil beyond its turns: lead end and tail together.
    pub tails: Length,
    /// Pitch over wire diameter; 1 is as close as wire can lie.
    pub packing: f64,
    /// Rings counted so far: good, and spoiled at random (not end or stop losses).
    pub counts: Option<Counts>,
}

/// Rings counted in earlier runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counts {
    /// Good ones.
    pub good: GoodRings,
    /// Spoiled ones, other than at the ends and the stop.
    pub rejected: u32,
}

/// Time taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Minutes {
    /// To set up mandrel, blade and wire.
    pub set_up: f64,
    /// To wind, tape, clamp, slit and sort one coil.
    pub per_coil: f64,
}

/// Pitch over wire diameter.
pub const PACKING: Limit = Limit {
    field: "packing",
    unit: "-",
    low: 1.0,
    high: 10.0,
    why: "turns cannot lie closer than the wire is thick, nor stand further apart than a spring's",
};

/// Minutes of work.
pub const MINUTES: Limit = Limit {
    field: "minutes",
    unit: "min",
    low: 0.0,
    high: 100_000.0,
    why: "none to some two months",
};

/// Chance wanted, as a share.
pub const CONFIDENCE: Limit = Limit {
    field: "confidence",
    unit: "-",
    low: 0.01,
    high: 0.9999,
    why: "a certainty would take endless coils",
};

impl Workshop {
    /// Checks the plain numbers; lengths and blades have been checked as they were made.
    ///
    /// # Units
    /// As in the fields.
    /// # Validity
    /// [`PACKING`], [`MINUTES`], [`CONFIDENCE`], and the holder's lengths not negative.
    /// # Errors
    /// [`LimitError`] naming the field of the workshop file.
    /// # Source
    /// Own limits.
    pub fn check(&self) -> Result<(), LimitError> {
        use crate::limits::LENGTH;
        let holder = &self.holder;
        let length = |field, low: f64, high: f64, given: Length| {
            Limit { field, low, high, ..LENGTH }.check(given.mm()).map(drop)
        };
        length("holder_length_mm", 1.0, 10_000.0, holder.length)?;
        length("head_start_mm", 0.0, holder.length.mm(), holder.head_start.unwrap_or(ZERO))?;
        length("stop_setback_mm", 0.0, holder.length.mm(), holder.stop_setback.unwrap_or(ZERO))?;
        length("squash_mm", 0.0, 50.0, holder.squash)?;
        length("margin_mm", 0.0, 50.0, holder.margin)?;
        length("tails_mm", 0.0, 10_000.0, self.losses.tails)?;
        PACKING.check(self.losses.packing)?;
        MINUTES.check(self.minutes.set_up)?;
        MINUTES.check(self.minutes.per_coil)?;
        CONFIDENCE.check(self.confidence)?;
        Ok(())
    }
}

const ZERO: Length = Length::from_mm(0.0);
