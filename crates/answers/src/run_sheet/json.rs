//! A planned order as JSON, unrounded; `docs/run-sheet.md` describes each key.

use linkwright_calc::basis::Caution;
use linkwright_calc::cautions::{self, Step};
use linkwright_calc::plan::{
    BladeOnSheet, CoilOnSheet, CoilsOnSheet, CostOnSheet, Odds, Plan, RodOnSheet, RunSheet, ToMake,
    WireToCut,
};
use linkwright_calc::quantity::Length;
use linkwright_calc::ring::ChainLength;
use linkwright_calc::slit::TeethAcross;
use serde_json::{Value, json};

use super::Money;
use crate::batch::basis_as_json;

/// The whole plan.
pub fn plan_as_json(plan: &Plan, money: Money) -> Value {
    json!({
        "order": plan.order,
        "workshop": plan.workshop,
        "changes": plan.changes,
        "minutes": plan.minutes,
        "sheets": plan.sheets.iter().map(|one| sheet(one, money)).collect::<Vec<_>>(),
        "wires": plan.wires.iter().map(wire_to_cut).collect::<Vec<_>>(),
    })
}

/// One sheet of it.
pub fn sheet(sheet: &RunSheet, money: Money) -> Value {
    let density = &sheet.metal.density;
    let metal_use = &sheet.metal_use;
    json!({
        "line": sheet.line.name,
        "metal": sheet.metal.name,
        "metal_key": sheet.metal.key,
        "temper": sheet.metal.temper,
        "density_g_cm3": density.value.g_cm3(),
        "density_basis": basis_as_json(&density.basis),
        "wire_typed": sheet.line.wire_typed,
        "wire_diameter_mm": sheet.wire.value.diameter().mm(),
        "wire_basis": basis_as_json(&sheet.wire.basis),
        "lot": sheet.lot,
        "to_make": to_make(&sheet.to_make),
        "linked": sheet.line.linked.as_ref().map(|linked| json!({
            "pattern": linked.pattern,
            "piece": linked.piece,
            "basis": basis_as_json(&linked.basis),
            "measured": linked.measured.map(|by| json!({
                "pieces": by.pieces,
                "ratio": by.ratio,
                "ratio_spread": by.ratio_spread,
                "repeats": by.repeats,
                "repeats_without": by.repeats_without,
            })),
        })),
        "rod": rod(&sheet.rod),
        "anneal": {
            "advice": sheet.anneal.verdict.to_string(),
            "reason": sheet.anneal.reason.to_string(),
            "cautions": sentences(&sheet.anneal.cautions),
        },
        "ring": ring(sheet),
        "coils": coils(&sheet.coils),
        "blades": sheet.blades.iter().map(blade).collect::<Vec<_>>(),
        "hold": sheet.hold.as_ref().map(|held| json!({
            "no_mark_force_per_turn_n": held.value.no_mark.force_per_turn.n(),
            "no_mark_force_all_turns_n": held.value.no_mark.force_all_turns.n(),
            "faint_oval_force_per_turn_n": held.value.faint_oval.force_per_turn.n(),
            "collapse_force_per_turn_n": held.value.collapse.force_per_turn.n(),
            "slit_closes_at_no_mark_mm": held.value.no_mark.slit_closes.mm(),
            "basis": basis_as_json(&held.basis),
        })),
        "speed": sheet.speed.map(|speed| json!({
            "handbook_rpm": [speed.by_handbook.low.per_min(), speed.by_handbook.high.per_min()],
            "customary_rpm": speed.by_custom.map(|custom| [custom.low.per_min(), custom.high.per_min()]),
            "handbook_source": speed.handbook.source,
            "caution": speed.handbook.caution,
        })),
        "metal_use": {
            "wire_length_mm": metal_use.wire_length.mm(),
            "wire_mass_g": metal_use.wire.g(),
            "rings_mass_g": metal_use.rings.g(),
            "kerf_dust_g": metal_use.kerf_dust.g(),
            "ends_and_tails_g": metal_use.ends_and_tails.g(),
        },
        "minutes": sheet.minutes,
        "cost": sheet.cost.as_ref().filter(|_| money == Money::Shown).map(cost),
        "labels": sheet.labels,
        "set_up_ticks": super::ticks::SET_UP_TICKS,
        "cautions": sheet.steps.iter().map(|step| step_cautions(*step)).collect::<Vec<_>>(),
        "doubts": sentences(&sheet.doubts),
    })
}

fn to_make(to_make: &ToMake) -> Value {
    json!({
        "asked_rings": to_make.asked.get(),
        "spare_rings": to_make.spare,
        "good_rings": to_make.good.get(),
        "chain": to_make.chain.map(|chain| json!({
            "ordered_length_mm": chain.ordered.mm(),
            "length_mm": chain.length.mm(),
            "below": chain.around.below.map(chain_length),
            "above": chain_length(chain.around.above),
            "mass_g": chain.mass.g(),
        })),
        "kits": to_make.kits.map(|kits| json!({
            "kits": kits.kits,
            "rings_each": kits.rings_each,
            "mass_g": kits.mass.g(),
            "one_ring_share": kits.one_ring_share,
            "scale_step_g_max": kits.scale_step_max.map(|step| step.g()),
        })),
    })
}

fn chain_length(chain: ChainLength) -> Value {
    json!({ "rings": chain.rings, "length_mm": chain.length.mm() })
}

fn rod(rod: &RodOnSheet) -> Value {
    let predicted = &rod.predicted.value;
    json!({
        "name": rod.name,
        "mandrel_diameter_mm": rod.mandrel.diameter().mm(),
        "wire_state": rod.state.word(),
        "predicted_inside_diameter_mm": predicted.inside_diameter.mm(),
        "predicted_low_mm": predicted.low.mm(),
        "predicted_high_mm": predicted.high.map(Length::mm),
        "stands": predicted.reach.to_string(),
        "basis": basis_as_json(&rod.predicted.basis),
        "wanted": rod.wanted.map(|wanted| json!({
            "coil_inside_diameter_mm": wanted.open_inside.mm(),
            "tolerance_mm": wanted.tolerance.mm(),
            "chance_within_tolerance": wanted.chance,
        })),
    })
}

fn ring(sheet: &RunSheet) -> Value {
    let ring = &sheet.ring.ring;
    json!({
        "coil_inside_diameter_mm": sheet.ring.open_inside.value.mm(),
        "basis": basis_as_json(&sheet.ring.open_inside.basis),
        "closed_inside_diameter_mm": ring.closed_inside().mm(),
        "closed_outside_diameter_mm": ring.closed_outside().mm(),
        "aspect_ratio_as_wound": ring.aspect_ratio_as_wound(),
        "aspect_ratio": ring.aspect_ratio(),
        "seam_v_mm": ring.seam_v().mm(),
        "first_touch_inside_diameter_mm": ring.first_touch_inside().mm(),
        "mass_g": sheet.ring.mass.g(),
        "opens_at_n": sheet.ring.opens_at.as_ref().map(|pull| pull.value.n()),
    })
}

fn coils(coils: &CoilsOnSheet) -> Value {
    let losses = &coils.losses;
    json!({
        "coils": coils.coil_count(),
        "pitch_mm": coils.pitch.advance().mm(),
        "head_start_mm": coils.head_start.value.mm(),
        "head_start_basis": basis_as_json(&coils.head_start.basis),
        "relaxed_turns_most": coils.relaxed_turns_most,
        "lost_at_ends": losses.ends.value,
        "lost_at_stop": losses.stop.value,
        "lost_at_stop_basis": basis_as_json(&losses.stop.basis),
        "lost_at_stop_predicted": losses.stop_predicted,
        "turns_to_slit": coils.to_slit,
        "groups": coils.groups.iter().map(group).collect::<Vec<_>>(),
        "wire_length_if_all_alike_mm": coils.wire_if_all_alike.mm(),
        "odds": odds(coils.odds),
    })
}

fn group(group: &CoilOnSheet) -> Value {
    json!({
        "coils": group.coils,
        "wound_turns": group.wound.get(),
        "relaxed_turns_needed": group.relaxed_needed,
        "relaxed_turns": group.relaxed.get(),
        "rings": group.slit.get(),
        "coil_length_mm": group.length.mm(),
        "wire_length_mm": group.wire.mm(),
    })
}

fn odds(odds: Odds) -> Value {
    match odds {
        Odds::Taught(taught) => json!({
            "known": true,
            "confidence_wanted": taught.confidence,
            "chance_of_enough": taught.chance,
            "expected_good_rings": taught.expected,
            "promised_good_rings": taught.promised.get(),
            "good_share": taught.good_share,
            "coils_tried_here": taught.tried_here,
            "coils_tried_elsewhere": taught.tried_elsewhere,
        }),
        Odds::Known { confidence, chance, expected, counted } => json!({
            "known": true,
            "confidence_wanted": confidence,
            "chance_of_enough": chance,
            "expected_good_rings": expected,
            "rings_counted": counted,
        }),
        Odds::Unknown { bears, bears_without_spares } => json!({
            "known": false,
            "spoiled_rings_it_bears": bears,
            "spoiled_rings_it_bears_without_spares": bears_without_spares,
        }),
        other => json!({ "known": false, "words": format!("{other:?}") }),
    }
}

fn blade(blade: &BladeOnSheet) -> Value {
    let verdict = &blade.verdict;
    json!({
        "name": blade.name,
        "usable": blade.out.is_empty(),
        "why_out": blade.out.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "blade_diameter_mm": blade.blade.diameter().mm(),
        "kerf_mm": blade.blade.kerf().width().mm(),
        "teeth": blade.blade.teeth(),
        "projection_mm": blade.projection.value.mm(),
        "projection_basis": basis_as_json(&blade.projection.basis),
        "clean_mm": verdict.window.clean.mm(),
        "far_wall_mm": verdict.window.far_wall.mm(),
        "most_mm": verdict.window.most.mm(),
        "margin_beyond_clean_mm": verdict.margins.beyond_clean.mm(),
        "margin_before_far_wall_mm": verdict.margins.before_far_wall.mm(),
        "severed_reach_mm": verdict.severed_reach.map(Length::mm),
        "head_start_to_first_turn_mm": verdict.head_start.map(Length::mm),
        "not_severed_at_stop": verdict.not_severed_at_stop,
        "teeth_across": match blade.teeth_across {
            TeethAcross::Few(teeth) | TeethAcross::Wanted(teeth) | TeethAcross::Many(teeth) => {
                Some(teeth)
            }
            _ => None,
        },
        "rings_per_full_coil": blade.rings_per_full_coil,
        "coils": blade.coils,
        "wire_length_mm": blade.wire.map(Length::mm),
    })
}

fn cost(cost: &CostOnSheet) -> Value {
    json!({
        "price": cost.price.to_string(),
        "price_date": cost.price_date,
        "currency": cost.wire.currency().code(),
        "wire_minor_units": cost.wire.minor(),
        "wire": cost.wire.to_string(),
        "per_good_ring_minor_units": cost.per_good_ring_minor,
    })
}

fn wire_to_cut(wire: &WireToCut) -> Value {
    let pieces: Vec<Value> = wire
        .pieces
        .iter()
        .enumerate()
        .map(|(kind, (sheet, pieces))| {
            let from_reels: Vec<Value> = wire
                .reels
                .iter()
                .zip(&wire.cuts.from_reel)
                .filter(|(_, cut)| cut[kind] > 0)
                .map(|(reel, cut)| json!({ "reel": reel, "pieces": cut[kind] }))
                .collect();
            json!({
                "sheet": sheet,
                "length_mm": pieces.length.mm(),
                "pieces": pieces.count,
                "from_reels": from_reels,
                "to_buy": wire.cuts.to_buy[kind],
            })
        })
        .collect();
    let left: Vec<Value> = wire
        .reels
        .iter()
        .zip(&wire.cuts.left)
        .map(|(reel, left)| json!({ "reel": reel, "left_mm": left.mm() }))
        .collect();
    json!({
        "metal": wire.metal,
        "temper": wire.temper,
        "wire_diameter_mm": wire.diameter.mm(),
        "pieces": pieces,
        "left_on_reels": left,
        "to_buy_mm": wire.to_buy.mm(),
        "to_buy_g": wire.to_buy_mass.g(),
    })
}

fn step_cautions(step: Step) -> Value {
    let lines: Vec<Value> = cautions::for_step(step)
        .iter()
        .map(|line| json!({ "text": line.text, "student": line.student }))
        .collect();
    json!({ "step": step.heading(), "lines": lines })
}

fn sentences(cautions: &[Caution]) -> Vec<String> {
    cautions.iter().map(ToString::to_string).collect()
}

/// The doubts of all sheets, each once, as `batch` prints them beside the answer.
pub fn all_doubts(plan: &Plan) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for sentence in plan.sheets.iter().flat_map(|sheet| sentences(&sheet.doubts)) {
        if !all.contains(&sentence) {
            all.push(sentence);
        }
    }
    all
}
