//! What is wanted of a chain or a sheet, and how far off an answer is.

use linkwright_calc::money::Currency;
use linkwright_calc::quantity::{Length, Mass};
use linkwright_linkage::pattern::Kind;

use super::given::Given;

/// What the chain or sheet is to be. Masses and costs are those of a centimetre of chain, or of a
/// square centimetre of sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct DesignWanted {
    /// A chain, or a sheet.
    pub kind: Kind,
    /// Side-on width of a chain.
    pub width: Option<Length>,
    /// Thickness.
    pub thickness: Option<Length>,
    /// Mass.
    pub mass: Option<Mass>,
    /// Minor units of money for the metal.
    pub cost: Option<(f64, Currency)>,
    /// Key of the metal; any in stock if not said.
    pub metal: Option<String>,
    /// Keys of the patterns to choose from; every one of the kind if empty.
    pub patterns: Vec<String>,
    /// Whether chains of rings so large that they hang loose are looked at too.
    pub loose: bool,
}

/// Something a chain was wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Its width, in mm.
    Width,
    /// Its thickness, in mm.
    Thickness,
    /// Its mass, in g.
    Mass,
    /// What its metal costs, in minor units.
    Cost,
}

/// One of the numbers wanted beside what is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Miss {
    /// Which.
    pub aim: Aim,
    /// As wanted.
    pub wanted: f64,
    /// As given.
    pub given: f64,
}

impl Miss {
    /// How far off it is, as a share of what was wanted; above nought if it is more.
    pub fn off(self) -> f64 {
        (self.given - self.wanted) / self.wanted
    }
}

impl DesignWanted {
    /// A chain of which nothing is wanted yet.
    pub const fn any(kind: Kind) -> DesignWanted {
        DesignWanted {
            kind,
            width: None,
            thickness: None,
            mass: None,
            cost: None,
            metal: None,
            patterns: Vec::new(),
            loose: false,
        }
    }

    /// Whether a pattern of this name may be taken.
    pub(super) fn takes(&self, name: &str) -> bool {
        self.patterns.is_empty() || self.patterns.iter().any(|pattern| pattern == name)
    }

    /// Each number wanted beside what is given; `None` where a wanted one has no answer, such as the
    /// cost of wire without a price or in another currency.
    pub(super) fn misses(&self, given: &Given) -> Option<Vec<Miss>> {
        let mut misses = Vec::new();
        let mut miss = |aim, wanted, given| misses.push(Miss { aim, wanted, given });
        if let Some(width) = self.width {
            miss(Aim::Width, width.mm(), given.width?.mm());
        }
        if let Some(thickness) = self.thickness {
            miss(Aim::Thickness, thickness.mm(), given.thickness.mm());
        }
        if let Some(mass) = self.mass {
            miss(Aim::Mass, mass.g(), given.mass.g());
        }
        if let Some((minor, currency)) = self.cost {
            let (cost, _) = given.cost.filter(|(_, other)| *other == currency)?;
            miss(Aim::Cost, minor, cost);
        }
        Some(misses)
    }
}

/// The farthest of all that was wanted, as a share of it.
pub(super) fn farthest(misses: &[Miss]) -> f64 {
    misses.iter().map(|miss| miss.off().abs()).fold(0.0, f64::max)
}
