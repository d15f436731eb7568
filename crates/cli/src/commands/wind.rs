//! `wind`: the coil a rod gives once it is let go, and what the hand feels.

use linkwright_calc::cautions::{Step, for_step};
use linkwright_calc::coil::WoundTurns;
use linkwright_calc::limits::LimitError;
use linkwright_calc::quantity::{Curvature, Force, Length, Typed};
use linkwright_calc::wind::{
    Crank, Mandrel, Winding, Wound, hand_force, second_order, wind, winding_torque,
};

use crate::commands::lot::{KnownMetal, Lot, LotArgs};
use crate::commands::{Output, anneal};
use crate::failure::Failure;
use crate::printout::{Printout, Unit, both_lengths};
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// How many reminders of the step are shown; the printed sheet carries all.
const REMINDERS: usize = 2;

/// The ring a rod gives once the coil is let go, and the force at the crank.
///
/// Examples:
///   linkwright wind --wire 1.02mm --rod 4mm --metal sterling --temper "half hard"
///   linkwright wind --wire 1.02mm --rod 5mm --metal sterling \
///       --temper "half hard" --tried 4.00=4.12,4.15,4.14,4.16,4.13
///   linkwright wind --wire 1.291mm --rod 5mm --turns 60 --youngs-mpa 110000 \
///       --flow "elastic_perfectly_plastic yield_strength_mpa=450"
///
/// The range holds four rings of five. One measured ring of the same wire
/// narrows it on every rod.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    #[command(flatten)]
    lot: LotArgs,
    /// Rod the wire is wound on, as measured.
    #[arg(long, visible_alias = "mandrel")]
    rod: String,
    /// Turns wound, for how many run back.
    #[arg(long)]
    turns: Option<u32>,
    /// Pull on the wire in newtons.
    #[arg(long, default_value_t = 0.0)]
    pull_n: f64,
    /// From the crank's axis to its grip, for the force at the hand.
    #[arg(long)]
    crank_arm: Option<String>,
}

struct Plan {
    lot: Lot,
    rod: Mandrel,
    rod_typed: Typed<Length>,
    turns: Option<WoundTurns>,
    pull: Force,
    crank: Option<Crank>,
}

/// Answers with the coil.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    printout(&plan)?.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        let rod_typed = typed::length("--rod", &args.rod)?;
        let arm = typed::optional_length("--crank-arm", args.crank_arm.as_ref())?;
        Ok(Plan {
            lot: Lot::new(&args.lot)?,
            rod: typed::role("--rod", &rod_typed, Mandrel::new)?,
            rod_typed,
            turns: args.turns.map(WoundTurns::new),
            pull: Force::from_n(args.pull_n),
            crank: arm.map(|arm| Crank { arm: arm.value(), efficiency: 1.0 }),
        })
    }

    fn winding(&self) -> Winding {
        Winding {
            wire: self.lot.wire,
            mandrel: self.rod,
            youngs_modulus: self.lot.youngs_modulus,
            flow: self.lot.flow,
            natural_curvature: Curvature::from_per_mm(0.0),
        }
    }
}

fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let wound = wind(&plan.winding()).map_err(refuse)?;
    let mut printout = Printout::new("wind", "Coil, after it is let go");
    printout.wire_as_typed("wire", "wire_diameter_mm", &plan.lot.wire_typed);
    printout.length_as_typed("rod", "mandrel_diameter_mm", &plan.rod_typed);
    let inside = match &plan.lot.metal {
        Some(known) => add_ring_of_the_lot(&mut printout, plan, known),
        None => add_ring_of_the_law(&mut printout, &wound),
    };
    if inside.is_none() {
        printout
            .caution("the wire takes no set on this rod and springs straight: take a smaller rod");
    }
    let strain = wound.outer_fibre_strain;
    printout.figure("stretch of the outer fibre", "outer_fibre_strain", strain, Unit::Share);
    add_turns(&mut printout, plan, inside);
    add_hand(&mut printout, plan, &wound)?;
    printout.cautions(&second_order(&plan.winding()).map_err(refuse)?.cautions());
    for line in for_step(Step::Winding).iter().take(REMINDERS) {
        printout.caution(line.text);
    }
    Ok(printout)
}

/// The ring by what is known of the metal and what rings of the lot have taught.
fn add_ring_of_the_lot(printout: &mut Printout, plan: &Plan, known: &KnownMetal) -> Option<Length> {
    printout.words("metal", "metal", known.metal.trade_name().as_str());
    printout.words("temper", "temper", known.temper.name().as_str());
    let Some(ring) = known.fit.predict(plan.lot.wire, plan.rod) else {
        printout.json_only("coil_inside_diameter_mm", serde_json::Value::Null);
        return None;
    };
    let inside = ring.value.inside_diameter;
    add_inside(printout, inside, plan.rod);
    let (low, high) = (ring.value.low, ring.value.high);
    let end = high.map_or_else(|| "no set at all".to_owned(), |high| both_lengths(high.mm()));
    printout.text_only("four rings of five", format!("{} to {end}", both_lengths(low.mm())));
    printout.json_only("coil_inside_diameter_low_mm", low.mm());
    printout.json_only("coil_inside_diameter_high_mm", high.map(Length::mm));
    printout.words("tried", "reach", ring.value.reach.to_string());
    printout.basis("inside diameter", ring.basis);
    printout.cautions(&ring.cautions);
    printout.cautions(&known.cautions);
    anneal::advise(printout, known, plan.lot.wire, plan.rod);
    Some(inside)
}

fn add_ring_of_the_law(printout: &mut Printout, wound: &Wound) -> Option<Length> {
    printout.json_only("takes_set", wound.takes_set);
    printout
        .source("elastic-plastic bending of round wire, elastic unloading; docs/theory/winding.md");
    let (Some(inside), Some(growth)) = (wound.coil_inside_diameter, wound.growth) else {
        printout.json_only("coil_inside_diameter_mm", serde_json::Value::Null);
        return None;
    };
    let inside_mm = inside.mm();
    printout.figure("inside diameter", "coil_inside_diameter_mm", inside_mm, Unit::Length);
    printout.figure("springs open by", "growth_mm", growth.mm(), Unit::Length);
    Some(inside)
}

fn add_inside(printout: &mut Printout, inside: Length, rod: Mandrel) {
    let growth = inside - rod.diameter();
    let inside_mm = inside.mm();
    printout.figure(
        "inside diameter, likeliest",
        "coil_inside_diameter_mm",
        inside_mm,
        Unit::Length,
    );
    printout.figure("springs open by", "growth_mm", growth.mm(), Unit::Length);
    let springback = growth.mm() / rod.diameter().mm();
    printout.figure("springback, of the rod", "springback", springback, Unit::Share);
}

fn add_turns(printout: &mut Printout, plan: &Plan, inside: Option<Length>) {
    let (Some(turns), Some(inside)) = (plan.turns, inside) else {
        return;
    };
    let left = turns.relaxed(plan.lot.wire, plan.rod, inside).get();
    let run_back = f64::from(turns.get()) - left;
    printout.count("turns wound", "turns_wound", turns.get(), "turns");
    printout.figure("turns left after release", "turns_left", left, Unit::Only("turns"));
    printout.figure("turns that run back", "turns_run_back", run_back, Unit::Only("turns"));
    if run_back >= 1.0 {
        printout.caution(format!(
            "the crank kicks: about {run_back:.1} turns run back when the end is let go; \
             ease the tension off by hand"
        ));
    }
}

fn add_hand(printout: &mut Printout, plan: &Plan, wound: &Wound) -> Result<(), Refusal> {
    let torque = winding_torque(wound, plan.pull).map_err(refuse)?;
    let exact = torque.exact.n_mm();
    printout.figure("torque on the rod", "winding_torque_n_mm", exact, Unit::Torque);
    if let Some(crank) = plan.crank {
        let force = hand_force(torque.exact, crank).map_err(refuse)?;
        printout.figure("force at the crank", "hand_force_n", force.n(), Unit::Force);
    }
    Ok(())
}

/// The option to change for each limit the core finds broken.
fn refuse(error: LimitError) -> Refusal {
    let option = match error.limit.field {
        "tension_n" => "--pull-n",
        "crank_arm_mm" => "--crank-arm",
        "youngs_modulus_mpa" => "--youngs-mpa",
        _ => "--flow",
    };
    Refusal::bench(option, error.given, error)
}
