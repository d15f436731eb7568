//! Design the other way round: wanted width, mass or cost -> the wires, rods and patterns that give it.
//!
//! Every wire in stock is put on every rod owned; the ring it gives, sprung open and closed again, comes
//! from the bench's own formulas. Every chain of one ring size is then read from the solved table.

mod own_rings;

use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::Currency;
use linkwright_calc::plan::Workshop;
use linkwright_calc::quantity::{Length, Mass};
use linkwright_linkage::pattern::{Kind, Pattern, craft};
use linkwright_linkage::table::{self, Entry};

use own_rings::{OwnRing, own_rings};

/// What the chain is to be.
#[derive(Clone, Debug, Default)]
pub struct DesignWanted {
    /// Side-on width.
    pub width: Option<Length>,
    /// Mass of a centimetre.
    pub mass_per_cm: Option<Mass>,
    /// Minor units of money for the metal of a centimetre.
    pub cost_per_cm: Option<(f64, Currency)>,
    /// Key or name of the metal; any in stock if not said.
    pub metal: Option<String>,
    /// Keys of the patterns to choose from; every chain of one ring size if empty.
    pub patterns: Vec<String>,
}

/// What one rod gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Gives {
    /// Name of the rod.
    pub rod: String,
    /// Its diameter.
    pub rod_diameter: Length,
    /// The open ring off it.
    pub open_inside: Length,
    /// The ring as closed.
    pub closed_inside: Length,
    /// Inside over wire diameter, closed.
    pub aspect_ratio: f64,
    /// The chain of it; `None` where these rings do not go together or are larger than the table.
    pub chain: Option<ChainGiven>,
}

/// The chain one rod's rings give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChainGiven {
    /// Side-on width.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// Rings to a centimetre.
    pub rings_per_cm: f64,
    /// Mass of a centimetre.
    pub mass_per_cm: Mass,
    /// Minor units of money for the metal of a centimetre, where the wire has a price.
    pub cost_per_cm: Option<(f64, Currency)>,
}

/// One answer: a pattern in one wire, on one rod.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// Key of the pattern.
    pub pattern: String,
    /// One line a jeweller reads.
    pub title: String,
    /// Smallest aspect ratio of the pattern.
    pub aspect_ratio_min: f64,
    /// Name of the lot of wire.
    pub lot: String,
    /// Trade name of its metal.
    pub metal: String,
    /// Diameter of the wire.
    pub wire: Length,
    /// The rod and what it gives.
    pub gives: Gives,
    /// What the next thicker rod owned gives, and the next thinner.
    pub next: [Option<Gives>; 2],
    /// How far off the farthest of what was wanted is, as a share of it.
    pub off: f64,
    /// Whether the aspect ratio is so near the smallest that the last ring may not go in.
    pub tight: bool,
}

/// The answers, nearest first, and what could not be used.
#[derive(Clone, Debug, Default)]
pub struct Designs {
    /// Nearest first.
    pub found: Vec<Design>,
    /// Wires on rods that give no ring, with why.
    pub left_out: Vec<String>,
}

/// Room above the smallest aspect ratio that makers leave. Common practice, no source: 0.1 to 0.3.
const MARGIN: f64 = 0.1;

/// The wires, rods and patterns of the workshop that come nearest to what is wanted, the nearest first.
///
/// Where nothing is wanted every chain is given, by pattern.
pub fn design(wanted: &DesignWanted, workshop: &Workshop, metals: &Catalogue) -> Designs {
    let (lots, left_out) = own_rings(workshop, metals, wanted.metal.as_deref());
    let chosen = |name: &str| {
        wanted.patterns.is_empty() || wanted.patterns.iter().any(|pattern| pattern == name)
    };
    let patterns: Vec<(Pattern, &Entry)> = craft::all()
        .into_iter()
        .filter(|spec| spec.sizes.len() == 1 && chosen(&spec.name))
        .filter_map(|spec| Pattern::new(spec).ok())
        .filter(|pattern| pattern.kind() == Kind::Chain)
        .filter_map(|pattern| table::entry(&pattern).map(|entry| (pattern, entry)))
        .collect();
    let mut found = Vec::new();
    for (pattern, entry) in &patterns {
        let per_cell = pattern.spec().rings.len() as f64;
        for rings in &lots {
            let given: Vec<Gives> = rings.iter().map(|own| gives(own, entry, per_cell)).collect();
            for (at, own) in rings.iter().enumerate() {
                let Some(off) = given[at].chain.and_then(|chain| wanted.off(chain)) else {
                    continue;
                };
                found.push(Design {
                    pattern: pattern.name().to_owned(),
                    title: pattern.spec().title.clone(),
                    aspect_ratio_min: entry.aspect_ratio_min,
                    lot: own.lot.clone(),
                    metal: own.metal.clone(),
                    wire: own.ring.wire().diameter(),
                    gives: given[at].clone(),
                    next: [
                        given.get(at + 1).cloned(),
                        at.checked_sub(1).map(|at| given[at].clone()),
                    ],
                    off,
                    tight: given[at].aspect_ratio - entry.aspect_ratio_min < MARGIN,
                });
            }
        }
    }
    // Equally near: what leaves room for the last ring first.
    found.sort_by(|a, b| a.off.total_cmp(&b.off).then(a.tight.cmp(&b.tight)));
    Designs { found, left_out }
}

/// What a ring gives in a pattern of the table.
fn gives(own: &OwnRing, entry: &Entry, per_cell: f64) -> Gives {
    let aspect_ratio = own.ring.as_closed().aspect_ratio();
    let d_mm = own.ring.wire().diameter().mm();
    let chain = entry.at(aspect_ratio).map(|read| {
        let rings_per_cm = per_cell * 10.0 / (read.advance * d_mm);
        let mass_g = rings_per_cm * own.ring.as_closed().mass(own.density).g();
        ChainGiven {
            width: Length::from_mm(read.width * d_mm),
            thickness: Length::from_mm(read.thickness * d_mm),
            rings_per_cm,
            mass_per_cm: Mass::from_g(mass_g),
            cost_per_cm: own.price.map(|(minor, price)| (minor * mass_g, price.currency())),
        }
    });
    Gives {
        rod: own.rod.clone(),
        rod_diameter: own.rod_diameter,
        open_inside: own.open_inside,
        closed_inside: own.ring.closed_inside(),
        aspect_ratio,
        chain,
    }
}

impl DesignWanted {
    /// How far off the farthest of what is wanted is, as a share of it; `None` where it has no answer,
    /// such as a cost of wire without a price or in another currency.
    fn off(&self, chain: ChainGiven) -> Option<f64> {
        let apart = |given: f64, wanted: f64| (given - wanted).abs() / wanted;
        let mut worst = 0.0_f64;
        if let Some(width) = self.width {
            worst = worst.max(apart(chain.width.mm(), width.mm()));
        }
        if let Some(mass) = self.mass_per_cm {
            worst = worst.max(apart(chain.mass_per_cm.g(), mass.g()));
        }
        if let Some((minor, currency)) = self.cost_per_cm {
            let (given, _) = chain.cost_per_cm.filter(|(_, other)| *other == currency)?;
            worst = worst.max(apart(given, minor));
        }
        Some(worst)
    }
}
