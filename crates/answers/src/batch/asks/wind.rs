//! `wind`, `mandrel` and `clad_wire`.

use linkwright_calc::coil::WoundTurns;
use linkwright_calc::limits::{
    CLAD_MASS_FRACTION, CRANK_ARM, INSIDE_DIAMETER, NATURAL_CURVATURE, TENSION, TURNS,
};
use linkwright_calc::metal::{Clad, Layer, clad_wire};
use linkwright_calc::quantity::{Curvature, Force, Length};
use linkwright_calc::wind::{
    CoilWanted, Crank, Winding, Wound, hand_force, mandrel_for, second_order, wind, winding_torque,
};

use crate::batch::asks::Ask;
use crate::batch::flow::{flow_law, refuse};
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static WIND: Ask = Ask {
    name: "wind",
    keys: &[
        "wire_diameter_mm",
        "mandrel_diameter_mm",
        "youngs_modulus_mpa",
        "flow",
        "natural_curvature_per_mm",
        "turns_wound",
        "tension_n",
        "crank_arm_mm",
    ],
    answer: answer_wind,
};

pub static MANDREL: Ask = Ask {
    name: "mandrel",
    keys: &[
        "wire_diameter_mm",
        "coil_inside_diameter_mm",
        "youngs_modulus_mpa",
        "flow",
        "natural_curvature_per_mm",
    ],
    answer: answer_mandrel,
};

pub static CLAD_WIRE: Ask = Ask {
    name: "clad_wire",
    keys: &[
        "wire_diameter_mm",
        "clad_mass_fraction",
        "core_density_g_cm3",
        "clad_density_g_cm3",
        "core_youngs_modulus_mpa",
        "clad_youngs_modulus_mpa",
        "core_flow_stress_mpa",
        "clad_flow_stress_mpa",
    ],
    answer: answer_clad_wire,
};

/// More turns than this run back with a kick that a hand on the crank feels.
const KICK_TURNS: f64 = 1.0;

fn answer_wind(inputs: &Inputs) -> Result<Reply, Refusal> {
    let winding = winding(inputs)?;
    let wound = wind(&winding).map_err(refuse)?;
    let mut reply = Reply::new()
        .number("mean_radius_mm", wound.mean_radius.mm())
        .number("outer_fibre_strain", wound.outer_fibre_strain)
        .number("bending_moment_n_mm", wound.bending_moment.n_mm())
        .number("relaxed_curvature_per_mm", wound.relaxed_curvature.per_mm())
        .value("takes_set", wound.takes_set)
        .number_or_null("coil_inside_diameter_mm", wound.coil_inside_diameter.map(Length::mm))
        .number_or_null("growth_mm", wound.growth.map(Length::mm))
        .source("elastic-plastic bending of round wire, elastic unloading; docs/theory/winding.md");
    if !wound.takes_set {
        reply = reply.caution("the wire stays elastic on this mandrel and springs straight again");
    }
    reply = with_turns(reply, inputs, &wound)?;
    reply = with_torque(reply, inputs, &wound)?;
    Ok(reply.cautions(&second_order(&winding).map_err(refuse)?.cautions()))
}

/// The inputs that `wind` and `clamp_as_wound` share.
pub fn winding(inputs: &Inputs) -> Result<Winding, Refusal> {
    Ok(Winding {
        wire: inputs.wire()?,
        mandrel: inputs.mandrel()?,
        youngs_modulus: inputs.youngs_modulus("youngs_modulus_mpa")?,
        flow: flow_law(inputs)?,
        natural_curvature: natural_curvature(inputs)?,
    })
}

fn natural_curvature(inputs: &Inputs) -> Result<Curvature, Refusal> {
    let straight = 0.0;
    let per_mm = inputs.number_or("natural_curvature_per_mm", NATURAL_CURVATURE, straight)?;
    Ok(Curvature::from_per_mm(per_mm))
}

fn with_turns(reply: Reply, inputs: &Inputs, wound: &Wound) -> Result<Reply, Refusal> {
    let Some(turns) = inputs.optional_whole("turns_wound", TURNS)? else {
        return Ok(reply);
    };
    let kick = wound.kick_back(WoundTurns::new(turns));
    let reply = reply
        .number_or_null("turns_left", kick.map(|kick| kick.left.get()))
        .number_or_null("turns_run_back", kick.map(|kick| kick.run_back));
    Ok(match kick {
        Some(kick) if kick.run_back >= KICK_TURNS => reply.caution(format!(
            "the crank kicks: about {:.1} turns run back when the end is let go; \
             ease the tension off by hand",
            kick.run_back
        )),
        _ => reply,
    })
}

fn with_torque(reply: Reply, inputs: &Inputs, wound: &Wound) -> Result<Reply, Refusal> {
    let tension_n = inputs.optional_number("tension_n", TENSION)?;
    let arm_mm = inputs.optional_number("crank_arm_mm", CRANK_ARM)?;
    if tension_n.is_none() && arm_mm.is_none() {
        return Ok(reply);
    }
    let tension = Force::from_n(tension_n.unwrap_or(0.0));
    let torque = winding_torque(wound, tension).map_err(refuse)?;
    let reply = reply
        .number("winding_torque_n_mm", torque.exact.n_mm())
        .number("winding_torque_upper_bound_n_mm", torque.upper_bound.n_mm());
    let Some(arm_mm) = arm_mm else {
        return Ok(reply);
    };
    let crank = Crank { arm: Length::from_mm(arm_mm), efficiency: 1.0 };
    let force = hand_force(torque.exact, crank).map_err(refuse)?;
    Ok(reply.number("hand_force_n", force.n()))
}

fn answer_mandrel(inputs: &Inputs) -> Result<Reply, Refusal> {
    let wanted = CoilWanted {
        wire: inputs.wire()?,
        coil_inside_diameter: Length::from_mm(
            inputs.number("coil_inside_diameter_mm", INSIDE_DIAMETER)?,
        ),
        youngs_modulus: inputs.youngs_modulus("youngs_modulus_mpa")?,
        flow: flow_law(inputs)?,
        natural_curvature: natural_curvature(inputs)?,
    };
    let mandrel = mandrel_for(&wanted).map_err(refuse)?;
    let reply = Reply::new()
        .number_or_null("mandrel_diameter_mm", mandrel.map(|mandrel| mandrel.diameter().mm()))
        .source("inverse of winding, found by bracketing; docs/theory/winding.md");
    Ok(match mandrel {
        Some(_) => reply,
        None => reply.caution("no mandrel gives this coil: the wire springs open further"),
    })
}

fn answer_clad_wire(inputs: &Inputs) -> Result<Reply, Refusal> {
    let wire = clad_wire(&Clad {
        wire: inputs.wire()?,
        clad_mass_fraction: inputs.number("clad_mass_fraction", CLAD_MASS_FRACTION)?,
        core: Layer {
            density: inputs.density("core_density_g_cm3")?,
            youngs_modulus: inputs.youngs_modulus("core_youngs_modulus_mpa")?,
            flow_stress: inputs.stress("core_flow_stress_mpa")?,
        },
        clad: Layer {
            density: inputs.density("clad_density_g_cm3")?,
            youngs_modulus: inputs.youngs_modulus("clad_youngs_modulus_mpa")?,
            flow_stress: inputs.stress("clad_flow_stress_mpa")?,
        },
    })
    .map_err(refuse)?;
    Ok(Reply::new()
        .number("density_g_cm3", wire.density.g_cm3())
        .number("clad_thickness_mm", wire.clad_thickness.mm())
        .number("flexural_modulus_mpa", wire.flexural_modulus.mpa())
        .number("equivalent_flow_stress_mpa", wire.equivalent_flow_stress.mpa())
        .source("two layers of one round section; docs/theory/winding.md"))
}
