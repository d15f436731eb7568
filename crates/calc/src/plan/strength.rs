//! How strong the ring is, and how hard the coil may be held.

use crate::basis::{Answer, Basis, Input};
use crate::coil::{InsideDiameter, RelaxedTurns};
use crate::hold::{
    ClampAdvice, ClampQuery, HeldTurn, HeldTurnParts, SlitAt, as_wound, clamp_advice,
};
use crate::metal::FlowLaw;
use crate::quantity::{Curvature, Force};
use crate::ring::{Joint, Ring, RingMetal};
use crate::slit::Kerf;
use crate::wind::Winding;

use super::rod::Rod;
use super::stock::LineWire;
use super::{CoilsOnSheet, PlanError};

/// Pull at which the closed ring opens, from the flow stress of the wire as it is wound.
pub(super) fn opens_at(
    wire: &LineWire<'_>,
    rod: &Rod,
    ring: &Ring,
) -> Result<Option<Answer<Force>>, PlanError> {
    let temper = wire.temper_in(rod.on_sheet.state);
    let Ok(metal) = RingMetal::of(wire.metal, temper, Joint::Touching) else {
        return Ok(None);
    };
    let flow_mpa = metal.value.flow_stress.mpa();
    let inputs =
        vec![wire.wire_input(), Input::new("bending flow stress", flow_mpa, "MPa", metal.basis)];
    Ok(Some(Answer {
        value: metal.value.pulls(wire.wire.value, ring.aspect_ratio())?.gives_way,
        basis: Basis::worked_out(
            "pull at which a hinge forms opposite the seam, its own pull counted",
            "plastic hinge in wire that winding has hardened; docs/theory/ring.md, section 5",
            inputs,
        ),
        cautions: metal.cautions,
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
