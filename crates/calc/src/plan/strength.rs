//! How strong the ring is, and how hard the coil may be held.

use crate::basis::{Answer, Basis, Input};
use crate::coil::{InsideDiameter, RelaxedTurns};
use crate::hold::{
    ClampAdvice, ClampQuery, HeldTurn, HeldTurnParts, SlitAt, as_wound, clamp_advice,
};
use crate::metal::FlowLaw;
use crate::quantity::{Curvature, Force};
use crate::ring::{Ring, Strength, StrengthInput};
use crate::slit::Kerf;
use crate::wind::Winding;

use super::rod::Rod;
use super::stock::LineWire;
use super::{CoilsOnSheet, PlanError};

/// Pull at which the closed ring opens, from the strength of the wire as it is wound.
pub(super) fn opens_at(
    wire: &LineWire<'_>,
    rod: &Rod,
    ring: &Ring,
) -> Result<Option<Answer<Force>>, PlanError> {
    let temper = wire.temper_in(rod.on_sheet.state);
    let (Some(yields), Some(breaks), Ok(stiffness)) =
        (temper.yield_strength(), temper.tensile_strength(), wire.metal.youngs_modulus())
    else {
        return Ok(None);
    };
    let strength = Strength::of(StrengthInput {
        wire: wire.wire.value,
        aspect_ratio: ring.aspect_ratio(),
        yield_strength: yields.typical(),
        tensile_strength: breaks.typical(),
        youngs_modulus: stiffness.typical(),
    })?;
    let inputs = vec![
        wire.wire_input(),
        Input::new("yield strength", yields.typical().mpa(), "MPa", yields.basis()),
    ];
    Ok(Some(Answer {
        value: strength.opens_at_with_axial(),
        basis: Basis::worked_out(
            "pull at which a hinge forms opposite the seam, its own pull counted",
            "mechanics E11, E12",
            inputs,
        ),
        cautions: Vec::new(),
    }))
}

/// Clamping the longest coil, as wound and not softened after winding.
pub(super) fn holding(
    wire: &LineWire<'_>,
    rod: &Rod,
    ring: &Ring,
    coils: &CoilsOnSheet,
    kerf: Kerf,
) -> Result<Option<Answer<ClampAdvice>>, PlanError> {
    let temper = wire.temper_in(rod.on_sheet.state);
    let (Some(flow), Ok(stiffness), Ok(poisson)) =
        (temper.flow_stress(), wire.metal.youngs_modulus(), wire.metal.poisson_ratio())
    else {
        return Ok(None);
    };
    let law = FlowLaw::ElasticPerfectlyPlastic { yield_strength: flow.typical() };
    let wound = as_wound(&Winding {
        wire: wire.wire.value,
        mandrel: rod.on_sheet.mandrel,
        youngs_modulus: stiffness.typical(),
        flow: law,
        natural_curvature: Curvature::from_per_mm(0.0),
    })?;
    let turn = HeldTurn::new(HeldTurnParts {
        wire: wire.wire.value,
        inside: InsideDiameter::new(ring.coil_inside())?,
        youngs_modulus: stiffness.typical(),
        poisson_ratio: poisson.typical(),
        yield_strength: flow.typical(),
    })?;
    let turns = coils.groups.first().map_or(0, |group| group.relaxed_needed);
    let advice = clamp_advice(&ClampQuery {
        turn,
        reverse_yield_moment: Some(wound.reverse_yield_moment),
        turns_under_plates: RelaxedTurns::new(f64::from(turns)),
        kerf,
        // The slotted cover bears on the coil's top, on both lips of the slit.
        slit_at: SlitAt::UnderPlate,
    })?;
    let inputs = vec![
        wire.wire_input(),
        Input::new("bending flow stress", flow.typical().mpa(), "MPa", flow.basis()),
    ];
    Ok(Some(Answer {
        value: advice,
        basis: Basis::worked_out(
            "force at which a turn between plates first yields backwards, and collapses",
            "mechanics C1, C6; no experiment behind the coil as a whole",
            inputs,
        ),
        cautions: Vec::new(),
    }))
}
