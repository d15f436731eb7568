//! `mandrel`: the rod that gives a wanted ring, among those at hand and at all.

use linkwright_calc::coil::InsideDiameter;
use linkwright_calc::quantity::{Curvature, Length, Typed};
use linkwright_calc::ring::{OpenForClosed, coil_inside_for_closed};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wind::{
    Candidate, CoilTarget, CoilWanted, LotFit, LotStates, Mandrel, MandrelChoice, choose_mandrel,
    mandrel_for,
};
use serde_json::{Value, json};

use crate::commands::Output;
use crate::commands::lot::{self, KnownMetal, Lot, LotArgs};
use crate::failure::Failure;
use crate::printout::{Printout, Table, Unit, both_lengths};
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// The rod to wind on for a wanted ring.
///
/// Examples:
///   linkwright mandrel --wire 0.81mm --inside 3.5mm --metal brass \
///       --temper "half hard" --own 3.0,3.5,4.0
///   linkwright mandrel --wire 0.81mm --inside 3.5mm --tolerance 0.05mm \
///       --metal brass --temper "half hard" --own 3.0,3.5,4.0 \
///       --tried 3.0=3.17 --tried 3.5=3.72 --tried 4.0=4.28 \
///       --may-anneal --tried-annealed 3.5=3.57
///   linkwright mandrel --wire 1.02mm --closed 4mm --kerf 0.25mm \
///       --metal sterling --temper soft
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    #[command(flatten)]
    lot: LotArgs,
    /// Inside diameter wanted of the open ring.
    #[arg(long, required_unless_present = "closed")]
    inside: Option<String>,
    /// Inside diameter wanted of the closed ring, in place of the open one.
    #[arg(long, conflicts_with = "inside", requires = "kerf")]
    closed: Option<String>,
    /// Width of the slot the blade leaves, with --closed.
    #[arg(long)]
    kerf: Option<String>,
    /// How far off is still good, either way.
    #[arg(long, default_value = "0.05 mm")]
    tolerance: String,
    /// Rods at hand, with commas between; mm unless a unit is written.
    #[arg(long, value_name = "ROD,ROD,...", conflicts_with = "flow")]
    own: Option<String>,
    /// Look at the wire annealed as well.
    #[arg(long, conflicts_with_all = ["flow", "annealed"])]
    may_anneal: bool,
    /// Rings measured of the wire annealed, as --tried.
    #[arg(long, value_name = "ROD=ID,ID,...", requires = "may_anneal")]
    tried_annealed: Vec<String>,
}

struct Plan {
    lot: Lot,
    wanted_typed: Typed<Length>,
    target: CoilTarget,
    own: Vec<Mandrel>,
    softened: Option<LotFit>,
}

/// Answers with the rod.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    printout(&plan)?.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        let lot = Lot::new(&args.lot)?;
        let option = if args.inside.is_some() { "--inside" } else { "--closed" };
        let text = args.inside.as_ref().or(args.closed.as_ref());
        let wanted_typed = typed::length(option, text.map_or("", String::as_str))?;
        let wanted = typed::role(option, &wanted_typed, InsideDiameter::new)?;
        let inside_diameter = match &args.closed {
            None => wanted.diameter(),
            Some(_) => open_for_closed(args, &lot, wanted)?,
        };
        let tolerance = typed::length("--tolerance", &args.tolerance)?.value();
        let own = match &args.own {
            None => Vec::new(),
            Some(text) => typed::lengths_in_mm("--own", text)?,
        };
        let own = own
            .into_iter()
            .map(|rod| Mandrel::new(rod).map_err(|error| Refusal::bench("--own", rod.mm(), error)));
        let trials = lot::trials("--tried-annealed", &args.tried_annealed, &args.lot, lot.wire)?;
        let known = lot.metal.as_ref().filter(|_| args.may_anneal);
        let softened = known.and_then(|known| known.softened(&trials));
        Ok(Plan {
            target: CoilTarget { wire: lot.wire, inside_diameter, tolerance },
            lot,
            wanted_typed,
            own: own.collect::<Result<Vec<Mandrel>, Refusal>>()?,
            softened,
        })
    }
}

fn open_for_closed(args: &Args, lot: &Lot, closed: InsideDiameter) -> Result<Length, Refusal> {
    let kerf = typed::length("--kerf", args.kerf.as_deref().unwrap_or_default())?;
    coil_inside_for_closed(OpenForClosed {
        wire: lot.wire,
        closed_inside: closed.diameter(),
        kerf: typed::role("--kerf", &kerf, Kerf::new)?,
        pitch: typed::pitch("--pitch", None, lot.wire, closed)?,
    })
    .map_err(|error| Refusal::bench("--closed", args.closed.as_deref().unwrap_or(""), error))
}

fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let mut printout = Printout::new("mandrel", "Rod for a wanted ring");
    printout.wire_as_typed("wire", "wire_diameter_mm", &plan.lot.wire_typed);
    printout.length_as_typed("ring wanted, inside", "wanted_mm", &plan.wanted_typed);
    let inside_mm = plan.target.inside_diameter.mm();
    printout.figure("open, as a coil", "coil_inside_diameter_mm", inside_mm, Unit::Length);
    match &plan.lot.metal {
        Some(known) => add_choice(&mut printout, plan, known)?,
        None => add_rod_of_the_law(&mut printout, plan)?,
    }
    Ok(printout)
}

fn add_rod_of_the_law(printout: &mut Printout, plan: &Plan) -> Result<(), Refusal> {
    let rod = mandrel_for(&CoilWanted {
        wire: plan.lot.wire,
        coil_inside_diameter: plan.target.inside_diameter,
        youngs_modulus: plan.lot.youngs_modulus,
        flow: plan.lot.flow,
        natural_curvature: Curvature::from_per_mm(0.0),
    })
    .map_err(|error| Refusal::bench("--flow", error.given, error))?;
    add_rod(printout, rod);
    printout.source("inverse of winding, found by bracketing; docs/theory/winding.md");
    Ok(())
}

fn add_rod(printout: &mut Printout, rod: Option<Mandrel>) {
    match rod {
        Some(rod) => {
            let rod_mm = rod.diameter().mm();
            printout.figure("rod that gives it", "mandrel_diameter_mm", rod_mm, Unit::Length);
        }
        None => {
            printout.json_only("mandrel_diameter_mm", Value::Null);
            printout.caution("no rod gives this ring: the wire springs open further");
        }
    }
}

fn add_choice(printout: &mut Printout, plan: &Plan, known: &KnownMetal) -> Result<(), Refusal> {
    printout.words("metal", "metal", known.metal.trade_name().as_str());
    printout.words("temper", "temper", known.temper.name().as_str());
    let states = LotStates { as_bought: &known.fit, annealed: plan.softened.as_ref() };
    let choice = choose_mandrel(&plan.target, &plan.own, states).map_err(|error| {
        let option = if error.limit.field == "tolerance_mm" { "--tolerance" } else { "--inside" };
        Refusal::bench(option, error.given, error)
    })?;
    add_rod(printout, choice.rods_wanted.first().and_then(|rod| rod.mandrel));
    if plan.own.is_empty() {
        printout.json_only("verdict", choice.verdict.to_string());
        printout.note("name the rods at hand with --own, and they are ranked too");
    } else {
        printout.words("choice", "verdict", choice.verdict.to_string());
    }
    add_candidates(printout, &choice);
    let ratio = known.fit.flow_ratio();
    printout.basis("flow stress over Young's modulus", ratio.basis);
    printout.cautions(&ratio.cautions);
    printout.cautions(&known.cautions);
    Ok(())
}

fn add_candidates(printout: &mut Printout, choice: &MandrelChoice) {
    let shanks = choice.rods_wanted.iter().flat_map(|rod| &rod.shanks);
    let own = choice.candidates.iter().map(|candidate| ("yours", candidate));
    let mut all: Vec<(&str, &Candidate)> =
        own.chain(shanks.map(|candidate| ("drill shank", candidate))).collect();
    // Each list is best first already; those that fit come before those that do not.
    all.sort_by_key(|(_, candidate)| !candidate.within_tolerance);
    let Some((_, first)) = all.first() else {
        return;
    };
    printout.cautions(&first.ring.cautions);
    printout.table(Table {
        title: "Rods, best first (off: ring less wanted; four rings of five within the range)"
            .to_owned(),
        headings: ["rod", "whose", "wire", "ring", "range mm", "off mm", "odds"]
            .map(str::to_owned)
            .to_vec(),
        rows: all.iter().map(|(whose, candidate)| row(whose, candidate)).collect(),
    });
    let listed: Vec<Value> = all.iter().map(|(whose, c)| candidate_as_json(whose, c)).collect();
    printout.json_only("candidates", listed);
}

fn row(whose: &str, candidate: &Candidate) -> Vec<String> {
    let ring = &candidate.ring.value;
    let high = ring.high.map_or_else(|| "no set".to_owned(), |high| format!("{:.2}", high.mm()));
    let good = if candidate.within_tolerance { ", fits" } else { "" };
    vec![
        both_lengths(candidate.mandrel.diameter().mm()),
        whose.to_owned(),
        candidate.state.word().to_owned(),
        both_lengths(ring.inside_diameter.mm()),
        format!("{:.2} to {high}", ring.low.mm()),
        format!("{:+.2}{good}", candidate.miss.mm()),
        format!("{:.0} %", 100.0 * candidate.chance),
    ]
}

fn candidate_as_json(whose: &str, candidate: &Candidate) -> Value {
    let ring = &candidate.ring.value;
    json!({
        "mandrel_diameter_mm": candidate.mandrel.diameter().mm(),
        "whose": whose,
        "wire": candidate.state.word(),
        "coil_inside_diameter_mm": ring.inside_diameter.mm(),
        "coil_inside_diameter_low_mm": ring.low.mm(),
        "coil_inside_diameter_high_mm": ring.high.map(Length::mm),
        "miss_mm": candidate.miss.mm(),
        "within_tolerance": candidate.within_tolerance,
        "chance": candidate.chance,
        "reach": ring.reach.to_string(),
    })
}
