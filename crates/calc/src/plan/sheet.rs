//! The run sheet of one line: every number it prints, each with what it rests on.

use crate::basis::{Answer, Caution};
use crate::coil::{GoodRings, Pitch, RelaxedTurns, WoundTurns};
use crate::cautions::Step;
use crate::metal::AnnealAdvice;
use crate::money::{Money, Price};
use crate::plan::order::OrderLine;
use crate::quantity::{Density, Force, Length, Mass};
use crate::ring::{Ring, RingsForLength};
use crate::slit::{Blade, Kerf, ProjectionWindow, SpeedAdvice};
use crate::wind::{Mandrel, PredictedRing, WireState};
use crate::wire::Wire;

/// The run sheet of one line of an order.
#[derive(Clone, Debug, PartialEq)]
pub struct RunSheet {
    /// The line as it was ordered.
    pub line: OrderLine,
    /// The metal.
    pub metal: MetalOnSheet,
    /// The wire, by measurement where there is one.
    pub wire: Answer<Wire>,
    /// Name of the lot it comes from, if it is in stock.
    pub lot: Option<String>,
    /// Rings to make.
    pub to_make: ToMake,
    /// The rod, and the ring to expect off it.
    pub rod: RodOnSheet,
    /// Whether to anneal, and why.
    pub anneal: AnnealAdvice,
    /// The ring once slit and closed.
    pub ring: RingOnSheet,
    /// What to wind and slit.
    pub coils: CoilsOnSheet,
    /// The blade to use, best first; the first is the one the sheet is worked out for.
    pub blades: Vec<BladeOnSheet>,
    /// Holding the coil.
    pub hold: HoldOnSheet,
    /// Speed of the blade, if its size allows advice for this metal.
    pub speed: Option<SpeedAdvice>,
    /// Where the metal goes.
    pub metal_use: MetalUse,
    /// Working time in minutes, set-up included.
    pub minutes: f64,
    /// What the wire costs, if a price is known.
    pub cost: Option<CostOnSheet>,
    /// Labels to print: one a kit and one for the bench, or one for the batch.
    pub labels: u32,
    /// What to tick before power is on.
    pub set_up_ticks: &'static [&'static str],
    /// Steps whose cautions belong on this sheet, in the order of work.
    pub steps: Vec<Step>,
    /// Doubts about this very plan, most important first.
    pub doubts: Vec<Caution>,
}

/// The metal of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct MetalOnSheet {
    /// Key in the catalogue.
    pub key: String,
    /// Trade name.
    pub name: String,
    /// Temper as the catalogue names it.
    pub temper: String,
    /// Density used for every mass.
    pub density: Answer<Density>,
}

/// Rings to make.
#[derive(Clone, Debug, PartialEq)]
pub struct ToMake {
    /// Rings the order needs.
    pub asked: GoodRings,
    /// Good rings to have beyond those.
    pub spare: u32,
    /// Both together.
    pub good: GoodRings,
    /// For a chain: lengths with one ring fewer and one more.
    pub chain: Option<RingsForLength>,
    /// For kits: what is in each and what a scale sees.
    pub kits: Option<KitsOnSheet>,
}

/// Class kits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KitsOnSheet {
    /// Kits to fill.
    pub kits: u32,
    /// Rings in each, spare ones included.
    pub rings_each: u32,
    /// Mass of each.
    pub mass: Mass,
    /// Share of a kit that one ring weighs.
    pub one_ring_share: f64,
    /// Coarsest display step, of those sold, on which a missing ring still shows.
    pub scale_step: Option<Mass>,
}

/// The rod chosen or given.
#[derive(Clone, Debug, PartialEq)]
pub struct RodOnSheet {
    /// What the jeweller calls it.
    pub name: String,
    /// Its size.
    pub mandrel: Mandrel,
    /// Whether the wire is annealed first.
    pub state: WireState,
    /// Open ring to expect, with its 80 % range.
    pub predicted: Answer<PredictedRing>,
    /// Open inside diameter aimed at, if the order names a size.
    pub wanted: Option<Wanted>,
}

/// What the order asks of the open ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Inside diameter of the open ring.
    pub open_inside: Length,
    /// Allowed either way.
    pub tolerance: Length,
    /// Predicted less wanted.
    pub miss: Length,
    /// Chance that a ring of the next coil is within the tolerance.
    pub chance: f64,
}

/// The ring once slit and closed.
#[derive(Clone, Debug, PartialEq)]
pub struct RingOnSheet {
    /// Its geometry.
    pub ring: Ring,
    /// Mass of one.
    pub mass: Mass,
    /// Pull at which an unsoldered closed ring begins to open for good, if the strength is on
    /// record.
    pub opens_at: Option<Answer<Force>>,
}

/// What to wind and slit.
#[derive(Clone, Debug, PartialEq)]
pub struct CoilsOnSheet {
    /// Pitch of the coil.
    pub pitch: Pitch,
    /// Length kept clear before the coil.
    pub head_start: Answer<Length>,
    /// Most whole relaxed turns the holder takes.
    pub relaxed_turns_most: u32,
    /// Turns lost on each coil.
    pub losses: LossesOnSheet,
    /// Turns to slit in all, after the losses, so that enough good rings are likely.
    pub to_slit: u32,
    /// The coils: one entry, or full ones and a shorter last one.
    pub groups: Vec<CoilOnSheet>,
    /// Wire if all coils were as long as the first.
    pub wire_if_all_alike: Length,
    /// How likely it is to be enough.
    pub odds: Odds,
}

/// Turns lost on each coil.
#[derive(Clone, Debug, PartialEq)]
pub struct LossesOnSheet {
    /// At the two ends.
    pub ends: u32,
    /// At the stop, as planned with.
    pub stop: Answer<u32>,
    /// At the stop, as the geometry has it, if the setback is known.
    pub stop_predicted: Option<u32>,
}

/// Coils wound alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilOnSheet {
    /// How many.
    pub coils: u32,
    /// Turns to wind on each.
    pub wound: WoundTurns,
    /// Turns that must be left on each for the rings counted on.
    pub relaxed_needed: u32,
    /// Turns left on each once it has sprung open.
    pub relaxed: RelaxedTurns,
    /// Turns of each that become rings, good or spoiled.
    pub slit: GoodRings,
    /// Length of each, outside over outside.
    pub length: Length,
    /// Wire for each, tails included.
    pub wire: Length,
}

/// How likely it is that the good rings are enough.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Odds {
    /// Worked out from rings counted so far.
    Known {
        /// Wanted chance.
        confidence: f64,
        /// Chance of enough with this plan.
        chance: f64,
        /// Good rings to expect.
        expected: f64,
        /// Rings counted so far.
        counted: u32,
    },
    /// Nothing was counted yet: this many rings may be spoiled before there are too few.
    Unknown {
        /// Rings that may be spoiled.
        bears: u32,
    },
}

/// A blade, and what it would do.
#[derive(Clone, Debug, PartialEq)]
pub struct BladeOnSheet {
    /// What the jeweller calls it.
    pub name: String,
    /// Its measures.
    pub blade: Blade,
    /// How far it reaches below the top of the coil; nothing or less where it does not reach.
    pub projection: Answer<Length>,
    /// Depths at which it parts, parts cleanly, and reaches the far wall.
    pub window: ProjectionWindow,
    /// Depth beyond a clean cut; negative where it does not part.
    pub sever_margin: Length,
    /// Depth left before the far wall, allowances taken off; negative where it is reached.
    pub far_wall_margin: Length,
    /// Length it needs clear before the first turn.
    pub head_start_needed: Length,
    /// How far from its axis a turn is still severed.
    pub severed_reach: Option<Length>,
    /// Turns not severed at the stop.
    pub uncut_at_stop: Option<u32>,
    /// Teeth across one wire, if they are counted.
    pub teeth_across: Option<f64>,
    /// Good rings from a full coil.
    pub good_per_coil: u32,
    /// Why it is out; empty if it is in.
    pub out: Vec<WhyOut>,
    /// What to watch with it.
    pub notes: Vec<Caution>,
}

/// Why a blade is out.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum WhyOut {
    /// It does not part the wire.
    DoesNotPart {
        /// Depth missing.
        short_by_mm: f64,
    },
    /// It nicks the far wall.
    ReachesFarWall {
        /// Depth too much.
        over_by_mm: f64,
    },
    /// Its hub meets the cover or the coil.
    HubTouches {
        /// Depth too much.
        over_by_mm: f64,
    },
    /// It cannot start clear of the coil.
    HeadStartShort {
        /// Clear length needed.
        needed_mm: f64,
        /// Clear length there is.
        given_mm: f64,
    },
    /// No turn is left after the losses.
    NothingLeft {
        /// Turns a full coil has.
        turns: u32,
        /// Turns lost.
        lost: u32,
    },
}

/// Holding the coil between the plates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldOnSheet {
    /// Force on each turn below which no mark is expected.
    pub unmarked_per_turn: Option<Force>,
    /// Force on each turn at which it collapses.
    pub collapse_per_turn: Option<Force>,
}

/// Where the metal of the wire goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MetalUse {
    /// Length of wire, tails included.
    pub wire_length: Length,
    /// Its mass.
    pub wire: Mass,
    /// Mass of the rings slit, good and spoiled.
    pub rings: Mass,
    /// Dust from the kerf.
    pub kerf_dust: Mass,
    /// Ends, stop turns and tails.
    pub ends_and_tails: Mass,
    /// Wire in stock that this line uses.
    pub from_stock: Length,
    /// Wire to buy.
    pub to_buy: Length,
}

/// What the wire costs.
#[derive(Clone, Debug, PartialEq)]
pub struct CostOnSheet {
    /// Price as given.
    pub price: Price,
    /// Its date, as given.
    pub price_date: Option<String>,
    /// All wire of the line.
    pub wire: Money,
    /// Wire per good ring counted on.
    pub per_ring: Option<f64>,
    /// Wire that has to be bought.
    pub to_buy: Money,
}

impl RunSheet {
    /// The blade the sheet is worked out for.
    #[must_use]
    pub fn blade(&self) -> &BladeOnSheet {
        &self.blades[0]
    }

    /// Coils in all.
    #[must_use]
    pub fn coils(&self) -> u32 {
        self.coils.groups.iter().map(|group| group.coils).sum()
    }

    /// Kerf of the blade used.
    #[must_use]
    pub fn kerf(&self) -> Kerf {
        self.blade().blade.kerf()
    }
}
