//! A pull on the chain, and the metal that bears it.

use linkwright_calc::limits::FORCE;
use linkwright_calc::metal::Metal;
use linkwright_calc::quantity::Force;
use linkwright_calc::ring::{Joint, RingMetal};
use linkwright_calc::wire::Wire;

use crate::batch::inputs::Inputs;
use crate::refusal::Refusal;

/// The strength of a metal as numbers.
const STRENGTHS: [&str; 3] = ["yield_strength_mpa", "tensile_strength_mpa", "youngs_modulus_mpa"];

/// A pull on rings of a metal.
pub(super) fn pull(
    inputs: &Inputs,
    metal: Option<&Metal>,
    wire: Wire,
) -> Result<Option<(RingMetal, Force)>, Refusal> {
    let in_full = inputs.flag("in_full")?;
    let soldered = inputs.flag("soldered")?;
    let Some(newtons) = inputs.optional_number("pull_n", FORCE)? else {
        let alone = ["temper", "soldered"].into_iter().chain(STRENGTHS);
        return match alone.into_iter().find(|key| inputs.has(key)) {
            Some(key) => {
                Err(inputs.bench(key, format!("{key} goes with pull_n, a pull in newtons")))
            }
            None => Ok(None),
        };
    };
    if !in_full {
        return Err(inputs.bench("in_full", "what a pull does is told with in_full: true"));
    }
    let joint = if soldered { Joint::Soldered } else { Joint::Touching };
    let rings = if inputs.has("temper") {
        inputs.refuse_beside("temper", &STRENGTHS)?;
        of_temper(inputs, metal, wire, joint)?
    } else {
        if let (true, None) = (metal.is_some(), STRENGTHS.iter().find(|key| inputs.has(key))) {
            return Err(
                inputs.bench("temper", "how hard is the metal? Name a temper, such as soft")
            );
        }
        let flow_stress = inputs.stress(STRENGTHS[0])?;
        RingMetal {
            flow_stress,
            first_set_stress: flow_stress,
            tensile_strength: inputs.stress(STRENGTHS[1])?,
            youngs_modulus: inputs.youngs_modulus(STRENGTHS[2])?,
            joint,
        }
    };
    Ok(Some((rings, Force::from_n(newtons))))
}

fn of_temper(
    inputs: &Inputs,
    metal: Option<&Metal>,
    wire: Wire,
    joint: Joint,
) -> Result<RingMetal, Refusal> {
    let Some(metal) = metal else { return Err(inputs.missing("metal")) };
    let found = metal.temper_for_wire(inputs.word("temper")?, wire);
    let temper = found.map_err(|error| inputs.bench("temper", error))?.value;
    let rings = RingMetal::of(metal, temper, joint);
    Ok(rings.map_err(|error| inputs.bench("temper", error))?.value)
}
