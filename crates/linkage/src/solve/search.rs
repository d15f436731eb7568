//! Many climbs from many starts: the answer, and how often it was met.

use super::climb::{Climb, Goal, Patience, Summit, climb, settled};
use super::shake::{Dice, shaken};
use super::tally::{Found, Tally};
use super::{Halt, Watch};
use crate::pattern::{Cell, Pattern};
use crate::pose::Pose;

/// How many starts, and the seed of their shaking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Search {
    /// Climbs to make; at least one is made.
    pub starts: u32,
    /// Seed of the random directions; the same seed gives the same answer.
    pub seed: u64,
}

impl Default for Search {
    /// Twelve starts.
    fn default() -> Search {
        Search { starts: 12, seed: 1 }
    }
}

/// A pose is valid if its wire is reached to this share: far below anything measurable on a ring.
pub(super) const REACHED: f64 = 1e-7;
/// For every climb: it may stop once it crawls.
pub(super) const ROUGH: Patience = Patience { first_box: 0.1, little_gain: 1e-5, steps: 140 };
/// For the best of all climbs: on to the last digits.
const FINE: Patience = Patience { first_box: 0.01, little_gain: 3e-9, steps: 160 };

/// Sheets count as equally long, rough climbs apart by this share.
const AS_LONG: f64 = 2e-4;
/// A sheet that spreads by this share further is wider, and one shorter by it is not shorter.
const WIDER: f64 = 1e-6;
/// Equally long sheets that are spread beside the best, those that lie widest first.
const SPREAD_MOST: usize = 2;
/// For spreading: a part in ten thousand of a sheet is nothing across it.
const SPREADING: Patience = Patience { first_box: 0.1, little_gain: 1e-4, steps: 100 };
/// For the one that spread further than the best: on to the last digits, or it is not worth it.
const SPREAD_FINE: Patience = Patience { steps: 60, ..FINE };

/// For a pose that is nearly there and is only looked at.
const QUICK: Patience = Patience { first_box: 0.05, little_gain: 1e-4, steps: 60 };

/// Wire grown at fixed radii until it is enough.
pub(super) fn grow(
    start: &Pose,
    enough: f64,
    patience: Patience,
    watch: &mut dyn Watch,
) -> Result<Summit, Halt> {
    let plan = Climb { goal: Goal::Wire, wire: 0.0, patience, enough };
    climb(start, &plan, watch)
}

/// The pose opened by certified moves until it leaves room for `enough` wire, or as far as a quick
/// climb comes.
pub(crate) fn opened(start: &Pose, enough: f64) -> Result<Pose, Halt> {
    grow(start, enough, QUICK, &mut super::Patient).map(|summit| summit.pose)
}

/// The thickest wire, and so the smallest aspect ratio, for which the pattern exists.
///
/// Wire is grown from the start pose, and from shaken copies of it, with ring radii fixed.
///
/// # Units
/// Main ring centreline radius 1; `AR_min = 2/room - 1`.
/// # Validity
/// Rigid closed round rings. The value is a best found unless a closed form confirms it.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`, section 5.
///
/// ```
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{thickest_wire, Patient, Search};
/// let doubled = Pattern::new(craft::named("double_2in2").unwrap()).unwrap();
/// let found = thickest_wire(&doubled, Search { starts: 1, seed: 1 }, &mut Patient).unwrap();
/// assert!((2.0 / found.room - 1.0 - 2.621278).abs() < 1e-6);
/// ```
pub fn thickest_wire(
    pattern: &Pattern,
    search: Search,
    watch: &mut dyn Watch,
) -> Result<Found, Halt> {
    let mut tally = growths(pattern, search, f64::INFINITY, watch)?;
    if let Some(best) = &tally.best {
        tally.polished(grow(&best.pose, f64::INFINITY, FINE, watch)?);
    }
    Ok(tally.found(pattern.start()))
}

/// Wire grown from the start pose and from shaken copies, until one growth reaches what is enough.
fn growths(
    pattern: &Pattern,
    search: Search,
    enough: f64,
    watch: &mut dyn Watch,
) -> Result<Tally, Halt> {
    let mut dice = Dice::new(search.seed);
    let mut tally = Tally::new(Goal::Wire, enough);
    let start = pattern.start();
    for index in 0..search.starts.max(1) {
        watch.started(index, search.starts);
        let from = if index == 0 {
            start.clone()
        } else {
            // By turns from the start pose and from the best so far. Thinner wire leaves the shaking
            // more freedom.
            let best = tally.best.as_ref().filter(|_| index % 2 == 1);
            let (pose, wire) = match best {
                Some(best) => (best.pose.clone(), best.room * dice.between(0.5, 0.95)),
                None => (start.clone(), pattern.start_wire() * dice.between(0.1, 1.0)),
            };
            shaken(&pose, wire, &mut dice, watch)?
        };
        let grown = grow(&from, enough, ROUGH, watch)?;
        let reached = grown.room >= enough * (1.0 - REACHED);
        tally.add(grown);
        if reached {
            break;
        }
    }
    Ok(tally)
}

/// The pose moved until its rings have room for their wires; `None` if it is not brought there.
pub(crate) fn made_room(
    pose: &Pose,
    wire: f64,
    watch: &mut dyn Watch,
) -> Result<Option<Pose>, Halt> {
    let grown = grow(pose, wire, ROUGH, watch)?;
    Ok((grown.room >= wire * (1.0 - REACHED)).then_some(grown.pose))
}

/// Some pose of the pattern that leaves room for a wire; what it looks like when nothing pulls.
///
/// Returns `None` if the wire is not reached: not possible, or not found.
///
/// # Units
/// Main ring centreline radius 1.
/// # Validity
/// One pose of many.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`, section 5.
///
/// ```
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{fitted, Patient, Search};
/// let rosette = Pattern::new(craft::named("rosette_3").unwrap()).unwrap();
/// let search = Search { starts: 4, seed: 1 };
/// assert!(fitted(&rosette, 0.5, search, &mut Patient).unwrap().is_some());
/// // Aspect ratio 1.9, below the hole bound.
/// assert!(fitted(&rosette, 2.0 / 2.9, search, &mut Patient).unwrap().is_none());
/// ```
pub fn fitted(
    pattern: &Pattern,
    wire: f64,
    search: Search,
    watch: &mut dyn Watch,
) -> Result<Option<Found>, Halt> {
    let found = growths(pattern, search, wire, watch)?.found(pattern.start());
    Ok((found.room >= wire * (1.0 - REACHED)).then_some(found))
}

/// What to pull on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Pull {
    /// A chain along its length, a sheet along its rows and then, as far as that leaves, across.
    Along,
    /// A sheet both ways: the largest area.
    Area,
}

impl Pull {
    const fn goal(self) -> Goal {
        match self {
            Pull::Along => Goal::Advance,
            Pull::Area => Goal::Area,
        }
    }
}

/// The pattern pulled taut with a given wire: the longest chain, the widest row or the largest sheet.
///
/// Returns `None` if no climb reached the wire: the pattern is not possible with it, or not found.
/// `known` are poses found before with the same or thicker wire; they stay valid in thinner wire and
/// serve as starts, so that an answer never gets worse by asking again.
///
/// # Units
/// Main ring centreline radius 1.
/// # Validity
/// Greatest length; friction makes a hand-pulled chain stop a little short.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`, section 5.
///
/// ```
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{taut, Patient, Pull, Search};
/// // Cable chain, aspect ratio 4: R = 1, d = 2/5, pitch = inside diameter = 4 d = 1.6.
/// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
/// let search = Search { starts: 1, seed: 1 };
/// let found = taut(&cable, 0.4, Pull::Along, search, &[], &mut Patient).unwrap().unwrap();
/// assert!((found.value - 1.6).abs() < 1e-6);
/// ```
pub fn taut(
    pattern: &Pattern,
    wire: f64,
    pull: Pull,
    search: Search,
    known: &[Pose],
    watch: &mut dyn Watch,
) -> Result<Option<Found>, Halt> {
    let mut dice = Dice::new(search.seed);
    // Places to start from: the pose with just enough room, that of the thickest wire, what is known.
    // One growth may be caught in a lesser optimum; where poses are known, no other is looked for.
    let looked_for = if known.is_empty() { search } else { Search { starts: 1, ..search } };
    let mut starts: Vec<Pose> = Vec::new();
    if let Some(grown) = growths(pattern, looked_for, wire, watch)?.best
        && grown.room >= wire * (1.0 - REACHED)
    {
        let thickest = grow(&grown.pose, f64::INFINITY, ROUGH, watch)?;
        starts.extend([thickest.pose, grown.pose]);
    }
    starts.extend_from_slice(known);
    if starts.is_empty() {
        return Ok(None);
    }
    many_climbs(&starts, pull.goal(), wire, search, &mut dice, watch)
}

/// One pose pulled taut, without any search: what a slider needs.
///
/// Returns `None` if the pose cannot be brought to the wire. A pose taken at thicker wire always can.
///
/// # Units
/// Those of the pose.
/// # Validity
/// The nearest optimum, which need not be the best.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`, section 5.
///
/// ```
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{taut_from, Patient, Pull};
/// let doubled = Pattern::new(craft::named("double_2in2").unwrap()).unwrap();
/// let found = taut_from(doubled.start(), 0.4, Pull::Along, &mut Patient).unwrap().unwrap();
/// assert!((found.value / 0.4 - 3.831502).abs() < 1e-5);
/// ```
pub fn taut_from(
    start: &Pose,
    wire: f64,
    pull: Pull,
    watch: &mut dyn Watch,
) -> Result<Option<Found>, Halt> {
    let search = Search { starts: 1, seed: 0 };
    let starts = std::slice::from_ref(start);
    many_climbs(starts, pull.goal(), wire, search, &mut Dice::new(0), watch)
}

/// A taut pose pulled again in somewhat thinner wire, to a part in ten thousand: for drawing.
///
/// Returns `None` if the pose cannot be brought to the wire.
///
/// # Units
/// Those of the pose.
/// # Validity
/// The nearest optimum, which need not be the best; the digits that only a long polish brings are
/// left out.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`, section 5.
///
/// ```
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{taut_again, taut_from, Patient, Pull};
/// let doubled = Pattern::new(craft::named("double_2in2").unwrap()).unwrap();
/// let thick = taut_from(doubled.start(), 0.42, Pull::Along, &mut Patient).unwrap().unwrap();
/// let thin = taut_again(&thick.pose, 0.4, Pull::Along, &mut Patient).unwrap().unwrap();
/// assert!((thin.value / 0.4 - 3.831502).abs() < 4e-4);
/// ```
pub fn taut_again(
    pose: &Pose,
    wire: f64,
    pull: Pull,
    watch: &mut dyn Watch,
) -> Result<Option<Found>, Halt> {
    let goal = pull.goal();
    let quick = Climb { goal, wire, patience: QUICK, enough: f64::INFINITY };
    let mut summit = settled(climb(pose, &quick, watch)?, &quick, watch)?;
    if summit.room < wire * (1.0 - REACHED) {
        let rough = Climb { patience: ROUGH, ..quick };
        summit = settled(climb(&summit.pose, &rough, watch)?, &rough, watch)?;
    }
    if summit.room < wire * (1.0 - REACHED) {
        return Ok(None);
    }
    if matches!(goal, Goal::Advance) {
        summit = spread(summit, wire, QUICK, watch)?;
    }
    let mut tally = Tally::new(goal, wire);
    tally.add(summit);
    Ok(Some(tally.found(pose)))
}

fn many_climbs(
    starts: &[Pose],
    goal: Goal,
    wire: f64,
    search: Search,
    dice: &mut Dice,
    watch: &mut dyn Watch,
) -> Result<Option<Found>, Halt> {
    let with = |patience: Patience| Climb { goal, wire, patience, enough: f64::INFINITY };
    let mut tally = Tally::new(goal, wire);
    let mut sheets = Vec::new();
    for index in 0..search.starts.max(1) {
        watch.started(index, search.starts);
        let turn = index as usize;
        let from = match starts.get(turn) {
            Some(pose) => pose.clone(),
            None => shaken(&starts[turn % starts.len()], wire, dice, watch)?,
        };
        let plan = with(ROUGH);
        let summit = settled(climb(&from, &plan, watch)?, &plan, watch)?;
        if summit.room >= wire * (1.0 - REACHED) {
            if matches!((goal, summit.pose.cell), (Goal::Advance, Cell::Lattice { .. })) {
                sheets.push(summit.clone());
            }
            tally.add(summit);
        }
    }
    let Some(best) = &tally.best else {
        return Ok(None);
    };
    sheets.retain(|sheet: &Summit| sheet.pose != best.pose);
    let plan = with(FINE);
    let fine = settled(climb(&best.pose, &plan, watch)?, &plan, watch)?;
    if fine.room >= wire * (1.0 - REACHED) {
        tally.polished(fine);
    }
    if let Some(taut) = tally.best.take() {
        tally.best = Some(widest(taut, &sheets, wire, watch)?);
    }
    Ok(Some(tally.found(&starts[0])))
}

/// Of the sheets as long as the best, the one that spreads furthest; the best itself if there are none.
fn widest(
    best: Summit,
    sheets: &[Summit],
    wire: f64,
    watch: &mut dyn Watch,
) -> Result<Summit, Halt> {
    let mut alike: Vec<&Summit> =
        sheets.iter().filter(|one| one.value > best.value * (1.0 - AS_LONG)).collect();
    alike.sort_by(|a, b| across(b).total_cmp(&across(a)));
    let widest = spread(best, wire, SPREADING, watch)?;
    let mut rival: Option<Summit> = None;
    for one in alike.into_iter().take(SPREAD_MOST) {
        let spread_out = spread(one.clone(), wire, SPREADING, watch)?;
        if across(&spread_out) > rival.as_ref().map_or(across(&widest), across) * (1.0 + WIDER) {
            rival = Some(spread_out);
        }
    }
    let Some(rival) = rival else {
        return Ok(widest);
    };
    // A rough climb stopped a little short.
    let plan = Climb { goal: Goal::Advance, wire, patience: SPREAD_FINE, enough: f64::INFINITY };
    let fine = settled(climb(&rival.pose, &plan, watch)?, &plan, watch)?;
    let fine = spread(fine, wire, QUICK, watch)?;
    let stands = fine.room >= wire * (1.0 - REACHED);
    let as_long = fine.value > widest.value * (1.0 - WIDER);
    Ok(if stands && as_long && across(&fine) > across(&widest) { fine } else { widest })
}

fn across(sheet: &Summit) -> f64 {
    match sheet.pose.cell {
        Cell::Lattice { across, .. } => across,
        _ => 0.0,
    }
}

/// A sheet pulled along its rows and then spread across them, as far as the pull leaves; a chain as it
/// is.
///
/// Where rings turn about the way of the pull, the rows may lie anywhere from crumpled to spread.
fn spread(
    taut: Summit,
    wire: f64,
    patience: Patience,
    watch: &mut dyn Watch,
) -> Result<Summit, Halt> {
    if !matches!(taut.pose.cell, Cell::Lattice { .. }) {
        return Ok(taut);
    }
    let plan = Climb { goal: Goal::Across, wire, patience, enough: f64::INFINITY };
    // The widest of the sheets may be shorter by less than anyone sees: the length that was held is let
    // go while wire is given back.
    let settling = Climb { goal: Goal::Advance, ..plan };
    let wide = settled(climb(&taut.pose, &plan, watch)?, &settling, watch)?;
    if wide.room < wire * (1.0 - REACHED) {
        return Ok(taut);
    }
    Ok(Summit {
        value: Goal::Advance.value(&wide.pose),
        programs: taut.programs + wide.programs,
        ..wide
    })
}
