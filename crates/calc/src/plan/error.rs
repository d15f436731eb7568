//! Why a line cannot be planned, and what is possible instead.

use std::fmt;

use thiserror::Error;

use crate::coil::CoilError;
use crate::count::CountError;
use crate::hold::HoldError;
use crate::limits::LimitError;
use crate::metal::MetalError;
use crate::money::MoneyError;
use crate::ring::RingError;
use crate::slit::SlitError;
use crate::wind::LotError;

use super::CutListError;

/// A line of an order that cannot be planned.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("line \"{line}\": {problem}")]
pub struct LineRefused {
    /// The line's name.
    pub line: String,
    /// What stands in the way.
    pub problem: PlanError,
}

/// What stands in the way of a plan.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PlanError {
    /// A value outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// The metal or temper is not known.
    #[error(transparent)]
    Metal(#[from] MetalError),
    /// The measured rings of the lot cannot be used.
    #[error(transparent)]
    Lot(#[from] LotError),
    /// The coil cannot be.
    #[error(transparent)]
    Coil(#[from] CoilError),
    /// The coil cannot be held.
    #[error(transparent)]
    Hold(#[from] HoldError),
    /// The cut cannot be.
    #[error(transparent)]
    Slit(#[from] SlitError),
    /// The ring cannot be.
    #[error(transparent)]
    Ring(#[from] RingError),
    /// The counts cannot be.
    #[error(transparent)]
    Count(#[from] CountError),
    /// The cost cannot be kept.
    #[error(transparent)]
    Money(#[from] MoneyError),
    /// The cut list was not found.
    #[error(transparent)]
    CutList(#[from] CutListError),
    /// The workshop has no blade.
    #[error("the workshop has no blade; add a [[blade]] with its diameter and kerf")]
    NoBlade,
    /// Nobody knows how deep the blades reach.
    #[error(
        "no projection is measured; set one blade, measure how far it reaches below the top of the \
         coil, and note it as holder.projection"
    )]
    NoProjection,
    /// On this rod the wire springs back straight.
    #[error(
        "wire of {wire_diameter_mm:.2} mm takes no set on a rod of {mandrel_diameter_mm:.2} mm; use a \
         thinner rod or anneal the wire"
    )]
    TakesNoSet {
        /// The wire.
        wire_diameter_mm: f64,
        /// The rod.
        mandrel_diameter_mm: f64,
    },
    /// No rod of the workshop gives the wanted ring.
    #[error("{0}")]
    NoRod(Box<NoRod>),
    /// The rings of a line do not go together in its pattern.
    #[error(
        "{pattern} cannot be linked from rings of {closed_inside_mm:.2} mm inside, closed, in wire of \
         {wire_diameter_mm:.2} mm: {missing_mm:.2} mm of inside diameter is missing; take a larger rod \
         or thinner wire"
    )]
    RingsDoNotLink {
        /// Key of the pattern.
        pattern: String,
        /// The wire.
        wire_diameter_mm: f64,
        /// The ring as closed.
        closed_inside_mm: f64,
        /// Inside diameter that is missing.
        missing_mm: f64,
    },
    /// The ring sizes differ too much from those of the pattern.
    #[error("{pattern} does not stand with ring sizes so different from its own")]
    RingSizesDoNotSuit {
        /// Key of the pattern.
        pattern: String,
    },
    /// The pattern was not solved for these rings within the steps that are taken.
    #[error(
        "{pattern} was not solved for these rings within {steps} steps; take rings nearer to the pattern's \
         own proportion, or ask the command linkwright chain, which does not give up"
    )]
    PatternNotSolved {
        /// Key of the pattern.
        pattern: String,
        /// Steps taken.
        steps: u32,
    },
    /// A measured piece cannot be one of the line's own rings.
    #[error(
        "measured {piece}: {rings} rings measure {measured_mm} mm, but the rings of this line give \
         {worked_out_mm:.1} mm: more than {most_percent} % off, so it is another pattern, other rings (then \
         say which with of), or a slip of the pen"
    )]
    PieceOfOtherRings {
        /// Its place among the line's measured pieces, from one.
        piece: usize,
        /// Rings of the piece.
        rings: u64,
        /// Its length.
        measured_mm: f64,
        /// The length its rings would give if they were those of the line.
        worked_out_mm: f64,
        /// Difference beyond which a piece is refused.
        most_percent: f64,
    },
    /// A measured piece can be no piece of the pattern.
    #[error(
        "measured {piece}: only a chain's length is corrected by measured pieces, of at least \
         {rings_least} rings, one repeat of {pattern}"
    )]
    NoPieceOfPattern {
        /// Its place among the line's measured pieces, from one.
        piece: usize,
        /// Key of the pattern.
        pattern: String,
        /// Rings of one repeat.
        rings_least: usize,
    },
    /// Every blade is out.
    #[error("no blade of the workshop can slit this coil: {0}")]
    AllBladesOut(BladesOut),
}

/// No rod of the workshop gives the wanted ring: what the nearest give, and what would.
#[derive(Clone, Debug, PartialEq)]
pub struct NoRod {
    /// Inside diameter wanted, of the open ring.
    pub wanted_mm: f64,
    /// Allowed either way.
    pub tolerance_mm: f64,
    /// What the workshop's rods give, nearest first.
    pub nearest: Vec<RodMiss>,
    /// The rod that would give it, of wire as bought; none if no rod does.
    pub rod_wanted_mm: Option<f64>,
    /// The nearest drill shank, and the ring off it, if that is within the tolerance.
    pub shank: Option<ShankOffer>,
}

/// A rod and by how much its ring misses.
#[derive(Clone, Debug, PartialEq)]
pub struct RodMiss {
    /// What the jeweller calls the rod.
    pub rod: String,
    /// Whether the wire would be annealed first.
    pub annealed: bool,
    /// Ring to expect.
    pub inside_mm: f64,
}

/// A drill shank, which is a rod too.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShankOffer {
    /// Its diameter.
    pub shank_mm: f64,
    /// Ring to expect.
    pub inside_mm: f64,
}

impl fmt::Display for NoRod {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let NoRod { wanted_mm, tolerance_mm, .. } = self;
        write!(
            f,
            "no rod of the workshop gives an open ring of {wanted_mm:.2} +/- {tolerance_mm:.2} mm inside"
        )?;
        for (at, miss) in self.nearest.iter().enumerate() {
            let (lead, off_mm) = (if at == 0 { ": " } else { ", " }, miss.inside_mm - wanted_mm);
            let annealed = if miss.annealed { " with annealed wire" } else { "" };
            write!(
                f,
                "{lead}rod {}{annealed} gives {:.2} ({off_mm:+.2})",
                miss.rod, miss.inside_mm
            )?;
        }
        match (self.rod_wanted_mm, self.shank) {
            (Some(rod_mm), Some(shank)) => write!(
                f,
                ". A rod of {rod_mm:.2} mm would; a {:.1} mm drill shank is a rod too and gives {:.2}",
                shank.shank_mm, shank.inside_mm
            ),
            (Some(rod_mm), None) => write!(
                f,
                ". A rod of {rod_mm:.2} mm would; no drill shank in steps of 0.1 mm comes within the tolerance"
            ),
            (None, _) => {
                write!(f, ". No rod at all gives that ring with this wire: it springs open too far")
            }
        }
    }
}

/// Blades that are all out, with the first reason of each.
#[derive(Clone, Debug, PartialEq)]
pub struct BladesOut(pub Vec<(String, super::WhyOut)>);

impl fmt::Display for BladesOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, (blade, why)) in self.0.iter().enumerate() {
            let lead = if at == 0 { "" } else { "; " };
            write!(f, "{lead}{blade}: {why}")?;
        }
        Ok(())
    }
}
