//! One line of an order, worked out with every blade of the workshop.

use crate::coil::GoodRings;
use crate::count::{KitQuery, kit_check};
use crate::metal::Catalogue;
use crate::money::{Money, PricedMetal};
use crate::quantity::Mass;
use crate::ring::{Ring, RingInput, StraightChain};
use crate::slit::{TeethAcross, speed_advice};
use crate::wind::Mandrel;

use super::blades::{Held, hold};
use super::doubts::{doubts, steps};
use super::lay_out::Layout;
use super::rod::{Rod, choose, depends_on_kerf, pitch};
use super::stock::LineWire;
use super::strength::{holding, opens_at};
use super::{
    BladeOnSheet, BladesOut, ChainOnSheet, CoilsAsked, CoilsOnSheet, CoilsTaught, CostOnSheet,
    Item, KitsOnSheet, MetalOnSheet, MetalUse, OrderLine, PlanError, RingOnSheet, RingWanted,
    RunSheet, ToMake, Trials, Untaught, WhyOut, Workshop,
};

/// Spread of mass from ring to ring of one batch; common practice, no source.
const KIT_RING_MASS_CV: f64 = 0.01;
/// Standard uncertainties that must fit: 95 %.
const KIT_COVERAGE: f64 = 1.96;

/// A line worked out with one blade.
struct Attempt {
    held: Held,
    rod: Rod,
    ring: Ring,
    to_make: ToMake,
    coils: CoilsOnSheet,
}

/// Works a line out: one run sheet for each blade that can be used, the best first.
///
/// Each sheet lists all blades, its own first and those that are out last. Where trials are given,
/// they say what each blade's coils lose and how many it takes.
///
/// # Units
/// As in the types.
/// # Validity
/// One kind of ring from one kind of wire; see [`plan`](super::plan) for lines that share.
/// # Errors
/// [`PlanError`], which says what is possible instead.
/// # Source
/// Mechanics A-F in the order of the wire; the choices are the project's own, see `DECISIONS.md`.
pub fn plan_line(
    line: &OrderLine,
    workshop: &Workshop,
    metals: &Catalogue,
    trials: Option<&dyn Trials>,
) -> Result<Vec<RunSheet>, PlanError> {
    check(line, workshop)?;
    let wire = LineWire::find(line, workshop, metals)?;
    plan_of_wire(line, workshop, &wire, trials)
}

/// Works a line out on each of several rods in turn, in place of the ring it asks for.
///
/// What the rings measured on the wire teach is worked out once for all rods, which takes most of the time
/// that a line takes.
///
/// # Units
/// As in the types.
/// # Validity
/// As [`plan_line`].
/// # Errors
/// [`PlanError`] if the line or its wire is wrong; in its place in the list, if a rod gives no ring.
/// # Source
/// As [`plan_line`].
pub fn plan_on_rods(
    line: &OrderLine,
    rods: &[Mandrel],
    workshop: &Workshop,
    metals: &Catalogue,
) -> Result<Vec<Result<Vec<RunSheet>, PlanError>>, PlanError> {
    check(line, workshop)?;
    let wire = LineWire::find(line, workshop, metals)?;
    let on = |rod: &Mandrel| {
        let ring = RingWanted::OnRod { rod: rod.diameter() };
        plan_of_wire(&OrderLine { ring, ..line.clone() }, workshop, &wire, None)
    };
    Ok(rods.iter().map(on).collect())
}

fn check(line: &OrderLine, workshop: &Workshop) -> Result<(), PlanError> {
    line.item.check()?;
    line.spare.check()?;
    workshop.check()?;
    if workshop.blades.is_empty() {
        return Err(PlanError::NoBlade);
    }
    Ok(())
}

fn plan_of_wire(
    line: &OrderLine,
    workshop: &Workshop,
    wire: &LineWire<'_>,
    trials: Option<&dyn Trials>,
) -> Result<Vec<RunSheet>, PlanError> {
    let mut usable: Vec<Attempt> = Vec::new();
    let mut out: Vec<BladeOnSheet> = Vec::new();
    let mut no_rod = None;
    let choose = |kerf| choose(line, workshop, wire, kerf);
    let first_kerf = workshop.blades[0].blade.kerf();
    let rod_for_all = if depends_on_kerf(line) { None } else { Some(choose(first_kerf)?) };
    for (number, owned) in workshop.blades.iter().enumerate() {
        let rod = rod_for_all.clone().map_or_else(|| choose(owned.blade.kerf()), Ok);
        match rod.and_then(|rod| attempt(number, rod, line, workshop, wire, trials)) {
            Ok(Ok(attempt)) => usable.push(attempt),
            Ok(Err(blade)) => out.push(*blade),
            Err(PlanError::NoRod(why)) => no_rod = Some(PlanError::NoRod(why)),
            Err(other) => return Err(other),
        }
    }
    let by_trials = |blade: &BladeOnSheet| matches!(blade.out[..], [WhyOut::TooFewGood { .. }]);
    if usable.is_empty() && trials.is_some() && out.iter().any(by_trials) {
        // A sheet with its doubt helps more than none: the owner may know better.
        return plan_of_wire(line, workshop, wire, Some(&EveryBladeHopeless));
    }
    if usable.is_empty() {
        return Err(match no_rod {
            Some(no_rod) if out.is_empty() => no_rod,
            _ => PlanError::AllBladesOut(BladesOut(
                out.into_iter()
                    .filter_map(|blade| Some((blade.name, *blade.out.first()?)))
                    .collect(),
            )),
        });
    }
    usable.sort_by(|a, b| rank(a).partial_cmp(&rank(b)).unwrap_or(std::cmp::Ordering::Equal));
    let blades: Vec<BladeOnSheet> =
        usable.iter().map(|attempt| attempt.held.on_sheet.clone()).chain(out).collect();
    usable
        .into_iter()
        .enumerate()
        .map(|(at, attempt)| {
            let mut own_first = blades.clone();
            own_first[..=at].rotate_right(1);
            sheet(line, workshop, wire, attempt, own_first)
        })
        .collect()
}

/// What is left of the trials where they have no hope for any blade.
struct EveryBladeHopeless;

impl Trials for EveryBladeHopeless {
    fn coils(&self, _: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught> {
        Err(Untaught::Silent(Some(
            "by what was tried every blade is likely to give too few good rings; try another \
             set-up first"
                .to_owned(),
        )))
    }
}

/// Fewest coils, then teeth as wanted, then least wire, then the thinnest kerf.
fn rank(attempt: &Attempt) -> (u32, u8, f64, f64) {
    let coils = &attempt.coils;
    let teeth = match attempt.held.on_sheet.teeth_across {
        TeethAcross::Wanted(_) => 0,
        TeethAcross::NotCounted => 1,
        TeethAcross::Few(_) | TeethAcross::Many(_) => 2,
    };
    let kerf_mm = attempt.held.on_sheet.blade.kerf().width().mm();
    (coils.coil_count(), teeth, coils.wire_length().mm(), kerf_mm)
}

/// The line with one blade, or the blade with the reason it is out.
fn attempt(
    number: usize,
    rod: Rod,
    line: &OrderLine,
    workshop: &Workshop,
    wire: &LineWire<'_>,
    trials: Option<&dyn Trials>,
) -> Result<Result<Attempt, Box<BladeOnSheet>>, PlanError> {
    let kerf = workshop.blades[number].blade.kerf();
    let pitch = pitch(wire, workshop, rod.open_inside.value)?;
    let mut held = hold(number, workshop, wire, &rod, pitch)?;
    if !held.on_sheet.out.is_empty() {
        return Ok(Err(Box::new(held.on_sheet)));
    }
    let coil_inside = rod.open_inside.value;
    let ring = Ring::cut(RingInput { wire: wire.wire.value, coil_inside, kerf, pitch })?;
    let to_make = to_make(line, &ring, wire)?;
    let layout = Layout { workshop, wire, rod: &rod, to_make: &to_make };
    let Some(coils) = held.lay_out(&layout, trials)? else {
        return Ok(Err(Box::new(held.on_sheet)));
    };
    held.on_sheet.coils = Some(coils.coil_count());
    held.on_sheet.wire = Some(coils.wire_length());
    Ok(Ok(Attempt { held, rod, ring, to_make, coils }))
}

fn to_make(line: &OrderLine, ring: &Ring, wire: &LineWire<'_>) -> Result<ToMake, PlanError> {
    let mass = ring.mass(wire.density.value);
    let (mut chain, mut kits) = (None, None);
    let (asked, kit_spare) = match line.item {
        Item::Rings { count } => (count.get(), 0),
        Item::Chain { length, clasp } => {
            let straight = StraightChain::new(ring.wire(), ring.closed_inside(), clasp)?;
            let around = straight.rings_for_length(length)?;
            let nearest = around.nearest(length);
            let mass = Mass::from_g(f64::from(nearest.rings) * mass.g());
            chain = Some(ChainOnSheet { ordered: length, length: nearest.length, around, mass });
            (nearest.rings, 0)
        }
        Item::Kits { kits: count, rings_each, spare_each } => {
            let rings_each_kit = rings_each + spare_each;
            let check = kit_check(&KitQuery {
                rings: rings_each_kit,
                ring: mass,
                ring_mass_cv: KIT_RING_MASS_CV,
                scale_step: Mass::from_g(0.0),
                k: KIT_COVERAGE,
            })?;
            kits = Some(KitsOnSheet {
                kits: count,
                rings_each: rings_each_kit,
                mass: check.mass,
                one_ring_share: check.one_ring_share,
                scale_step_max: check.scale_step_max,
            });
            (count * rings_each, count * spare_each)
        }
    };
    let spare = kit_spare + line.spare.rings(asked);
    Ok(ToMake {
        asked: GoodRings::new(asked),
        spare,
        good: GoodRings::new(asked.saturating_add(spare)),
        chain,
        kits,
    })
}

fn sheet(
    line: &OrderLine,
    workshop: &Workshop,
    wire: &LineWire<'_>,
    attempt: Attempt,
    blades: Vec<BladeOnSheet>,
) -> Result<RunSheet, PlanError> {
    let Attempt { held, rod, ring, to_make, coils } = attempt;
    let mass = ring.mass(wire.density.value);
    let metal_use = metal_use(wire, &ring, &coils);
    let labels = to_make.kits.map_or(1, |kits| kits.kits);
    let mut doubts = doubts(wire, &rod, &held.on_sheet, &to_make, &coils);
    doubts.extend(line.linked.iter().flat_map(|linked| linked.cautions.iter().cloned()));
    let steps = steps(wire, &rod, &to_make);
    Ok(RunSheet {
        metal: MetalOnSheet {
            key: wire.metal.key().to_string(),
            name: wire.metal.trade_name().to_string(),
            temper: wire.temper.name().to_string(),
            density: wire.density.clone(),
        },
        wire: wire.wire.clone(),
        lot: wire.stock.map(|stock| stock.name.clone()),
        speed: speed_advice(held.on_sheet.blade, wire.metal)?,
        hold: holding(wire, &rod, &ring, &coils, held.on_sheet.blade.kerf())?,
        ring: RingOnSheet {
            opens_at: opens_at(wire, &rod, &ring)?,
            open_inside: rod.open_inside,
            mass,
            ring,
        },
        anneal: rod.anneal,
        rod: rod.on_sheet,
        cost: cost(wire, &metal_use, &to_make)?,
        minutes: workshop.minutes.set_up
            + f64::from(coils.coil_count()) * workshop.minutes.per_coil,
        minutes_allowed: workshop.minutes,
        line: line.clone(),
        to_make,
        coils,
        blades,
        metal_use,
        labels,
        steps,
        doubts,
    })
}

fn metal_use(wire: &LineWire<'_>, ring: &Ring, coils: &CoilsOnSheet) -> MetalUse {
    let density = wire.density.value;
    let slit = coils.slit_count();
    let wire_length = coils.wire_length();
    let all = wire.wire.value.mass(wire_length, density);
    let rings = Mass::from_g(f64::from(slit) * ring.mass(density).g());
    let kerf_dust = Mass::from_g(f64::from(slit) * ring.kerf_dust(density).g());
    MetalUse { wire_length, wire: all, rings, kerf_dust, ends_and_tails: all - rings - kerf_dust }
}

fn cost(
    wire: &LineWire<'_>,
    metal_use: &MetalUse,
    to_make: &ToMake,
) -> Result<Option<CostOnSheet>, PlanError> {
    let Some((stock, price)) = wire.stock.and_then(|stock| Some((stock, stock.lot.price?))) else {
        return Ok(None);
    };
    let priced_share = match price.metal() {
        PricedMetal::AsWeighed => 1.0,
        PricedMetal::Fine => match wire.metal.fine_share() {
            Some(share) => share,
            None => return Ok(None),
        },
    };
    let minor = price.minor_per_gram() * priced_share * metal_use.wire.g();
    Ok(Some(CostOnSheet {
        price,
        price_date: stock.price_date.clone(),
        wire: Money::rounded(minor, price.currency())?,
        per_good_ring_minor: minor / f64::from(to_make.good.get().max(1)),
    }))
}
