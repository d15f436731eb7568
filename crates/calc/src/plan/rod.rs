//! The rod of a line: given by the order, or chosen for the ring it asks for.

use crate::basis::Answer;
use crate::coil::{InsideDiameter, Pitch, touching_pitch};
use crate::metal::anneal::{self, AboutToWind, AnnealAdvice};
use crate::quantity::{Length, RingState};
use crate::ring::{OpenForClosed, coil_inside_for_closed};
use crate::slit::Kerf;
use crate::wind::{
    Candidate, CoilTarget, LotStates, Mandrel, MandrelChoice, WireState, choose_mandrel,
};

use super::stock::LineWire;
use super::{
    NoRod, OrderLine, PlanError, RingWanted, RodMiss, RodOnSheet, ShankOffer, Wanted, Workshop,
};

/// Rods whose misses are told when none fits.
const MISSES_TOLD: usize = 4;
/// A rod counts as the workshop's own if it is this close to it.
const SAME_ROD_MM: f64 = 0.01;

/// A rod with the ring planned on it.
#[derive(Clone)]
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
    let touching = touching_pitch(d, InsideDiameter::new(open_inside)?);
    let packed_mm = workshop.losses.packing * d.diameter().mm();
    Ok(Pitch::new(Length::from_mm(packed_mm.max(touching.advance().mm())))?)
}

/// Whether another blade might ask for another rod: only a closed size has to be opened first.
pub(super) const fn depends_on_kerf(line: &OrderLine) -> bool {
    matches!(line.ring, RingWanted::Size { state: RingState::Closed, .. })
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
    let advice = advice(wire, mandrel);
    let state = match advice.verdict {
        anneal::Verdict::Anneal => WireState::Annealed,
        _ if wire.annealed_already() => WireState::Annealed,
        _ => WireState::AsBought,
    };
    rod(name(workshop, mandrel), mandrel, state, advice, wire).ok_or(PlanError::TakesNoSet {
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
    let owned: Vec<Mandrel> = workshop.rods.iter().map(|rod| rod.mandrel).collect();
    let target = CoilTarget { wire: wire.wire.value, inside_diameter: open_inside, tolerance };
    let lot = if wire.annealed_already() {
        LotStates { as_bought: wire.fit(WireState::Annealed), annealed: None }
    } else {
        let annealed = wire.metal.may_torch().then(|| wire.fit(WireState::Annealed));
        LotStates { as_bought: wire.fit(WireState::AsBought), annealed }
    };
    let choice = choose_mandrel(&target, &owned, lot)?;
    // Where annealing is the rule, a ring of wire as bought is not offered.
    let allowed = |candidate: &&Candidate| {
        candidate.state == WireState::Annealed
            || advice(wire, candidate.mandrel).verdict != anneal::Verdict::Anneal
    };
    let best = choice
        .candidates
        .iter()
        .filter(allowed)
        .find(|candidate| candidate.within_tolerance)
        .and_then(|best| {
            let advice = advice(wire, best.mandrel);
            let mut rod =
                rod(name(workshop, best.mandrel), best.mandrel, best.state, advice, wire)?;
            rod.on_sheet.wanted = Some(Wanted { open_inside, tolerance, chance: best.chance });
            Some(rod)
        });
    best.ok_or_else(|| PlanError::NoRod(Box::new(no_rod(&target, choice, workshop))))
}

/// What is possible instead.
fn no_rod(target: &CoilTarget, choice: MandrelChoice, workshop: &Workshop) -> NoRod {
    let mut nearest = choice.candidates;
    nearest.sort_by(|a, b| a.miss.mm().abs().total_cmp(&b.miss.mm().abs()));
    let nearest = nearest
        .into_iter()
        .take(MISSES_TOLD)
        .map(|candidate| RodMiss {
            rod: name(workshop, candidate.mandrel),
            annealed: candidate.state == WireState::Annealed,
            inside_mm: candidate.ring.value.inside_diameter.mm(),
        })
        .collect();
    let as_it_is = choice.rods_wanted.first();
    let shank = as_it_is
        .and_then(|rod| rod.shanks.iter().find(|shank| shank.within_tolerance))
        .map(|shank| ShankOffer {
            shank_mm: shank.mandrel.diameter().mm(),
            inside_mm: shank.ring.value.inside_diameter.mm(),
        });
    NoRod {
        wanted_mm: target.inside_diameter.mm(),
        tolerance_mm: target.tolerance.mm(),
        nearest,
        rod_wanted_mm: as_it_is.and_then(|rod| rod.mandrel).map(|rod| rod.diameter().mm()),
        shank,
    }
}

/// What the workshop calls a rod, or its size if it is none of its own.
fn name(workshop: &Workshop, mandrel: Mandrel) -> String {
    let mm = mandrel.diameter().mm();
    let own =
        workshop.rods.iter().find(|rod| (rod.mandrel.diameter().mm() - mm).abs() < SAME_ROD_MM);
    own.map_or_else(|| format!("{mm:.2} mm"), |rod| rod.name.clone())
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
