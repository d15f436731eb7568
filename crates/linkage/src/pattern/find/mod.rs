//! A pattern known only by its links: a start pose is looked for by seeded chance.
//!
//! A list of links does not say which chain is meant, so that several may be found. They are told
//! apart by their signs and by how thick their wire can grow, and all are reported.

mod classes;
mod draw;
mod margin;
mod nearest;
mod relabel;
mod shortfall;
mod signs;
mod symmetry;
mod wanted;

use thiserror::Error;

use self::classes::{Classes, Grown};
use self::draw::Drawn;
pub use self::nearest::Nearest;
use self::symmetry::Symmetry;
use self::wanted::Wanted;
use super::{Cell, Link, Pattern, PatternError, SizeSpec};
use crate::circle::Circle;
use crate::pose::{PlacedRing, Pose};
use crate::solve::{Dice, Halt, Search, Watch, opened, room, thickest_wire};
use crate::vector::Vec3;

/// How the cell repeats, as far as a maker knows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Repeat {
    /// A chain; `twist_rad` per cell is only a start if the twist is free.
    Chain {
        /// Turn per cell.
        twist_rad: f64,
        /// Whether the turn is looked for as well.
        twist_free: bool,
    },
    /// A sheet.
    Sheet,
    /// A few rings on their own.
    Not,
}

/// A pattern by its links alone.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkList {
    /// Key.
    pub name: String,
    /// One line a jeweller reads.
    pub title: String,
    /// One sentence on how it is linked; may be empty.
    pub linking: String,
    /// Ring sizes; the first is the main one.
    pub sizes: Vec<SizeSpec>,
    /// Size of every ring of the cell, from 0.
    pub rings: Vec<usize>,
    /// Each link once; a sign of 0 means that either will do.
    pub links: Vec<Link>,
    /// How the cell repeats.
    pub repeat: Repeat,
}

/// How long to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Random poses to begin from.
    pub tries: u32,
    /// Poses with the right links after which no more are looked for.
    pub enough: u32,
    /// Seed of the dice; the same seed finds the same.
    pub seed: u64,
}

impl Default for Effort {
    /// 240 tries, until sixty poses are found.
    fn default() -> Effort {
        Effort { tries: 240, enough: 60, seed: 1 }
    }
}

/// One chain that has the wanted links.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// The pattern with a start pose grown as far as it went.
    pub pattern: Pattern,
    /// Smallest aspect ratio its wire grew to.
    pub aspect_ratio_min: f64,
    /// How many of the poses found grew into it.
    pub times: u32,
}

/// What was found for a list of links.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The chains, the one that needs the loosest rings first. Rings that suit it suit all. The less
    /// symmetric of many are left out.
    pub classes: Vec<Class>,
    /// Random poses begun from.
    pub tries: u32,
    /// Of these, how many came to have the links.
    pub met: u32,
}

/// Why nothing was found. Rings are counted from 1.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum FindError {
    /// The list itself is wrong.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// More rings than chance can place.
    #[error(
        "by the order of linking alone at most {most} rings a repeat can be placed; this one has \
         {rings}: give every ring a rough place as well"
    )]
    TooManyRings {
        /// Rings given.
        rings: usize,
        /// Most that are looked for.
        most: usize,
    },
    /// No pose came to have the links.
    #[error(
        "no way to lay the rings was found that has these links and no others, in {tries} tries{nearest}; \
         check the sides from which rings are passed, or give every ring a rough place"
    )]
    NotFound {
        /// Random poses begun from.
        tries: u32,
        /// What the nearest of them has otherwise.
        nearest: Nearest,
    },
    /// The search was stopped.
    #[error(transparent)]
    Halt(#[from] Halt),
}

/// Most rings a cell may have.
const MOST_RINGS: usize = 12;
/// Symmetries of one try after the other, by how many make up all.
const GENERATORS: [usize; 5] = [0, 2, 1, 2, 1];
/// Throws of the dice for so many before fewer will do.
const THROWS: usize = 10;
/// Poses with less room than this share of the main radius are not worth growing.
const LEAST_ROOM: f64 = 0.02;
/// Steps that a rough climb counts as: the most it takes.
const STEPS_OF_A_ROUGH_CLIMB: u32 = 60;
/// Chains looked at closely, those of most symmetry first.
const MOST_CLASSES: usize = 8;
/// Climbs for each: a single one may stop short.
const FIRST_CLIMBS: u32 = 2;
/// Climbs for each that is still a chain of its own.
const MORE_CLIMBS: u32 = 6;
/// Steps after which no more of these are begun; what was grown roughly stays so.
const STEPS_BEFORE_LAST_CLIMBS: u32 = 8000;

/// Looks for start poses that have the wanted links, grows each, and sorts them into chains.
///
/// Every try begins from rings thrown at random, most with symmetries that the links allow, and moves
/// one at a time, downhill in what the pairs lack to be linked as wanted, or apart, with some room to
/// spare; at first now and then uphill. Poses found are grown with certified moves. The search ends
/// when hardly another chain would turn up, and looks closely at the most symmetric ones.
///
/// # Units
/// Shares of the main ring's centreline radius.
/// # Validity
/// What is not found may still exist. Two chains with equal signs and equal limits are not told apart;
/// one chain that grew to two different limits would be counted twice.
/// # Errors
/// [`FindError`] if the list is wrong, if nothing was found, or if the watch stops the search.
/// # Source
/// Own method; `docs/theory/chain.md`, section 4.
///
/// ```
/// use linkwright_linkage::pattern::find::{find, Effort, LinkList, Repeat};
/// use linkwright_linkage::pattern::{Link, SizeSpec};
/// use linkwright_linkage::solve::Patient;
/// let cable = LinkList {
///     name: "mine".to_owned(),
///     title: "each ring through the one before".to_owned(),
///     linking: String::new(),
///     sizes: vec![SizeSpec::MAIN],
///     rings: vec![0],
///     links: vec![Link { first: 0, second: 0, image: [1, 0], sign: 0 }],
///     repeat: Repeat::Chain { twist_rad: 0.0, twist_free: true },
/// };
/// let found = find(&cable, Effort { enough: 2, ..Effort::default() }, &mut Patient).unwrap();
/// assert!((found.classes[0].aspect_ratio_min - 2.0).abs() < 1e-3);
/// ```
pub fn find(list: &LinkList, effort: Effort, watch: &mut dyn Watch) -> Result<Finding, FindError> {
    let wanted = Wanted::new(list)?;
    let watch = &mut Counted { watch, steps: 0 };
    let met = meet(list, &wanted, effort, watch)?;
    let mut grown = met.classes.most_symmetric(MOST_CLASSES);
    // Tangles of one chain come apart when they are shaken; what is then still different is worth more.
    for climbs in [FIRST_CLIMBS, MORE_CLIMBS] {
        let search = Search { starts: climbs, seed: effort.seed };
        let mut classes = Classes::alike_once_grown();
        for Grown { class, placed } in grown {
            if watch.steps > wanted.of_few(STEPS_BEFORE_LAST_CLIMBS, 1) {
                classes.sort_in(Grown { class, placed });
                continue;
            }
            let thickest = thickest_wire(&class.pattern, search, watch)?;
            if let Ok(pattern) = Pattern::new(wanted.spec(list, &thickest.pose)) {
                let aspect_ratio_min = 2.0 / thickest.room - 1.0;
                let class = Class { pattern, aspect_ratio_min, ..class };
                classes.sort_in(Grown { class, placed });
            }
        }
        grown = classes.most_symmetric(MOST_CLASSES);
    }
    if grown.is_empty() {
        let nearest = met.short.map_or_else(Nearest::default, |(_, pose)| Nearest::of(list, &pose));
        return Err(FindError::NotFound { tries: met.tries, nearest });
    }
    let mut classes: Vec<Class> = grown.into_iter().map(|grown| grown.class).collect();
    classes.sort_by(|a, b| b.aspect_ratio_min.total_cmp(&a.aspect_ratio_min));
    Ok(Finding { classes, tries: met.tries, met: met.poses })
}

/// A watch that counts.
struct Counted<'a> {
    watch: &'a mut dyn Watch,
    steps: u32,
}

impl Watch for Counted<'_> {
    fn tick(&mut self) -> Result<(), Halt> {
        self.steps = self.steps.saturating_add(1);
        self.watch.tick()
    }

    fn started(&mut self, index: u32, of: u32) {
        self.watch.started(index, of);
    }
}

/// Poses that came to have the links, roughly grown.
struct Met {
    classes: Classes,
    tries: u32,
    poses: u32,
    /// Of the tries that did not come to have the links, what the nearest lacks, and its pose.
    short: Option<(f64, Pose)>,
}

fn meet(
    list: &LinkList,
    wanted: &Wanted,
    effort: Effort,
    watch: &mut dyn Watch,
) -> Result<Met, FindError> {
    let mut dice = Dice::new(effort.seed);
    let mut met = Met { classes: Classes::alike_roughly_grown(), tries: 0, poses: 0, short: None };
    // A try takes as the square of the rings, a climb rather more than they do.
    let (tries, enough) = (wanted.of_few(effort.tries, 2), wanted.of_few(effort.enough, 1));
    while met.tries < tries && met.poses < enough && !met.classes.are_all_known() {
        watch.started(met.tries, tries);
        let generators = GENERATORS[met.tries as usize % GENERATORS.len()];
        met.tries += 1;
        let symmetry = symmetric(wanted, generators, &mut dice);
        let pose = match draw::draw(wanted, &symmetry, &mut dice, watch)? {
            Drawn::Met(pose) => pose,
            Drawn::Short(short, pose) => {
                if met.short.as_ref().is_none_or(|(least, _)| short < *least) {
                    met.short = Some((short, pose));
                }
                continue;
            }
        };
        let thin = Pattern::new(wanted.spec(list, &pose));
        if thin.is_err() || room(&pose) < LEAST_ROOM {
            continue;
        }
        met.poses += 1;
        let grown = opened(&pose, f64::INFINITY)?;
        for _ in 0..STEPS_OF_A_ROUGH_CLIMB {
            watch.tick()?;
        }
        if let Ok(pattern) = Pattern::new(wanted.spec(list, &grown)) {
            let aspect_ratio_min = 2.0 / room(&grown) - 1.0;
            let class = Class { pattern, aspect_ratio_min, times: 1 };
            met.classes.sort_in(Grown { class, placed: symmetry.orbits.len() });
        }
    }
    Ok(met)
}

/// Symmetries to keep, of so many generators if the dice find some.
fn symmetric(wanted: &Wanted, generators: usize, dice: &mut Dice) -> Symmetry {
    for generators in (1..=generators).rev() {
        for _ in 0..THROWS {
            if let Some(symmetry) = Symmetry::drawn(wanted, generators, dice) {
                return symmetry;
            }
        }
    }
    Symmetry::none(wanted.rings.len())
}

/// A chain that was found before: the list with its rings put where they lay then.
///
/// `places` holds the centre and the normal of each ring, as the specification of the pattern found has
/// them, and `cell` its cell. The pattern is the one that was found, to the last digit, and is checked
/// as any other: places that do not have the links are refused.
///
/// # Units
/// Shares of the main ring's centreline radius.
/// # Validity
/// The list may have changed in its words, not in its links.
/// # Errors
/// [`FindError::Pattern`] if the list is wrong or the places do not have its links;
/// [`FindError::TooManyRings`] as for [`find`]; [`FindError::NotFound`] if there are not as many places
/// as rings.
/// # Source
/// Own method; `docs/theory/chain.md`, section 4.
///
/// ```
/// use linkwright_linkage::pattern::find::{find, found_before, Effort, LinkList, Repeat};
/// use linkwright_linkage::pattern::{Link, SizeSpec};
/// use linkwright_linkage::solve::Patient;
/// let cable = LinkList {
///     name: "mine".to_owned(),
///     title: "each ring through the one before".to_owned(),
///     linking: String::new(),
///     sizes: vec![SizeSpec::MAIN],
///     rings: vec![0],
///     links: vec![Link { first: 0, second: 0, image: [1, 0], sign: 0 }],
///     repeat: Repeat::Chain { twist_rad: 0.0, twist_free: true },
/// };
/// let found = find(&cable, Effort { enough: 1, ..Effort::default() }, &mut Patient).unwrap();
/// let spec = found.classes[0].pattern.spec();
/// let places: Vec<_> = spec.rings.iter().map(|ring| (ring.centre, ring.normal)).collect();
/// assert_eq!(found_before(&cable, &places, spec.cell).unwrap(), found.classes[0].pattern);
/// ```
pub fn found_before(
    list: &LinkList,
    places: &[(Vec3, Vec3)],
    cell: Cell,
) -> Result<Pattern, FindError> {
    let wanted = Wanted::new(list)?;
    if places.len() != list.rings.len() {
        return Err(FindError::NotFound { tries: 0, nearest: Nearest::default() });
    }
    let rings = places.iter().zip(&list.rings).map(|(&(centre, normal), &size)| {
        let size = list.sizes[size];
        PlacedRing {
            circle: Circle { centre, normal, radius: size.radius },
            wire_share: size.wire,
            station: 0.0,
        }
    });
    let pose = Pose { rings: rings.collect(), cell };
    Ok(Pattern::new(wanted.spec(list, &pose))?)
}

#[cfg(test)]
mod tests;
