//! `coil` and `turns_in_length`.

use linkwright_calc::coil::{
    Coil, CoilError, RelaxedTurns, coil_length, gap_fraction, touching_pitch, turns_in_length,
};
use linkwright_calc::limits::TURNS;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static COIL: Ask = Ask {
    name: "coil",
    keys: &[
        "wire_diameter_mm",
        "inside_diameter_mm",
        "pitch_mm",
        "turns",
        "tails_mm",
        "density_g_cm3",
    ],
    answer: answer_coil,
};

pub static TURNS_IN_LENGTH: Ask = Ask {
    name: "turns_in_length",
    keys: &["length_mm", "pitch_mm", "wire_diameter_mm"],
    answer: answer_turns_in_length,
};

fn answer_coil(inputs: &Inputs) -> Result<Reply, Refusal> {
    let wire = inputs.wire()?;
    let inside = inputs.inside("inside_diameter_mm")?;
    let pitch = inputs.pitch()?;
    let turns = RelaxedTurns::new(inputs.number("turns", TURNS)?);
    let tails = inputs.plain_length("tails_mm")?;
    let density = inputs.density("density_g_cm3")?;

    let refuse = |error| refuse(inputs, error);
    let coil = Coil::new(wire, inside, pitch).map_err(refuse)?;
    let wire_length = coil.wire_length(turns, tails);
    Ok(Reply::new()
        .number("touching_pitch_mm", touching_pitch(wire, inside).advance().mm())
        .number("turn_length_mm", coil.turn_length().mm())
        .number("coil_length_mm", coil_length(wire, pitch, turns).map_err(refuse)?.mm())
        .number("gap_fraction", gap_fraction(wire, pitch).map_err(refuse)?)
        .number("wire_length_mm", wire_length.mm())
        .number("mass_g", wire.mass(wire_length, density).g())
        .source("circular helix and touching turns; docs/theory/coil.md"))
}

fn answer_turns_in_length(inputs: &Inputs) -> Result<Reply, Refusal> {
    let length = inputs.plain_length("length_mm")?;
    let pitch = inputs.pitch()?;
    let wire = inputs.wire()?;
    let turns = turns_in_length(wire, pitch, length).map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new()
        .whole("turns", turns.get())
        .source("whole turns that fit a length; docs/theory/coil.md"))
}

fn refuse(inputs: &Inputs, error: CoilError) -> Refusal {
    inputs.bench("pitch_mm", error)
}
