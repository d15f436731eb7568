//! `clamp` and `clamp_as_wound`.

use linkwright_calc::hold::{AsWound, HeldTurn, HeldTurnParts, HoldError, as_wound};
use linkwright_calc::limits::{FORCE, POISSON_RATIO, SQUEEZE};
use linkwright_calc::quantity::{Force, Length};

use crate::batch::asks::Ask;
use crate::batch::asks::wind::winding;
use crate::batch::flow;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static CLAMP: Ask = Ask {
    name: "clamp",
    keys: &[
        "wire_diameter_mm",
        "inside_diameter_mm",
        "youngs_modulus_mpa",
        "yield_strength_mpa",
        "poisson_ratio",
        "squeeze_mm",
        "force_n",
    ],
    answer: answer_clamp,
};

pub static CLAMP_AS_WOUND: Ask = Ask {
    name: "clamp_as_wound",
    keys: &[
        "wire_diameter_mm",
        "mandrel_diameter_mm",
        "youngs_modulus_mpa",
        "flow",
        "natural_curvature_per_mm",
    ],
    answer: answer_clamp_as_wound,
};

const SOURCE: &str = "rigid-plastic and elastic rings between plates; docs/theory/holding.md";

fn answer_clamp(inputs: &Inputs) -> Result<Reply, Refusal> {
    let refuse = |error| refuse(inputs, error);
    let squeeze = Length::from_mm(inputs.number("squeeze_mm", SQUEEZE)?);
    let force = Force::from_n(inputs.number("force_n", FORCE)?);
    let turn = HeldTurn::new(HeldTurnParts {
        wire: inputs.wire()?,
        inside: inputs.inside("inside_diameter_mm")?,
        youngs_modulus: inputs.youngs_modulus("youngs_modulus_mpa")?,
        poisson_ratio: inputs.number("poisson_ratio", POISSON_RATIO)?,
        yield_strength: inputs.stress("yield_strength_mpa")?,
    })
    .map_err(|error| refuse(error.into()))?;
    let thin = turn.thin_ring(force).map_err(refuse)?;
    let thick = turn.thick_ring(force).map_err(refuse)?;
    let reply = Reply::new()
        .number("collapse_force_n", turn.collapse_force().n())
        .number("force_at_squeeze_n", turn.force_at_squeeze(squeeze).map_err(refuse)?.n())
        .number("thin_shortening_mm", thin.shortening.mm())
        .number("thin_widening_mm", thin.widening.mm())
        .number("thick_shortening_mm", thick.shortening.mm())
        .number("thick_widening_mm", thick.widening.mm())
        .number("first_yield_force_n", turn.first_yield_force().n())
        .source(SOURCE);
    Ok(if force > turn.first_yield_force() {
        reply
            .caution("this force marks the turn: the elastic shortening and widening are too small")
    } else {
        reply
    })
}

fn answer_clamp_as_wound(inputs: &Inputs) -> Result<Reply, Refusal> {
    let AsWound { mean_radius, reverse_yield_moment, first_yield_force } =
        as_wound(&winding(inputs)?).map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new()
        .number("mean_radius_mm", mean_radius.mm())
        .number("reverse_yield_moment_n_mm", reverse_yield_moment.n_mm())
        .number("first_yield_force_n", first_yield_force.n())
        .source(SOURCE))
}

/// The key to change for each thing that can be wrong with a clamp.
fn refuse(inputs: &Inputs, error: HoldError) -> Refusal {
    let key = match error {
        HoldError::Limit(error) if inputs.has_key("flow") => return flow::refuse(error),
        HoldError::Limit(error) => error.limit.field,
        HoldError::SqueezedFlat { .. } => "squeeze_mm",
        HoldError::KeepsNoCoil { .. } => "mandrel_diameter_mm",
        _ => "flow",
    };
    inputs.bench(key, error)
}
