//! `ring`: from the open ring to the closed one, what it weighs and what it bears.

use std::path::PathBuf;

use linkwright_calc::basis::Caution;
use linkwright_calc::coil::{InsideDiameter, Pitch};
use linkwright_calc::limits::LimitError;
use linkwright_calc::metal::{Metal, Temper};
use linkwright_calc::quantity::{Length, Typed};
use linkwright_calc::ring::{
    Joint, OpenForClosed, Residual, Ring, RingError, RingInput, RingMetal, coil_inside_for_closed,
};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Unit};
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// A ring from open to closed: size, seam, mass and strength.
///
/// Examples:
///   linkwright ring --wire "16 awg" --inside "5.18 mm" --kerf "0.3 mm"
///   linkwright ring --wire 1.02mm --inside 4.14mm --kerf 0.25mm \
///       --metal sterling --temper "half hard"
///   linkwright ring --wire 1.02mm --closed 4.00mm --kerf 0.25mm
///
/// With a metal it says what the ring weighs, with a temper what pull opens it.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Wire diameter, such as "18 awg" or "1.02 mm".
    #[arg(long)]
    wire: String,
    /// Inside diameter of the open ring, which is that of the coil after release.
    #[arg(long, required_unless_present = "closed")]
    inside: Option<String>,
    /// Inside diameter wanted of the closed ring, in place of the open one.
    #[arg(long, conflicts_with = "inside")]
    closed: Option<String>,
    /// Width of the slot the blade leaves.
    #[arg(long)]
    kerf: String,
    /// Advance of the coil per turn; touching turns if absent.
    #[arg(long)]
    pitch: Option<String>,
    /// Metal, for the mass: a name or key of `linkwright metals`.
    #[arg(long)]
    metal: Option<String>,
    /// Temper, for the strength, such as "half hard".
    #[arg(long, requires = "metal")]
    temper: Option<String>,
    /// Your own metals file (TOML) over the built-in table.
    #[arg(long)]
    overlay: Option<PathBuf>,
}

/// A ring that can be made, with the metal if it is known.
struct Plan {
    wire: Wire,
    wire_typed: Typed<Length>,
    kerf_typed: Typed<Length>,
    ring: Ring,
    metal: Option<Metal>,
    temper: Option<Temper>,
    cautions: Vec<Caution>,
}

/// Answers with the ring, open and closed.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    printout(&plan)?.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        let (wire, wire_typed) = typed::wire("--wire", &args.wire)?;
        let kerf_typed = typed::length("--kerf", &args.kerf)?;
        let kerf = typed::role("--kerf", &kerf_typed, Kerf::new)?;
        let ring = match (&args.inside, &args.closed) {
            (Some(inside), _) => open_ring(args, wire, kerf, inside)?,
            (None, closed) => closing_ring(args, wire, kerf, closed.as_deref().unwrap_or(""))?,
        };
        let catalogue = typed::catalogue(args.overlay.as_deref())?;
        let metal = args.metal.as_deref().map(|name| typed::metal(&catalogue, name)).transpose()?;
        let temper = match (&metal, &args.temper) {
            (Some(metal), Some(name)) => Some(typed::temper(metal, name, wire)?),
            _ => None,
        };
        let cautions = temper.as_ref().map(|temper| temper.cautions.clone()).unwrap_or_default();
        let temper = temper.map(|temper| temper.value);
        Ok(Plan { wire, wire_typed, kerf_typed, ring, metal, temper, cautions })
    }
}

fn open_ring(args: &Args, wire: Wire, kerf: Kerf, inside: &str) -> Result<Ring, Refusal> {
    let inside = typed::length("--inside", inside)?;
    let role = typed::role("--inside", &inside, InsideDiameter::new)?;
    let pitch = typed::pitch("--pitch", args.pitch.as_ref(), wire, role)?;
    Ring::cut(RingInput { wire, coil_inside: inside.value(), kerf, pitch })
        .map_err(|error| refuse("--inside", inside.text(), error))
}

fn closing_ring(args: &Args, wire: Wire, kerf: Kerf, closed: &str) -> Result<Ring, Refusal> {
    let closed = typed::length("--closed", closed)?;
    let role = typed::role("--closed", &closed, InsideDiameter::new)?;
    let refuse = |error| refuse("--closed", closed.text(), error);
    let pitch: Pitch = typed::pitch("--pitch", args.pitch.as_ref(), wire, role)?;
    let wanted = OpenForClosed { wire, closed_inside: closed.value(), kerf, pitch };
    let coil_inside = coil_inside_for_closed(wanted).map_err(refuse)?;
    Ring::cut(RingInput { wire, coil_inside, kerf, pitch }).map_err(refuse)
}

fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let ring = plan.ring;
    let mut printout = Printout::new("ring", "Ring, one turn less its kerf");
    printout.wire_as_typed("wire", "wire_diameter_mm", &plan.wire_typed);
    printout.length_as_typed("kerf", "kerf_mm", &plan.kerf_typed);
    for (label, key, length) in [
        ("open: inside diameter", "coil_inside_diameter_mm", ring.coil_inside()),
        ("closed flush: inside diameter", "closed_inside_diameter_mm", ring.closed_inside()),
        ("closed flush: outside diameter", "closed_outside_diameter_mm", ring.closed_outside()),
        (
            "closed till the edges touch: inside",
            "first_touch_inside_diameter_mm",
            ring.first_touch_inside(),
        ),
        ("V left open inside the seam", "seam_v_mm", ring.seam_v()),
        ("wire in one turn", "turn_length_mm", ring.turn_length()),
        ("wire in the ring", "ring_length_mm", ring.ring_length()),
    ] {
        printout.figure(label, key, length.mm(), Unit::Length);
    }
    let (wound, closed) = (ring.aspect_ratio_as_wound(), ring.aspect_ratio());
    printout.figure("aspect ratio, open", "aspect_ratio_as_wound", wound, Unit::Only(""));
    printout.figure("aspect ratio, closed", "aspect_ratio", closed, Unit::Only(""));
    let per_metre = ring.rings_per_metre();
    printout.figure("rings per metre of wire", "rings_per_metre", per_metre, Unit::Only("rings"));
    printout.source("one turn less the kerf, closed to a circle; docs/theory/ring.md");
    add_mass(&mut printout, plan);
    add_strength(&mut printout, plan)?;
    printout.cautions(&plan.cautions);
    Ok(printout)
}

fn add_mass(printout: &mut Printout, plan: &Plan) {
    let Some(metal) = &plan.metal else {
        return;
    };
    let density = metal.density();
    let ring = plan.ring;
    printout.words("metal", "metal", metal.trade_name().as_str());
    printout.figure("one ring", "mass_g", ring.mass(density.value).g(), Unit::Mass);
    let dust = ring.kerf_dust(density.value).g();
    printout.figure("kerf dust of one ring", "kerf_dust_g", dust, Unit::Mass);
    let per_ounce = ring.rings_per_troy_ounce(density.value);
    printout.figure("rings per troy ounce", "rings_per_troy_ounce", per_ounce, Unit::Only("rings"));
    printout.basis("density", density.basis);
    printout.cautions(&density.cautions);
    if let Some(skin) = metal.skin_caution() {
        printout.caution(skin);
    }
}

fn add_strength(printout: &mut Printout, plan: &Plan) -> Result<(), Refusal> {
    let (Some(metal), Some(temper)) = (&plan.metal, &plan.temper) else {
        return Ok(());
    };
    let refused = |error: LimitError| Refusal::bench("--temper", temper.name().as_str(), error);
    let wound = match RingMetal::of(metal, temper, Joint::Touching) {
        Ok(wound) => wound,
        Err(why) => {
            printout.note(why.to_string());
            return Ok(());
        }
    };
    let (wire, aspect_ratio) = (plan.wire, plan.ring.aspect_ratio());
    printout.words("temper", "temper", temper.name().as_str());
    let pulls = wound.value.pulls(wire, aspect_ratio).map_err(refused)?;
    let opens = "closed, not soldered: opens at";
    printout.figure(opens, "opens_at_n", pulls.gives_way.n(), Unit::Force);
    printout.basis("flow stress", wound.basis);
    match RingMetal::of(metal, temper, Joint::Soldered) {
        Ok(soldered) => {
            let pulls = soldered.value.pulls(wire, aspect_ratio).map_err(refused)?;
            let stretches = "soldered, so soft: stretches from";
            let key = "soldered_stretch_onset_n";
            printout.figure(stretches, key, pulls.gives_way.n(), Unit::Force);
            printout.basis("flow stress once soldered", soldered.basis);
        }
        Err(why) => printout.note(format!("soldered, so soft: {why}")),
    }
    let strength = wound.value.strength(wire, aspect_ratio).map_err(refused)?;
    printout.cautions(&strength.cautions(Residual::AsWound));
    Ok(())
}

fn refuse(option: &str, given: &str, error: RingError) -> Refusal {
    let option = match error {
        RingError::KerfAcrossRing { .. } => "--kerf",
        RingError::PitchBelowWire { .. } => "--pitch",
        _ => option,
    };
    Refusal::bench(option, given, error)
}
