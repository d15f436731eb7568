//! What cutting trials teach a plan: the coils that give enough good rings under one blade.

use crate::basis::{Basis, Input};
use crate::coil::{GoodRings, RelaxedTurns};
use crate::quantity::Length;
use crate::slit::{AxisHeight, Blade};
use crate::wind::Mandrel;
use crate::wire::Wire;

/// Coils of one line under one blade, asked of whoever learned from the trials.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilsAsked<'a> {
    /// Key of the metal.
    pub metal: &'a str,
    /// Temper of the wire as it is wound.
    pub temper: &'a str,
    /// The wire.
    pub wire: Wire,
    /// The rod.
    pub mandrel: Mandrel,
    /// What the workshop calls the blade.
    pub blade_name: &'a str,
    /// The blade.
    pub blade: Blade,
    /// How high its axis stands over the coil.
    pub axis: AxisHeight,
    /// Good rings wanted.
    pub good: GoodRings,
    /// Most whole turns of a coil as it is clamped.
    pub turns_most: u32,
    /// Wanted chance of enough, as a share of one.
    pub confidence: f64,
    /// Wire that one more turn takes.
    pub wire_each_turn: Length,
    /// Wire that one more coil takes beyond its turns.
    pub wire_each_coil: Length,
}

/// Coils that give enough good rings, as the trials have it; turns are those of the coil as clamped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilsTaught {
    /// How many, the last one included.
    pub coils: u32,
    /// Whole turns of all but the last.
    pub turns: RelaxedTurns,
    /// Whole turns of the last, which may be shorter.
    pub last_turns: RelaxedTurns,
    /// Turns that a coil loses at its ends, on average.
    pub lost_at_ends: f64,
    /// Turns that a coil loses at the stop, on average.
    pub lost_at_stop: f64,
    /// What they take the least of.
    pub least: Least,
    /// What the coils are likely to give.
    pub odds: OddsTaught,
}

/// What coils were chosen to take the least of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// Wire: nobody said what work costs, or the wire has no price.
    Wire,
    /// Money: work, wire and what scrap brings.
    Money,
}

/// What the coils of a plan are likely to give, as the trials have it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddsTaught {
    /// Wanted chance of enough.
    pub confidence: f64,
    /// Chance of enough good rings.
    pub chance: f64,
    /// Good rings to expect.
    pub expected: f64,
    /// The most good rings that may be promised with the wanted confidence.
    pub promised: GoodRings,
    /// Share of good rings to expect among the turns that are not lost at an end.
    pub good_share: f64,
    /// Coils tried of this very wire, rod and blade.
    pub tried_here: u32,
    /// Coils tried of any other.
    pub tried_elsewhere: u32,
    /// Other workshops whose files were learned from.
    pub other_workshops: u32,
}

/// Why the trials have no answer.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Untaught {
    /// Nothing was tried yet, or they do not speak about such a coil, for the reason given: the
    /// workshop's own record of losses stands.
    Silent(Option<String>),
    /// So many coils of so many turns are still too few.
    OutOfReach {
        /// How many.
        coils: u32,
        /// Turns of each.
        turns: u32,
        /// Coils tried of this very wire, rod and blade.
        tried_here: u32,
    },
}

/// Whoever learned from the cutting trials.
pub trait Trials {
    /// The coils that cost least, or take the least wire where prices are not known, and give enough
    /// good rings with the wanted confidence.
    ///
    /// # Errors
    /// [`Untaught`] if the trials do not say, or if no number of coils would do.
    fn coils(&self, asked: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught>;
}

impl OddsTaught {
    /// What these odds and the losses beside them rest on.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Any counts of trials.
    /// # Source
    /// `docs/theory/trials.md`.
    ///
    /// ```
    /// use linkwright_calc::{coil::GoodRings, plan::OddsTaught};
    /// let odds = OddsTaught {
    ///     confidence: 0.95, chance: 0.96, expected: 125.0, promised: GoodRings::new(118),
    ///     good_share: 0.93, tried_here: 3, tried_elsewhere: 20, other_workshops: 0,
    /// };
    /// assert_eq!(odds.basis().to_string(), "tried 3 times");
    /// assert_eq!(OddsTaught { tried_here: 0, ..odds }.basis().word(), "worked out");
    /// ```
    pub fn basis(&self) -> Basis {
        if self.tried_here > 0 {
            return Basis::tried(self.tried_here);
        }
        let coils = f64::from(self.tried_elsewhere);
        Basis::worked_out(
            "the slit's geometry, corrected by what other sizes gave",
            "docs/theory/trials.md",
            vec![Input::new("other coils tried", coils, "-", Basis::tried(self.tried_elsewhere))],
        )
    }
}
