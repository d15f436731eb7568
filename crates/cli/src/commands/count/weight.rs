//! `count weight`: how many rings a lot holds, by weighing it and a counted sample.

use linkwright_calc::count::{
    SampleQuery, Weighing, count_by_weight, exact_count_limit, net_uncertainty,
};
use linkwright_calc::quantity::{Mass, Typed};

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::Printout;
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// Two standard deviations hold about 95 % of all weighings.
const TWO_SIGMA: f64 = 2.0;
/// A lot is counted to the ring while it is off by less than half of one.
const HALF_A_RING: f64 = 0.5;

/// How many rings a lot holds, from its weight and that of a counted sample.
///
/// Example:
///   linkwright count weight --net "412.35 g" --sample-rings 50 \
///       --sample "6.76 g" --scale-step "0.01 g" --spread "1 %"
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Mass of the lot without its jar.
    #[arg(long)]
    net: String,
    /// Rings counted into the sample.
    #[arg(long)]
    sample_rings: u32,
    /// Mass of the sample.
    #[arg(long)]
    sample: String,
    /// Smallest step the scale shows.
    #[arg(long)]
    scale_step: String,
    /// Spread of the mass from ring to ring, such as "1 %".
    #[arg(long, default_value = "1 %")]
    spread: String,
}

struct Plan {
    net: Typed<Mass>,
    sample: Typed<Mass>,
    step: Typed<Mass>,
    weighing: Weighing,
}

/// Answers with the count and its uncertainty.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    printout(&plan)?.print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        let net = typed::mass("--net", &args.net)?;
        let sample = typed::mass("--sample", &args.sample)?;
        let step = typed::mass("--scale-step", &args.scale_step)?;
        // Each net mass is the difference of two readings.
        let uncertainty = net_uncertainty(step.value());
        let weighing = Weighing {
            net: net.value(),
            net_uncertainty: uncertainty,
            sample_rings: args.sample_rings,
            sample: sample.value(),
            sample_uncertainty: uncertainty,
            ring_mass_cv: typed::share("--spread", &args.spread)?,
        };
        Ok(Plan { net, sample, step, weighing })
    }
}

fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let refuse = |error| Refusal::bench("--net", plan.net.text(), error);
    let counted = count_by_weight(&plan.weighing).map_err(refuse)?;
    let query = SampleQuery { weighing: plan.weighing, k: TWO_SIGMA, limit: HALF_A_RING };
    let exact = exact_count_limit(&query).map_err(refuse)?;
    let mut printout = Printout::new("count", "Rings by weight");
    printout.mass_as_typed("lot, net", "net_mass_g", &plan.net);
    printout.mass_as_typed("sample", "sample_mass_g", &plan.sample);
    printout.mass_as_typed("scale shows steps of", "scale_step_g", &plan.step);
    let rings = counted.rings;
    printout.text_only("rings", format!("{rings:.0} +/- {:.0} (two sigma)", counted.two_sigma()));
    printout.json_only("rings", rings);
    printout.json_only("rings_uncertainty", counted.uncertainty);
    match exact {
        Some(most) => {
            printout.count("counted to the ring up to", "exact_count_limit", most, "rings");
        }
        None => printout.caution("not even one ring is counted to the ring by this sample"),
    }
    printout.source("propagation of independent uncertainties; docs/theory/counting.md");
    printout.note("a larger counted sample narrows the count more than a finer scale");
    Ok(printout)
}
