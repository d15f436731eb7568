//! The run sheet of one line: every number it prints, each with what it rests on.

use crate::basis::{Answer, Caution};
use crate::cautions::Step;
use crate::coil::{GoodRings, Pitch, RelaxedTurns, WoundTurns};
use crate::hold::ClampAdvice;
use crate::metal::anneal::AnnealAdvice;
use crate::money::{Money, Price};
use crate::quantity::{Density, Force, Length, Mass};
use crate::ring::{Ring, RingsForLength};
use crate::slit::{Blade, Finding, SpeedAdvice, TeethAcross, Verdict};
use crate::wind::{Mandrel, PredictedRing, WireState};
use crate::wire::Wire;

use super::order::OrderLine;
use super::tried::{Least, OddsTaught};
use super::workshop::Minutes;

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
    /// The blades, best first; the sheet is worked out for the first, which is never out.
    pub blades: Vec<BladeOnSheet>,
    /// Holding the coil of a full set of turns, if the strength of the metal is on record.
    pub hold: Option<Answer<ClampAdvice>>,
    /// Speed of the blade, if a handbook row fits the metal.
    pub speed: Option<SpeedAdvice>,
    /// Where the metal goes.
    pub metal_use: MetalUse,
    /// Working time in minutes, set-up included.
    pub minutes: f64,
    /// The habits that time was reckoned with.
    pub minutes_allowed: Minutes,
    /// What the wire costs, if a price is known.
    pub cost: Option<CostOnSheet>,
    /// Labels to print: one a kit and one for the teacher's, or one for the batch.
    pub labels: u32,
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
    /// For a chain: its length with these rings, one fewer and one more.
    pub chain: Option<ChainOnSheet>,
    /// For kits: what is in each.
    pub kits: Option<KitsOnSheet>,
}

/// A chain, pulled straight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChainOnSheet {
    /// Length over all that was ordered.
    pub ordered: Length,
    /// Length over all with the rings asked for.
    pub length: Length,
    /// The ring counts on either side of the ordered length.
    pub around: RingsForLength,
    /// Mass of the chain before clasp and solder.
    pub mass: Mass,
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
    /// Coarsest step of a scale that shows a missing ring; none if the rings differ too much.
    pub scale_step_max: Option<Mass>,
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
    /// Open ring to expect from the next coil, with its 80 % range, as the lot's fit has it.
    pub predicted: Answer<PredictedRing>,
    /// What the order asks of the open ring, if it names a size.
    pub wanted: Option<Wanted>,
}

/// What the order asks of the open ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Inside diameter of the open ring.
    pub open_inside: Length,
    /// Allowed either way.
    pub tolerance: Length,
    /// Chance that a ring of the next coil is within the tolerance.
    pub chance: f64,
}

/// The ring once slit and closed.
#[derive(Clone, Debug, PartialEq)]
pub struct RingOnSheet {
    /// Inside diameter of the open ring planned with: what was read on this rod, else the fit's.
    pub open_inside: Answer<Length>,
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
    /// Length of the holder, shared by the head start and the coil.
    pub holder: Length,
    /// How far short of the coil's end the blade's axis halts, if that is known.
    pub stop_setback: Option<Length>,
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
    /// Wire wasted on each coil beyond its turns.
    pub tails: Length,
    /// Wire if all coils were as long as the first.
    pub wire_if_all_alike: Length,
    /// How likely it is to be enough.
    pub odds: Odds,
    /// What the coils take the least of, where the trials chose their length.
    pub least: Option<Least>,
    /// Why losses and coils are not those of the trials, as a sentence, where they were asked.
    pub untaught: Option<String>,
}

/// Turns lost on each coil.
#[derive(Clone, Debug, PartialEq)]
pub struct LossesOnSheet {
    /// At the two ends, as planned with.
    pub ends: Answer<u32>,
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
    /// Length of the turns needed, outside over outside.
    pub length: Length,
    /// Wire for each, tails included.
    pub wire: Length,
}

/// How likely it is that the good rings are enough.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Odds {
    /// As the trials have it.
    Taught(OddsTaught),
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
    /// Nothing was counted yet.
    Unknown {
        /// Rings that may be spoiled before spare rings are missing.
        bears: u32,
        /// Rings that may be spoiled before rings that were asked for are missing.
        bears_without_spares: u32,
    },
}

/// A blade, and what it would do.
#[derive(Clone, Debug, PartialEq)]
pub struct BladeOnSheet {
    /// Its place in the workshop's list.
    pub number: usize,
    /// What the jeweller calls it.
    pub name: String,
    /// Its measures.
    pub blade: Blade,
    /// How far it reaches below the top of the coil, and how that is known.
    pub projection: Answer<Length>,
    /// Window, margins, reaches, turns left at the stop, and what is wrong.
    pub verdict: Verdict,
    /// Teeth across one wire.
    pub teeth_across: TeethAcross,
    /// Good rings from a full coil, if it can be used.
    pub rings_per_full_coil: u32,
    /// Coils it takes, if it can be used.
    pub coils: Option<u32>,
    /// Wire it takes, if it can be used.
    pub wire: Option<Length>,
    /// Why it is out; empty if it is in.
    pub out: Vec<WhyOut>,
}

/// Why a blade is out.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum WhyOut {
    /// Its depth is wrong.
    Depth(Finding),
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
    /// As the trials have it, even so many coils are too few.
    TooFewGood {
        /// Coils tried out in the sum.
        coils: u32,
        /// Turns of each.
        turns: u32,
    },
    /// No rod gives the wanted ring with its kerf.
    NoRod,
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
    /// Wire for each good ring counted on, in minor units, not rounded.
    pub per_good_ring_minor: f64,
}

impl RunSheet {
    /// The blade the sheet is worked out for.
    #[must_use]
    pub fn blade(&self) -> &BladeOnSheet {
        &self.blades[0]
    }
}

impl CoilsOnSheet {
    /// Coils in all.
    #[must_use]
    pub fn coil_count(&self) -> u32 {
        self.groups.iter().map(|group| group.coils).sum()
    }

    /// Turns that become rings in all, good or spoiled.
    ///
    /// # Units
    /// Whole turns.
    /// # Validity
    /// The groups of one line.
    /// # Source
    /// Sum.
    #[must_use]
    pub fn slit_count(&self) -> u32 {
        slit_count(&self.groups)
    }

    /// Wire for all coils, tails included.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// The groups of one line.
    /// # Source
    /// Sum.
    #[must_use]
    pub fn wire_length(&self) -> Length {
        let mm = self.groups.iter().map(|group| f64::from(group.coils) * group.wire.mm()).sum();
        Length::from_mm(mm)
    }
}

/// Turns that become rings in all coils of some groups.
pub(super) fn slit_count(groups: &[CoilOnSheet]) -> u32 {
    groups.iter().map(|group| group.coils * group.slit.get()).sum()
}
