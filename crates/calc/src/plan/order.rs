//! What is wanted: an order and its lines.

use crate::basis::{Basis, Caution};
use crate::coil::GoodRings;
use crate::limits::{LENGTH, Limit, LimitError};
use crate::quantity::{Length, RingState};
use crate::wire::Wire;

/// Rings of one line, spare ones included.
pub const ORDERED_RINGS: Limit = Limit {
    field: "rings",
    unit: "rings",
    low: 0.0,
    high: 1_000_000.0,
    why: "none to what a workshop makes in decades",
};

/// An order: one or more lines that may share mandrels, blades and wire.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Name or number the jeweller knows it by.
    pub name: String,
    /// Date it was written, as typed, if it was.
    pub date: Option<String>,
    /// What is wanted, in the order it was written.
    pub lines: Vec<OrderLine>,
}

/// One line of an order: one kind of ring from one wire.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// Name the jeweller knows it by.
    pub name: String,
    /// How many rings, and for what.
    pub item: Item,
    /// Key or trade name of the metal.
    pub metal: String,
    /// Temper of the wire as bought.
    pub temper: String,
    /// The wire as typed, such as `18 awg`.
    pub wire_typed: String,
    /// The wire.
    pub wire: Wire,
    /// The ring, by its size or by the rod it is wound on.
    pub ring: RingWanted,
    /// Good rings to have beyond those asked for.
    pub spare: Spare,
    /// The linked pattern they are for, if one was ordered.
    pub linked: Option<Linked>,
}

/// The linked pattern that a line's rings are for.
///
/// Nothing here knows patterns: whoever does puts the count of rings into the line's item and says
/// here where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Linked {
    /// Key of the pattern.
    pub pattern: String,
    /// What is made and how its rings were counted, as a phrase.
    pub piece: String,
    /// What the count rests on.
    pub basis: Basis,
    /// How measured pieces changed the count; `None` where none were measured.
    pub measured: Option<CountByPieces>,
    /// What to watch.
    pub cautions: Vec<Caution>,
}

/// A count of repeats corrected by pieces that were linked and measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CountByPieces {
    /// Pieces measured.
    pub pieces: u32,
    /// Real over worked-out length.
    pub ratio: f64,
    /// Standard deviation of that ratio.
    pub ratio_spread: f64,
    /// Repeats counted with it.
    pub repeats: u64,
    /// Repeats as they would be counted without the pieces.
    pub repeats_without: u64,
}

/// How many rings, and for what.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Item {
    /// A count of rings.
    Rings {
        /// Rings asked for.
        count: GoodRings,
    },
    /// A one-in-one chain of a given length.
    Chain {
        /// Length over all, clasp included.
        length: Length,
        /// What the clasp and its own end rings add to the length.
        clasp: Length,
    },
    /// Kits for a class, each with the same count.
    Kits {
        /// Number of kits.
        kits: u32,
        /// Rings one piece takes.
        rings_each: u32,
        /// Extra rings in each kit.
        spare_each: u32,
    },
}

/// The ring wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum RingWanted {
    /// A size to hit; the plan chooses the mandrel.
    Size {
        /// Inside diameter.
        inside: Length,
        /// Allowed either way.
        tolerance: Length,
        /// Whether the size is that of the open ring off the coil or of the closed ring.
        state: RingState,
    },
    /// A rod to use; the plan says which ring comes off it.
    OnRod {
        /// Measured diameter of the rod.
        rod: Length,
    },
}

/// Good rings to have beyond those asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spare {
    /// A count.
    Rings(u32),
    /// A share of the rings asked for, rounded up.
    Share(f64),
}

impl Spare {
    /// Spare rings for a number asked for; a share is rounded up to a whole ring.
    ///
    /// # Units
    /// Rings in and out.
    /// # Validity
    /// A share that lands within one millionth above a whole ring counts as that ring.
    /// # Source
    /// Common practice, no source.
    ///
    /// ```
    /// use linkwright_calc::plan::Spare;
    /// assert_eq!(Spare::Share(0.10).rings(107), 11);
    /// assert_eq!(Spare::Share(0.10).rings(110), 11);
    /// assert_eq!(Spare::Rings(6).rings(96), 6);
    /// ```
    #[must_use]
    pub fn rings(self, asked: u32) -> u32 {
        match self {
            Spare::Rings(rings) => rings,
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a share of a count is small, whole and positive after ceil"
            )]
            Spare::Share(share) => (f64::from(asked) * share - 1e-6).ceil().max(0.0) as u32,
        }
    }
}

impl Spare {
    /// Checks the count or the share.
    ///
    /// # Units
    /// Rings, or a share of one.
    /// # Validity
    /// [`ORDERED_RINGS`] for a count; none to ten times the rings asked for as a share.
    /// # Errors
    /// [`LimitError`] naming `spare`.
    /// # Source
    /// Own limits.
    ///
    /// ```
    /// use linkwright_calc::plan::Spare;
    /// assert!(Spare::Share(0.10).check().is_ok());
    /// assert!(Spare::Rings(u32::MAX).check().is_err());
    /// ```
    pub fn check(self) -> Result<(), LimitError> {
        let why = "more spare rings than a workshop makes";
        match self {
            Spare::Rings(rings) => {
                Limit { field: "spare", why, ..ORDERED_RINGS }.check(f64::from(rings)).map(drop)
            }
            Spare::Share(share) => {
                let unit = "of the rings";
                Limit { field: "spare", unit, low: 0.0, high: 10.0, why }.check(share).map(drop)
            }
        }
    }
}

impl Item {
    /// Checks the counts and lengths of an item.
    ///
    /// # Units
    /// Rings, and lengths in millimetres.
    /// # Validity
    /// [`ORDERED_RINGS`] for counts (at least one ring), [`LENGTH`] for lengths.
    /// # Errors
    /// [`LimitError`] naming the field of the order file.
    /// # Source
    /// Own limits.
    ///
    /// ```
    /// use linkwright_calc::{coil::GoodRings, plan::Item};
    /// assert!(Item::Rings { count: GoodRings::new(0) }.check().is_err());
    /// assert!(Item::Rings { count: GoodRings::new(500) }.check().is_ok());
    /// ```
    pub fn check(&self) -> Result<(), LimitError> {
        let at_least_one = |field, count| Limit { field, low: 1.0, ..ORDERED_RINGS }.check(count);
        match self {
            Item::Rings { count } => at_least_one("rings", f64::from(count.get())).map(drop),
            Item::Chain { length, clasp } => {
                Limit { field: "chain_length_mm", low: 1.0, ..LENGTH }.check(length.mm())?;
                Limit { field: "clasp_mm", high: length.mm(), ..LENGTH }.check(clasp.mm()).map(drop)
            }
            Item::Kits { kits, rings_each, spare_each } => {
                at_least_one("kits", f64::from(*kits))?;
                at_least_one("rings_each", f64::from(*rings_each))?;
                at_least_one(
                    "kits",
                    f64::from(*kits) * (f64::from(*rings_each) + f64::from(*spare_each)),
                )
                .map(drop)
            }
        }
    }
}
