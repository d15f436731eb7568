//! What was typed for `slit`, as a wire, a coil, a blade and a setting.

use linkwright_calc::coil::{InsideDiameter, Pitch};
use linkwright_calc::limits::LimitError;
use linkwright_calc::metal::Metal;
use linkwright_calc::quantity::{Length, Typed};
use linkwright_calc::slit::{
    AllowanceParts, Allowances, AxisHeight, Blade, BladeParts, DepthSetting, FeedRate, Kerf,
    LastTurn, Projection, Rpm, SlitError, VerdictQuery,
};
use linkwright_calc::wire::Wire;

use super::Args;
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// A blade over a coil, with the metal and the speeds if they are known.
pub struct Plan {
    /// The text of the wire.
    pub wire_typed: Typed<Length>,
    /// The text of the inside diameter.
    pub inside_typed: Typed<Length>,
    /// The text of the blade's diameter.
    pub blade_typed: Typed<Length>,
    /// What the verdict is asked about.
    pub query: VerdictQuery,
    /// The metal, for the speeds.
    pub metal: Option<Metal>,
    /// Turns a minute.
    pub rpm: Option<Rpm>,
    /// Speed along the coil.
    pub feed: Option<FeedRate>,
}

impl Plan {
    /// Makes sense of what was typed.
    pub fn new(args: &Args) -> Result<Plan, Refusal> {
        let (wire, wire_typed) = typed::wire("--wire", &args.wire)?;
        let inside_typed = typed::length("--inside", &args.inside)?;
        let inside = typed::role("--inside", &inside_typed, InsideDiameter::new)?;
        let pitch: Pitch = typed::pitch("--pitch", args.pitch.as_ref(), wire, inside)?;
        let blade_typed = typed::length("--blade", &args.blade)?;
        let blade = blade(args, &blade_typed)?;
        let catalogue = typed::catalogue(args.overlay.as_deref())?;
        Ok(Plan {
            query: VerdictQuery {
                wire,
                inside,
                pitch,
                blade,
                depth: depth(args, blade)?,
                allowances: allowances(args)?,
                last_turn: last_turn(args, wire)?,
            },
            wire_typed,
            inside_typed,
            blade_typed,
            metal: args.metal.as_deref().map(|name| typed::metal(&catalogue, name)).transpose()?,
            rpm: number("--rpm", args.rpm, Rpm::new)?,
            feed: number("--feed", args.feed, FeedRate::new)?,
        })
    }
}

fn blade(args: &Args, diameter: &Typed<Length>) -> Result<Blade, Refusal> {
    let kerf = typed::length("--kerf", &args.kerf)?;
    let hub = typed::optional_length("--hub", args.hub.as_ref())?;
    Blade::new(BladeParts {
        diameter: diameter.value(),
        kerf: typed::role("--kerf", &kerf, Kerf::new)?,
        teeth: args.teeth,
        hub_diameter: hub.as_ref().map(Typed::value),
    })
    .map_err(|error| match error {
        SlitError::Limit(limit) if limit.limit.field == "teeth" => {
            Refusal::bench("--teeth", limit.given, error)
        }
        SlitError::HubNotInsideBlade { .. } => {
            Refusal::bench("--hub", hub.as_ref().map_or("", Typed::text), error)
        }
        _ => Refusal::bench("--blade", diameter.text(), error),
    })
}

fn depth(args: &Args, blade: Blade) -> Result<DepthSetting, Refusal> {
    let typed = typed::length("--projection", &args.projection)?;
    let projection = typed::role("--projection", &typed, Projection::new)?;
    let Some(text) = &args.measured_blade else {
        return Ok(DepthSetting::Projection(projection));
    };
    let diameter = typed::length("--measured-blade", text)?;
    let measured = Blade::new(BladeParts {
        diameter: diameter.value(),
        kerf: blade.kerf(),
        teeth: None,
        hub_diameter: None,
    });
    let refuse = |error| Refusal::bench("--measured-blade", text.as_str(), error);
    let axis = AxisHeight::from_measured(measured.map_err(refuse)?, projection).map_err(refuse)?;
    Ok(DepthSetting::AxisHeight(axis))
}

fn allowances(args: &Args) -> Result<Allowances, Refusal> {
    let none = Length::from_mm(0.0);
    let read = |option, text: Option<&String>| {
        let typed = typed::optional_length(option, text)?;
        Ok::<Length, Refusal>(typed.map_or(none, |typed| typed.value()))
    };
    Allowances::new(AllowanceParts {
        blade_offset: read("--offset", args.offset.as_ref())?,
        squash: read("--squash", args.squash.as_ref())?,
        margin: read("--margin", args.margin.as_ref())?,
        hub_clearance: none,
    })
    .map_err(|error| {
        let option = match error.limit.field {
            "blade_offset_mm" => "--offset",
            "squash_mm" => "--squash",
            _ => "--margin",
        };
        Refusal::bench(option, error.given, error)
    })
}

fn last_turn(args: &Args, wire: Wire) -> Result<Option<LastTurn>, Refusal> {
    let Some(typed) = typed::optional_length("--stop-setback", args.stop_setback.as_ref())? else {
        return Ok(None);
    };
    let last =
        typed::role("--stop-setback", &typed, |setback| LastTurn::from_coil_end(setback, wire))?;
    Ok(Some(last))
}

fn number<T>(
    option: &'static str,
    given: Option<f64>,
    make: impl Fn(f64) -> Result<T, LimitError>,
) -> Result<Option<T>, Refusal> {
    given
        .map(|number| make(number).map_err(|error| Refusal::bench(option, number, error)))
        .transpose()
}
