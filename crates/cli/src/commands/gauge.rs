//! `gauge`: any size of wire in mm, inches and both gauges.

use linkwright_calc::gauge::nearest;
use linkwright_calc::quantity::{Length, Typed};

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Unit};
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// A size of wire in mm, inches and both gauges.
///
/// Examples:
///   linkwright gauge 18 awg
///   linkwright gauge 1.02 mm
///   linkwright gauge '3/16"'
///   linkwright gauge 18 swg      (British)
///
/// A gauge number alone means two or three different wires, so it is asked about.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// The size as you would say it; words need no quotes.
    #[arg(required = true, value_name = "SIZE")]
    size: Vec<String>,
}

/// A size that means one thing.
struct Plan {
    size: Typed<Length>,
}

/// Answers with the size in every system.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    printout(&plan).print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        let size = args.size.join(" ");
        typed::length("size", &size).map(|size| Plan { size })
    }
}

fn printout(plan: &Plan) -> Printout {
    let diameter = plan.size.value();
    let near = nearest(diameter);
    let mut printout = Printout::new("gauge", "Wire size");
    printout.wire_as_typed("typed", "size", &plan.size);
    printout.figure("diameter", "wire_diameter_mm", diameter.mm(), Unit::Length);
    printout.json_only("wire_diameter_in", diameter.inches());
    for (label, key, gauge, error_percent) in [
        ("nearest AWG", "awg", near.awg, near.awg_error_percent),
        ("nearest British", "british_standard", near.british, near.british_error_percent),
    ] {
        let gauge_mm = gauge.diameter().map_or(f64::NAN, Length::mm);
        let off_mm = diameter.mm() - gauge_mm;
        let shown =
            format!("{gauge} = {gauge_mm:.3} mm; this is {off_mm:+.3} mm, {error_percent:+.1} %");
        printout.text_only(label, shown);
        printout.json_only(&format!("{key}_number"), gauge.number());
        printout.json_only(&format!("{key}_error_mm"), off_mm);
        printout.json_only(&format!("{key}_error_percent"), error_percent);
    }
    printout.source("AWG: ASTM B258 rule; British: sizes of the standard of 1884");
    printout
}
