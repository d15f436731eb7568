//! The rod of a line: given by the order, or chosen for the ring it asks for.

use crate::basis::Answer;
use crate::coil::{InsideDiameter, Pitch, touching_pitch};
use crate::metal::anneal::{self, AboutToWind, AnnealAdvice};
use crate::quantity::{Length, RingState};
use crate::ring::{OpenForClosed, coil_inside_for_closed};
use crate::slit::Kerf;
use crate::wind::{Mandrel, PredictedRing, WireState};

use super::stock::LineWire;
use super::{NoRod, OrderLine, PlanError, RingWanted, RodMiss, RodOnSheet, ShankOffer, Wanted, Workshop};

/// Rods whose misses are told when none fits.
const MISSES_TOLD: usize = 4;
/// Steps in which drill shanks come.
const SHANK_STEP_MM: f64 = 0.1;
/// A rod counts as the workshop's own if it is this close to it.
const SAME_ROD_MM: f64 = 0.01;

/// A rod with the ring planned on it.
pub(super) struct Rod {
    pub on_sheet: RodOnSheet,
    pub open_inside: Answer<Length>,
    pub anneal: AnnealAdvice,
}

/// The pitch a coil is wound at: the workshop's packing, but not below touching turns.
pub(super) fn pitch(
    wire: &LineWire<'_>,
    workshop: &Workshop,
    open_inside: Length,
) -> Result<Pitch, PlanError> {
    let d = wire.wire.value;
    let touching = touching_pitch(d, InsideDiameter::new(open_inside)?)?;
    let packed_mm = workshop.losses.packing * d.diameter().mm();
    Ok(Pitch::new(Length::from_mm(packed_mm.max(touching.advance().mm())))?)
}

pub(super) fn choose(
    line: &OrderLine,
    workshop: &Workshop,
    wire: &LineWire<'_>,
    kerf: Kerf,
) -> Result<Rod, PlanError> {
    match line.ring {
        RingWanted::OnRod { rod } => on_given_rod(Mandrel::new(rod)?, workshop, wire),
        RingWanted::Size { inside, tolerance, state } => {
            let open_inside = match state {
                RingState::Open => inside,
                RingState::Closed => coil_inside_for_closed(OpenForClosed {
                    wire: wire.wire.value,
                    closed_inside: inside,
                    kerf,
                    pitch: pitch(wire, workshop, inside)?,
                })?,
            };
            for_size(open_inside, tolerance, workshop, wire)
        }
    }
}

fn on_given_rod(
    mandrel: Mandrel,
    workshop: &Workshop,
    wire: &LineWire<'_>,
) -> Result<Rod, PlanError> {
    let own = workshop.rods.iter().find(|rod| {
        (rod.mandrel.diameter().mm() - mandrel.diameter().mm()).abs() < SAME_ROD_MM
    });
    let name = own.map_or_else(|| format!("{:.2} mm", mandrel.diameter().mm()), |rod| rod.name.clone());
    let advice = advice(wire, mandrel);
    let state = match advice.verdict {
        anneal::Verdict::Anneal => WireState::Annealed,
        _ if wire.annealed_already() => WireState::Annealed,
        _ => WireState::AsBought,
    };
    rod(name, mandrel, state, advice, wire).ok_or(PlanError::TakesNoSet {
        wire_diameter_mm: wire.wire.value.diameter().mm(),
        mandrel_diameter_mm: mandrel.diameter().mm(),
    })
}

fn for_size(
    open_inside: Length,
    tolerance: Length,
    workshop: &Workshop,
    wire: &LineWire<'_>,
) -> Result<Rod, PlanError> {
    let off_mm = |rod: &Rod| (rod.open_inside.value.mm() - open_inside.mm()).abs();
    let mut candidates: Vec<Rod> = workshop
        .rods
        .iter()
        .flat_map(|own| {
            let advice = advice(wire, own.mandrel);
            states(wire, &advice).into_iter().filter_map(move |state| {
                rod(own.name.clone(), own.mandrel, state, advice.clone(), wire)
            })
        })
        .collect();
    candidates.sort_by(|a, b| off_mm(a).total_cmp(&off_mm(b)));
    let chance = |predicted: &PredictedRing| {
        predicted.chance_between(open_inside - tolerance, open_inside + tolerance)
    };
    // Of the rods that hit, the surest; the nearest of equals, since the sort came first.
    let best = candidates
        .iter()
        .enumerate()
        .filter(|(_, rod)| off_mm(rod) <= tolerance.mm())
        .map(|(at, rod)| (at, chance(&rod.on_sheet.predicted.value)))
        .reduce(|best, next| if next.1 > best.1 { next } else { best });
    if let Some((at, chance)) = best {
        let mut rod = candidates.swap_remove(at);
        rod.on_sheet.wanted = Some(Wanted { open_inside, tolerance, chance });
        return Ok(rod);
    }
    let nearest = candidates
        .iter()
        .take(MISSES_TOLD)
        .map(|rod| RodMiss {
            rod: rod.on_sheet.name.clone(),
            annealed: rod.on_sheet.state == WireState::Annealed,
            inside_mm: rod.open_inside.value.mm(),
        })
        .collect();
    let as_it_is =
        if wire.annealed_already() { WireState::Annealed } else { WireState::AsBought };
    let fit = wire.fit(as_it_is);
    let d = wire.wire.value;
    let rod_wanted_mm = fit.rod_for(d, open_inside)?.map(|rod| rod.diameter().mm());
    let shank = rod_wanted_mm.and_then(|rod_mm| {
        let shank_mm = (rod_mm / SHANK_STEP_MM).round() * SHANK_STEP_MM;
        let shank = Mandrel::new(Length::from_mm(shank_mm)).ok()?;
        let inside_mm = fit.predict(d, shank)?.value.inside_diameter.mm();
        ((inside_mm - open_inside.mm()).abs() <= tolerance.mm())
            .then_some(ShankOffer { shank_mm, inside_mm })
    });
    Err(PlanError::NoRod(Box::new(NoRod {
        wanted_mm: open_inside.mm(),
        tolerance_mm: tolerance.mm(),
        nearest,
        rod_wanted_mm,
        shank,
    })))
}

/// States in which the wire may be wound on a rod.
fn states(wire: &LineWire<'_>, advice: &AnnealAdvice) -> Vec<WireState> {
    if wire.annealed_already() || advice.verdict == anneal::Verdict::Anneal {
        vec![WireState::Annealed]
    } else if wire.metal.may_torch() {
        vec![WireState::AsBought, WireState::Annealed]
    } else {
        vec![WireState::AsBought]
    }
}

fn advice(wire: &LineWire<'_>, mandrel: Mandrel) -> AnnealAdvice {
    anneal::advice(AboutToWind {
        metal: wire.metal,
        temper: wire.temper,
        wire: wire.wire.value,
        mandrel,
        annealed: wire.annealed_already(),
    })
}

/// A rod with its ring; none if the wire takes no set on it.
fn rod(
    name: String,
    mandrel: Mandrel,
    state: WireState,
    anneal: AnnealAdvice,
    wire: &LineWire<'_>,
) -> Option<Rod> {
    let predicted = wire.fit(state).predict(wire.wire.value, mandrel)?;
    let open_inside = wire.read_on(mandrel, state).unwrap_or_else(|| Answer {
        value: predicted.value.inside_diameter,
        basis: predicted.basis.clone(),
        cautions: predicted.cautions.clone(),
    });
    let on_sheet = RodOnSheet { name, mandrel, state, predicted, wanted: None };
    Some(Rod { on_sheet, open_inside, anneal })
}
