//! How tightly a chain bends: the largest turn per cell in a plane.
//!
//! A chain that screws along is first described with so many cells that they repeat by a plain shift,
//! since a plane bend knows no twist. It is laid so that the plane of the bend holds its thin way (over the
//! face) or its wide way (edgewise), with the cell round the origin, where the repeating motion turns:
//! a far axis would make every step crawl. Climbs start from slack poses as well as from the taut one.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::certify::certified_fraction;
use super::climb::{Climb, Goal, Patience, Summit, climb, settled};
use super::search::{REACHED, ROUGH, Search, grow};
use super::shake::{Dice, shaken};
use super::tally::{Found, Tally};
use super::{Halt, Watch};
use crate::circle::Circle;
use crate::extent::{bend_radius, extent, inside_radius};
use crate::pattern::{Cell, Link, Pattern, measured_links};
use crate::pose::{PlacedRing, Pose, Step};
use crate::vector::{Rotation, Vec3};

/// Which way a chain is bent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Over its broad face: the thin way lies in the plane of the bend, or leans out of it by up to 30
    /// degrees.
    OverFace,
    /// Over its edge: the wide way lies in the plane of the bend, or leans out of it by up to 30 degrees.
    Edgewise,
}

/// A chain bent as tightly as was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    /// The bent pose; its value is the turn per cell of the pose, in radians.
    pub found: Found,
    /// Cells of the pattern in one cell of the pose.
    pub cells: u32,
    /// Radius of the round bar the chain lies on.
    pub inside_radius: f64,
    /// Mean distance of the ring centres from the middle of the bend.
    pub middle_radius: f64,
    /// Whether the chain doubles back on itself: round a bar no thicker than its own wire, or by half a
    /// round within one cell.
    pub limp: bool,
}

/// The way a straight chain runs.
const ALONG: Vec3 = Vec3::new(0.0, 0.0, 1.0);
/// Share of the start pose's wire within which a turned ring counts as lying on another: rough poses
/// are typed with few digits.
const SAME_PLACE: f64 = 0.1;
/// Most cells laid together until a twist comes round.
const MOST_CELLS: u32 = 8;
/// Rings beyond which a cell is too long to be bent in reasonable time.
const MOST_RINGS: usize = 30;
/// Part of the turn at which linked rings would stand opposite each other: from there on the chain
/// counts as limp.
const LIMP_FROM: f64 = 0.95;
/// A bent chain leans if that helps; further, and a strip on edge would lie down on its face.
const LEAN: f64 = PI / 6.0;
/// Leaning beyond which a chain has rolled over.
const MOST_LEAN: f64 = PI / 4.0;
/// Thickness, as a share of the width, from which on a chain has no flat way to lie.
const ROUND: f64 = 0.85;
/// Turns are wanted to a tenth of a degree; ends of climbs crawl.
const PATIENCE: Patience = Patience { first_box: 0.1, little_gain: 2e-4, steps: 200 };
/// For the best of all climbs.
const POLISH: Patience = Patience { first_box: 0.03, little_gain: 1e-5, steps: 600 };

/// The chain bent as tightly as it goes, in the given way.
///
/// Both senses of the bend are tried and the tighter is told. Returns `None` for anything but a chain,
/// for a chain that does not come round within a few cells, and where no climb reached
/// the wire.
///
/// # Units
/// Main ring centreline radius 1; turn in radians per cell of the pose.
/// # Validity
/// At least this tight: a best found. An even bend in a plane; a chain that bends unevenly can be
/// tighter in places. Copies more than half a round apart are not kept off each other.
/// # Errors
/// [`Halt`] if the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`, section 6.
///
/// ```
/// use linkwright_linkage::pattern::{craft, Pattern};
/// use linkwright_linkage::solve::{bent, Patient, Search, Way};
/// let strip = Pattern::new(craft::named("european_4in1_strip3").unwrap()).unwrap();
/// let search = Search { starts: 1, seed: 1 };
/// let bent = bent(&strip, 2.0 / 4.5, Way::OverFace, search, &mut Patient).unwrap().unwrap();
/// assert!(bent.found.value.to_degrees() > 47.5 && !bent.limp);
/// ```
pub fn bent(
    pattern: &Pattern,
    wire: f64,
    way: Way,
    search: Search,
    watch: &mut dyn Watch,
) -> Result<Option<Bent>, Halt> {
    let search = Search { starts: search.starts.max(1), ..search };
    match Bending::new(pattern, wire, way, watch)? {
        Some(bending) => bending.tightest(search, &[], watch),
        None => Ok(None),
    }
}

/// A chain about to be bent one way.
pub(crate) struct Bending {
    plan: Climb,
    way: Way,
    links: Vec<Link>,
    cells: u32,
    /// Straight poses with the wire, the taut one first.
    straight: Vec<Pose>,
    /// Angle about the chain that turns the wanted way into the plane of the bend.
    upright: f64,
    /// Whether the chain has no flat way to lie.
    round: bool,
    /// Turn per cell of the pose at which it counts as limp.
    limp_turn: f64,
}

impl Bending {
    /// `None` for what cannot be bent, or does not reach the wire.
    pub(crate) fn new(
        pattern: &Pattern,
        wire: f64,
        way: Way,
        watch: &mut dyn Watch,
    ) -> Result<Option<Bending>, Halt> {
        let Some((start, cells)) = untwisted(pattern) else {
            return Ok(None);
        };
        let straight = straight_poses(&start, wire, watch)?;
        let Some(taut) = straight.first() else {
            return Ok(None);
        };
        let links = measured_links(&start);
        let seen = extent(taut, wire);
        let limp_turn = LIMP_FROM * half_round_of_links(&start, &links);
        let enough = limp_turn * taut.arm();
        Ok(Some(Bending {
            plan: Climb { goal: Goal::Turn, wire, patience: PATIENCE, enough },
            way,
            links,
            cells,
            upright: match way {
                Way::OverFace => -seen.thin_way_rad,
                Way::Edgewise => FRAC_PI_2 - seen.thin_way_rad,
            },
            round: seen.thickness > ROUND * seen.width,
            limp_turn,
            straight,
        }))
    }

    /// The tightest of so many climbs of one's own and one from every pose that is `known`: bends found
    /// before with the same or thicker wire, which stand in thinner wire too, or with thinner wire, as
    /// mere starts.
    pub(crate) fn tightest(
        &self,
        search: Search,
        known: &[Pose],
        watch: &mut dyn Watch,
    ) -> Result<Option<Bent>, Halt> {
        let wire = self.plan.wire;
        let starts = &self.straight;
        let ways = [0.0, LEAN, -LEAN].map(|lean| self.upright + lean);
        let mut dice = Dice::new(search.seed);
        let mut tally = Tally::new(Goal::Turn, wire);
        let mut limp = false;
        for pose in known {
            limp = limp || self.climb_from(pose, &mut tally, watch)?;
        }
        for index in 0..search.starts {
            if limp {
                break;
            }
            watch.started(index, search.starts);
            let turn = index as usize;
            let sense = if turn.is_multiple_of(2) { 0.0 } else { PI };
            let best = tally.best.as_ref().filter(|_| turn / 2 >= starts.len() && turn % 4 < 2);
            let about_chain = ways[(turn / 2) % ways.len()] + sense;
            let straight = laid(&starts[(turn / 2) % starts.len()], about_chain);
            let from = best.map(|best| best.pose.clone()).or(straight);
            let Some(mut start) = from else {
                continue;
            };
            if turn / 2 >= starts.len() {
                // Thinner wire leaves the shaking more freedom.
                start = shaken(&start, wire * dice.between(0.4, 1.0), &mut dice, watch)?;
            }
            limp = self.climb_from(&start, &mut tally, watch)?;
        }
        let Some(best) = &tally.best else {
            return Ok(None);
        };
        let polish = Climb { patience: POLISH, ..self.plan };
        let mut summit = settled(climb(&best.pose, &polish, watch)?, &self.plan, watch)?;
        summit.value /= summit.pose.arm();
        if self.stands(&summit) {
            tally.polished(summit);
        }
        let found = tally.found(&starts[0]);
        Ok(Some(Bent {
            cells: self.cells,
            inside_radius: inside_radius(&found.pose, wire).unwrap_or(f64::INFINITY).max(0.0),
            middle_radius: bend_radius(&found.pose).unwrap_or(f64::INFINITY),
            limp: self.is_limp(&found.pose, found.value),
            found,
        }))
    }

    /// Climbs from a pose and counts the summit if it stands; whether the chain folds limp there.
    fn climb_from(
        &self,
        start: &Pose,
        tally: &mut Tally,
        watch: &mut dyn Watch,
    ) -> Result<bool, Halt> {
        let mut summit = settled(climb(start, &self.plan, watch)?, &self.plan, watch)?;
        summit.value /= summit.pose.arm();
        if !self.stands(&summit) {
            return Ok(false);
        }
        let limp = self.is_limp(&summit.pose, summit.value);
        tally.add(summit);
        Ok(limp)
    }

    fn stands(&self, summit: &Summit) -> bool {
        summit.room >= self.plan.wire * (1.0 - REACHED)
            && measured_links(&summit.pose) == self.links
            && (self.round || lies(&summit.pose, self.plan.wire, self.way))
    }

    fn is_limp(&self, pose: &Pose, turn_rad: f64) -> bool {
        let wire = self.plan.wire;
        let inside = inside_radius(pose, wire).unwrap_or(f64::INFINITY);
        inside <= 0.5 * wire || turn_rad >= 0.99 * self.limp_turn
    }
}

/// Whether a flat chain, once bent, still lies the way it was laid.
///
/// Rings that shift round each other can roll a cell over though no step turned it.
fn lies(pose: &Pose, wire: f64, way: Way) -> bool {
    let seen = extent(pose, wire);
    let wanted = match way {
        Way::OverFace => 0.0,
        Way::Edgewise => FRAC_PI_2,
    };
    let off = (seen.thin_way_rad - wanted).rem_euclid(PI);
    off.min(PI - off) <= MOST_LEAN
}

/// The start pose with so many cells together that they repeat by a plain shift.
///
/// A turn that brings every ring onto some ring is as good as none, so that half a round is often
/// enough: rings have no orientation of their own.
fn untwisted(pattern: &Pattern) -> Option<(Pose, u32)> {
    let start = pattern.start();
    let Cell::Screw { twist_rad, twist_free, .. } = start.cell else {
        return None;
    };
    let most = u32::try_from(MOST_RINGS / start.rings.len()).unwrap_or(1);
    let candidates = 1..=MOST_CELLS.min(most);
    let within = SAME_PLACE * pattern.start_wire();
    let exact = candidates.clone().find_map(|cells| Some((shifted(start, cells, within)?, cells)));
    if exact.is_some() || !twist_free {
        return exact;
    }
    // A free twist may be turned a little until so many cells come round, with no ring crossed.
    let even = |cells: u32| (f64::from(cells) * twist_rad / TAU).round() * TAU / f64::from(cells);
    let off = |cells: u32| (even(cells) - twist_rad).abs();
    let cells = candidates.min_by(|&a, &b| off(a).total_cmp(&off(b)))?;
    let mut turn = vec![0.0; start.unknowns()];
    *turn.last_mut()? = (even(cells) - twist_rad) * start.arm();
    let turn = Step(turn);
    let whole = certified_fraction(start, &turn, within) >= 1.0;
    let turned = start.moved(&turn, 1.0);
    Some((shifted(&turned, cells, within)?, cells)).filter(|_| whole)
}

/// So many cells of a chain, repeated by a plain shift; `None` if that is another chain.
fn shifted(pose: &Pose, cells: u32, within: f64) -> Option<Pose> {
    let count = i32::try_from(cells).ok()?;
    let Cell::Screw { period, twist_rad, .. } = pose.cell else {
        return None;
    };
    let copies = (0..count).flat_map(|copy| {
        pose.rings
            .iter()
            .enumerate()
            .map(move |(index, ring)| PlacedRing { circle: pose.placed(index, [copy, 0]), ..*ring })
    });
    let mut rings: Vec<PlacedRing> = copies.collect();
    let screw = Rotation::about(ALONG, f64::from(cells) * twist_rad);
    let comes_onto_some = |ring: &PlacedRing| {
        let (centre, normal) = (screw.turn(ring.circle.centre), screw.turn(ring.circle.normal));
        rings.iter().any(|other| {
            let aside = (other.circle.centre - centre).norm();
            let aslant = normal.cross(other.circle.normal).norm() * ring.circle.radius;
            // Exactly equal sizes: they were copied from one list.
            let same =
                (other.circle.radius, other.wire_share) == (ring.circle.radius, ring.wire_share);
            same && aside + aslant < within
        })
    };
    if !rings.iter().all(comes_onto_some) {
        return None;
    }
    let period = period * f64::from(cells);
    let middle = middle(&rings);
    for ring in &mut rings {
        ring.circle.centre = ring.circle.centre - middle;
        ring.station = ring.circle.centre.z / period;
    }
    Some(Pose { rings, cell: Cell::Screw { period, twist_rad: 0.0, twist_free: false } })
}

fn middle(rings: &[PlacedRing]) -> Vec3 {
    let sum = rings.iter().fold(Vec3::ZERO, |sum, ring| sum + ring.circle.centre);
    sum * (1.0 / rings.len() as f64)
}

/// Turn per cell at which the linked rings furthest apart along the chain stand opposite each other;
/// at most half a round.
fn half_round_of_links(straight: &Pose, links: &[Link]) -> f64 {
    let apart = links.iter().map(|link| {
        let [first, second] = [link.first, link.second].map(|ring| straight.rings[ring].station);
        (f64::from(link.image[0]) + second - first).abs()
    });
    PI / apart.fold(1.0, f64::max)
}

/// Straight poses with the wire, the taut one first; none if the wire is not reached.
fn straight_poses(straight: &Pose, wire: f64, watch: &mut dyn Watch) -> Result<Vec<Pose>, Halt> {
    let mut slack = vec![grow(straight, wire, ROUGH, watch)?];
    slack.push(grow(&slack[0].pose, f64::INFINITY, ROUGH, watch)?);
    slack.retain(|summit| summit.room >= wire * (1.0 - REACHED));
    let Some(grown) = slack.first() else {
        return Ok(Vec::new());
    };
    let plan = Climb { goal: Goal::Advance, wire, patience: PATIENCE, enough: f64::INFINITY };
    let taut = settled(climb(&grown.pose, &plan, watch)?, &plan, watch)?;
    let mut poses = vec![taut.pose];
    poses.extend(slack.into_iter().map(|summit| summit.pose));
    Ok(poses)
}

/// The pose turned about the chain, its cell brought round the origin, ready to bend in the x-z plane.
fn laid(straight: &Pose, angle_rad: f64) -> Option<Pose> {
    let Cell::Screw { period, .. } = straight.cell else {
        return None;
    };
    let about_chain = Rotation::about(ALONG, angle_rad);
    let middle = middle(&straight.rings);
    let mut pose = straight.clone();
    for ring in &mut pose.rings {
        ring.circle = Circle {
            centre: about_chain.turn(ring.circle.centre - middle),
            normal: about_chain.turn(ring.circle.normal),
            radius: ring.circle.radius,
        };
    }
    pose.cell = Cell::Bend { turn_rad: 0.0, shift_x: 0.0, shift_z: period };
    Some(pose)
}
