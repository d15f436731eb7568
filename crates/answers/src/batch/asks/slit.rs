//! `projection_window`, `stop_end` and `cutting`.

use linkwright_calc::limits::{
    BLADE_DIAMETER, BLADE_OFFSET, FEED, KERF, LAST_TURN_FROM_BLADE_CENTRE, MARGIN, PROJECTION, RPM,
    SAGITTA, SQUASH, TEETH,
};
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{
    AllowanceParts, Allowances, Blade, BladeParts, FeedRate, Kerf, LastTurn, Projection,
    RUBS_BELOW, Rpm, SlitError, StopQuery, chip, engagement, head_start, projection_window,
    stop_end,
};

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static PROJECTION_WINDOW: Ask = Ask {
    name: "projection_window",
    keys: &[
        "wire_diameter_mm",
        "inside_diameter_mm",
        "kerf_mm",
        "blade_offset_mm",
        "squash_mm",
        "margin_mm",
    ],
    answer: answer_projection_window,
};

pub static STOP_END: Ask = Ask {
    name: "stop_end",
    keys: &[
        "blade_diameter_mm",
        "projection_mm",
        "wire_diameter_mm",
        "pitch_mm",
        "last_turn_from_blade_centre_mm",
        "sagitta_mm",
    ],
    answer: answer_stop_end,
};

pub static CUTTING: Ask = Ask {
    name: "cutting",
    keys: &[
        "blade_diameter_mm",
        "teeth",
        "rpm",
        "feed_mm_per_min",
        "projection_mm",
        "wire_diameter_mm",
        "pitch_mm",
    ],
    answer: answer_cutting,
};

/// Neither the arc in cut nor the stop depends on the kerf, which these questions do not give.
const ANY_KERF_MM: f64 = 0.3;

fn answer_projection_window(inputs: &Inputs) -> Result<Reply, Refusal> {
    let none = Length::from_mm(0.0);
    let length = |key, limit| inputs.number(key, limit).map(Length::from_mm);
    let wire = inputs.wire()?;
    let inside = inputs.inside("inside_diameter_mm")?;
    let refuse = |error| refuse(inputs, error);
    let kerf = Kerf::new(length("kerf_mm", KERF)?).map_err(|error| refuse(error.into()))?;
    let allowances = Allowances::new(AllowanceParts {
        blade_offset: length("blade_offset_mm", BLADE_OFFSET)?,
        squash: length("squash_mm", SQUASH)?,
        margin: length("margin_mm", MARGIN)?,
        hub_clearance: none,
    })
    .map_err(|error| refuse(error.into()))?;
    let window = projection_window(wire, inside, kerf, allowances).map_err(refuse)?;
    let reply = Reply::new()
        .number("parts_mm", window.parts.mm())
        .number("clean_mm", window.clean.mm())
        .number("clean_with_offset_mm", window.clean_with_offset.mm())
        .number("far_wall_mm", window.far_wall.mm())
        .number("far_wall_with_offset_mm", window.far_wall_with_offset.mm())
        .number("most_mm", window.most.mm())
        .number("most_with_offset_mm", window.most_with_offset.mm())
        .source("blade's slot through the ring's bore; docs/theory/slitting.md");
    Ok(if window.most_with_offset < window.clean_with_offset {
        reply.caution("no projection both parts the ring cleanly and keeps the margin")
    } else {
        reply
    })
}

fn answer_stop_end(inputs: &Inputs) -> Result<Reply, Refusal> {
    let refuse = |error| refuse(inputs, error);
    let blade = blade(inputs, None)?;
    let projection = projection(inputs)?;
    let wire = inputs.wire()?;
    let pitch = inputs.pitch()?;
    let key = "last_turn_from_blade_centre_mm";
    let distance = Length::from_mm(inputs.number(key, LAST_TURN_FROM_BLADE_CENTRE)?);
    let none = 0.0;
    let stop = stop_end(StopQuery {
        blade,
        projection,
        wire,
        pitch,
        last_turn: LastTurn::from_blade_centre(distance).map_err(|error| refuse(error.into()))?,
        sagitta: Length::from_mm(inputs.number_or("sagitta_mm", SAGITTA, none)?),
    })
    .map_err(refuse)?;
    Ok(Reply::new()
        .number("severed_reach_mm", stop.severed_reach.mm())
        .number("touched_reach_mm", stop.touched_reach.mm())
        .number("head_start_mm", head_start(blade, projection, wire).map_err(refuse)?.mm())
        .number("depth_at_last_turn_mm", stop.depth_at_last_turn.mm())
        .value("turns_not_severed", stop.turns_not_severed)
        .value("turns_nicked", stop.turns_nicked)
        .value("turns_untouched", stop.turns_untouched)
        .source("blade's circle over the coil; docs/theory/slitting.md"))
}

fn answer_cutting(inputs: &Inputs) -> Result<Reply, Refusal> {
    let refuse = |error| refuse(inputs, error);
    let teeth = inputs.whole("teeth", TEETH)?;
    let blade = blade(inputs, Some(teeth))?;
    let rpm = Rpm::new(inputs.number("rpm", RPM)?).map_err(|error| refuse(error.into()))?;
    let feed = FeedRate::new(inputs.number("feed_mm_per_min", FEED)?)
        .map_err(|error| refuse(error.into()))?;
    let projection = projection(inputs)?;
    let wire = inputs.wire()?;
    let pitch = inputs.pitch()?;
    let cut = engagement(blade, projection, wire, pitch).map_err(refuse)?;
    let chip = chip(&cut, blade, wire, rpm, feed).map_err(refuse)?;
    let speed = rpm.surface_speed(blade);
    let reply = Reply::new()
        .number("arc_rad", cut.arc_rad)
        .number("chord_mm", cut.chord.mm())
        .number("turns_in_cut", cut.turns_in_cut)
        .number_or_null("teeth_in_cut", cut.teeth_in_cut)
        .number("feed_per_tooth_mm", chip.feed_per_tooth.mm())
        .number("chip_max_mm", chip.thickest.mm())
        .number("chip_mean_mm", chip.mean.mm())
        .number("surface_speed_m_per_min", speed.m_per_min())
        .number("surface_speed_ft_per_min", speed.ft_per_min())
        .source("milling geometry of a circular saw; docs/theory/slitting.md");
    Ok(if chip.mean < RUBS_BELOW {
        let um = 1000.0 * chip.mean.mm();
        reply.caution(format!(
            "a mean chip of {um:.2} um rubs more than it cuts: slow the blade or push faster"
        ))
    } else {
        reply
    })
}

fn blade(inputs: &Inputs, teeth: Option<u32>) -> Result<Blade, Refusal> {
    let refuse = |error: SlitError| refuse(inputs, error);
    let kerf = Kerf::new(Length::from_mm(ANY_KERF_MM)).map_err(|error| refuse(error.into()))?;
    Blade::new(BladeParts {
        diameter: Length::from_mm(inputs.number("blade_diameter_mm", BLADE_DIAMETER)?),
        kerf,
        teeth,
        hub_diameter: None,
    })
    .map_err(refuse)
}

fn projection(inputs: &Inputs) -> Result<Projection, Refusal> {
    let depth = Length::from_mm(inputs.number("projection_mm", PROJECTION)?);
    Projection::new(depth).map_err(|error| refuse(inputs, error.into()))
}

/// The key to change for each thing that can be wrong with a blade over a coil.
fn refuse(inputs: &Inputs, error: SlitError) -> Refusal {
    let key = match error {
        SlitError::Limit(error) => error.limit.field,
        SlitError::Coil(_) => "pitch_mm",
        SlitError::SlotBesideBore { .. } => "blade_offset_mm",
        SlitError::TeethNotKnown => "teeth",
        _ => "projection_mm",
    };
    inputs.bench(key, error)
}
