//! `ring`, `closing` and `strength`.

use linkwright_calc::limits::{
    ASPECT_RATIO, BENDING_LOCALISATION, FORCE, INSIDE_DIAMETER, KERF, LimitError,
};
use linkwright_calc::quantity::{Force, Length};
use linkwright_calc::ring::{
    BendingLocalisation, Closing, ClosingInput, Residual, Ring, RingError, RingInput, Strength,
    StrengthInput,
};
use linkwright_calc::slit::Kerf;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static RING: Ask = Ask {
    name: "ring",
    keys: &["wire_diameter_mm", "coil_inside_diameter_mm", "kerf_mm", "pitch_mm", "density_g_cm3"],
    answer: answer_ring,
};

pub static CLOSING: Ask = Ask {
    name: "closing",
    keys: &["kerf_mm", "inside_diameter_mm", "wire_diameter_mm", "bending_localisation"],
    answer: answer_closing,
};

pub static STRENGTH: Ask = Ask {
    name: "strength",
    keys: &[
        "wire_diameter_mm",
        "aspect_ratio",
        "yield_strength_mpa",
        "tensile_strength_mpa",
        "youngs_modulus_mpa",
        "force_n",
    ],
    answer: answer_strength,
};

/// A soldered joint as good as the wire; the answer is called an upper bound.
const WHOLE_JOINT: f64 = 1.0;

fn answer_ring(inputs: &Inputs) -> Result<Reply, Refusal> {
    let key = "coil_inside_diameter_mm";
    let coil_inside = Length::from_mm(inputs.number(key, INSIDE_DIAMETER)?);
    let density = inputs.density("density_g_cm3")?;
    let ring = Ring::cut(RingInput {
        wire: inputs.wire()?,
        coil_inside,
        kerf: kerf(inputs)?,
        pitch: inputs.pitch()?,
    })
    .map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new()
        .number("turn_length_mm", ring.turn_length().mm())
        .number("ring_length_mm", ring.ring_length().mm())
        .number("closed_inside_diameter_mm", ring.closed_inside().mm())
        .number("closed_outside_diameter_mm", ring.closed_outside().mm())
        .number("aspect_ratio", ring.aspect_ratio())
        .number("seam_v_mm", ring.seam_v().mm())
        .number("first_touch_inside_diameter_mm", ring.first_touch_inside().mm())
        .number("mass_g", ring.mass(density).g())
        .number("rings_per_troy_ounce", ring.rings_per_troy_ounce(density))
        .number("rings_per_metre", ring.rings_per_metre())
        .source("one turn less the kerf, closed to a circle; docs/theory/ring.md"))
}

fn answer_closing(inputs: &Inputs) -> Result<Reply, Refusal> {
    let closing = Closing::of(ClosingInput {
        wire: inputs.wire()?,
        inside: inputs.inside("inside_diameter_mm")?.diameter(),
        kerf: kerf(inputs)?,
        bending: bending(inputs)?,
    })
    .map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new()
        .number("height_mm", closing.height().mm())
        .number("width_mm", closing.width().mm())
        .number("ovality_mm", closing.ovality().mm())
        .number("end_rotation_factor", closing.end_rotation_factor())
        .number("seam_v_mm", closing.seam_v().mm())
        .source("ring bent shut; docs/theory/ring.md"))
}

/// "hinge", or the exponent as a number.
fn bending(inputs: &Inputs) -> Result<BendingLocalisation, Refusal> {
    let key = "bending_localisation";
    if inputs.is_word(key) {
        return inputs.one_of(key, &[("hinge", BendingLocalisation::Hinge)]);
    }
    Ok(BendingLocalisation::Exponent(inputs.number(key, BENDING_LOCALISATION)?))
}

fn answer_strength(inputs: &Inputs) -> Result<Reply, Refusal> {
    let refuse = |error: LimitError| refuse(inputs, error.into());
    let force = Force::from_n(inputs.number("force_n", FORCE)?);
    let strength = Strength::of(StrengthInput {
        wire: inputs.wire()?,
        aspect_ratio: inputs.number("aspect_ratio", ASPECT_RATIO)?,
        yield_strength: inputs.stress("yield_strength_mpa")?,
        tensile_strength: inputs.stress("tensile_strength_mpa")?,
        youngs_modulus: inputs.youngs_modulus("youngs_modulus_mpa")?,
    })
    .map_err(refuse)?;
    Ok(Reply::new()
        .number("opens_at_n", strength.opens_at().n())
        .number("opens_at_with_axial_n", strength.opens_at_with_axial().n())
        .number("open_first_yield_n", strength.open_first_yield().n())
        .number("seam_gap_at_force_mm", strength.seam_gap(force).map_err(refuse)?.mm())
        .number("soldered_stretch_onset_n", strength.soldered_stretch_onset().n())
        .number("soldered_first_yield_n", strength.soldered_first_yield().n())
        .number(
            "soldered_upper_bound_n",
            strength.soldered_upper_bound(WHOLE_JOINT).map_err(refuse)?.n(),
        )
        .source("curved beam and plastic hinge; docs/theory/ring.md")
        .cautions(&strength.cautions(Residual::AsWound)))
}

fn kerf(inputs: &Inputs) -> Result<Kerf, Refusal> {
    let key = "kerf_mm";
    Kerf::new(Length::from_mm(inputs.number(key, KERF)?)).map_err(|error| inputs.bench(key, error))
}

/// The key to change for each thing that can be wrong with a ring.
fn refuse(inputs: &Inputs, error: RingError) -> Refusal {
    let key = match error {
        RingError::Limit(error) => error.limit.field,
        RingError::PitchBelowWire { .. } => "pitch_mm",
        _ => "kerf_mm",
    };
    inputs.bench(key, error)
}
