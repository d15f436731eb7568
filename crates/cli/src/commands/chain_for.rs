//! `chain-for`: the wires, rods and patterns that give a wanted chain.

use std::io::{self, Write};
use std::path::PathBuf;

use linkwright_answers::chain::design::{ChainGiven, Design, DesignWanted, Designs, Gives, design};
use linkwright_answers::chain::{designs_as_json, find};
use linkwright_answers::files::load::load_workshop;
use linkwright_answers::printout::short_mm;
use linkwright_answers::refusal::Refusal;
use linkwright_calc::limits::{LENGTH, Limit, MASS};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::{Currency, Money, parse_money};
use linkwright_calc::plan::Workshop;
use linkwright_calc::quantity::{Length, Mass};
use linkwright_store::look;
use linkwright_web::record;

use crate::commands::Output;
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::{Printout, Table, Unit, both_lengths, significant};
use crate::typed;

/// The wires, rods and patterns of a workshop that come nearest to a wanted chain.
///
/// Examples:
///   linkwright chain-for --width "6 mm" --workshop examples/bench.toml
///   linkwright chain-for --mass "20 g" --length "450 mm" --metal sterling
///   linkwright chain-for --cost "30 EUR" --length "450 mm" --pattern byzantine
///
/// Every wire in stock is put on every rod owned, and the ring it really gives,
/// sprung open and closed again, is looked up in every chain of one ring size.
/// The workshop is that of the data file unless a workshop file is named.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Width wanted.
    #[arg(long)]
    width: Option<String>,
    /// Mass wanted of the chain's rings, with --length.
    #[arg(long, requires = "length")]
    mass: Option<String>,
    /// Money the metal of the chain may cost, with --length.
    #[arg(long, requires = "length")]
    cost: Option<String>,
    /// Length that mass or cost is for.
    #[arg(long)]
    length: Option<String>,
    /// Take this metal only.
    #[arg(long)]
    metal: Option<String>,
    /// Take this pattern only; may be repeated.
    #[arg(long)]
    pattern: Vec<String>,
    /// How many answers to show.
    #[arg(long, default_value_t = 8, value_parser = clap::value_parser!(u16).range(1..=500))]
    show: u16,
    /// The workshop, in place of the one in the data file.
    #[arg(long, value_name = "FILE", conflicts_with = "data")]
    workshop: Option<PathBuf>,
    #[command(flatten)]
    data: DataFile,
}

/// Finds what comes nearest.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let wanted = wanted(args)?;
    let (workshop, metals) = workshop(args)?;
    if let Some(metal) = &args.metal {
        typed::metal(&metals, metal)?;
    }
    let mut designs = design(&wanted, &workshop, &metals);
    designs.found.truncate(usize::from(args.show));
    match output {
        Output::Json => Ok(writeln!(io::stdout(), "{}", designs_as_json(&designs))?),
        Output::Text => printout(&designs, &workshop).print(output),
    }
}

/// Above nothing.
const SOME_LENGTH: Limit = Limit { low: 0.1, ..LENGTH };
const SOME_MASS: Limit = Limit { low: 1e-6, ..MASS };

fn wanted(args: &Args) -> Result<DesignWanted, Refusal> {
    let length = |option, text: Option<&String>| -> Result<Option<Length>, Refusal> {
        let Some(typed) = typed::optional_length(option, text)? else { return Ok(None) };
        typed::role(option, &typed, |length| SOME_LENGTH.check(length.mm()).map(|_| length))
            .map(Some)
    };
    let cm = length("--length", args.length.as_ref())?.map(|length| length.mm() / 10.0);
    let mut wanted = DesignWanted {
        width: length("--width", args.width.as_ref())?,
        metal: args.metal.clone(),
        ..DesignWanted::default()
    };
    for given in &args.pattern {
        let pattern =
            find(given).map_err(|error| Refusal::bench("--pattern", given.as_str(), error))?;
        wanted.patterns.push(pattern.name().to_owned());
    }
    if let (Some(text), Some(cm)) = (&args.mass, cm) {
        let mass = typed::mass("--mass", text)?.value();
        SOME_MASS
            .check(mass.g())
            .map_err(|error| Refusal::bench("--mass", text.as_str(), error))?;
        wanted.mass_per_cm = Some(Mass::from_g(mass.g() / cm));
    }
    if let (Some(text), Some(cm)) = (&args.cost, cm) {
        let refuse = |error: &dyn std::fmt::Display| Refusal::bench("--cost", text.as_str(), error);
        let money = parse_money(text).map_err(|error| refuse(&error))?.value();
        if money.minor() <= 0 {
            return Err(refuse(&"the metal of a chain costs something; give more than nothing"));
        }
        wanted.cost_per_cm = Some((money.minor() as f64 / cm, money.currency()));
    }
    if wanted.width.is_none() && wanted.mass_per_cm.is_none() && wanted.cost_per_cm.is_none() {
        return Err(Refusal::Missing {
            field: "--width".to_owned(),
            ask: "chain-for (or --mass or --cost with --length)".to_owned(),
        });
    }
    Ok(wanted)
}

fn workshop(args: &Args) -> Result<(Workshop, Catalogue), Failure> {
    match &args.workshop {
        Some(path) => Ok(load_workshop(path)?),
        None => look(&args.data.path()?, |view| {
            let found = record::workshop(view)?;
            Ok::<_, Failure>(found.map_err(|why| Refusal::bench("--data", "", why))?)
        }),
    }
}

fn printout(designs: &Designs, workshop: &Workshop) -> Printout {
    let title = format!("What comes nearest in {}", workshop.name);
    let mut printout = Printout::new("chain-for", title);
    if designs.found.is_empty() {
        printout.note("no wire and rod of this workshop gives such a chain");
    }
    let headings =
        ["pattern", "wire", "rod", "mm wide", "g/cm", "cost/cm", "off"].map(str::to_owned);
    let row = |design: &Design| {
        let chain = design.gives.chain;
        vec![
            design.pattern.clone(),
            short_mm(design.wire.mm(), 3),
            design.gives.rod.clone(),
            chain.map_or_else(String::new, |chain| format!("{:.2}", chain.width.mm())),
            chain.map_or_else(String::new, |chain| significant(chain.mass_per_cm.g(), 3)),
            chain.map_or_else(String::new, cost),
            format!("{} %", significant(100.0 * design.off, 2)),
        ]
    };
    printout.table(Table {
        title: "Nearest first; off is the farthest of what was wanted".to_owned(),
        headings: headings.to_vec(),
        rows: designs.found.iter().map(row).collect(),
    });
    if let Some(best) = designs.found.first() {
        detail(&mut printout, best);
    }
    printout.note("mm wide, g/cm and cost/cm are of the chain pulled straight");
    for why in &designs.left_out {
        printout.note(format!("left out: {why}"));
    }
    if designs.found.iter().any(|design| design.tight) {
        printout.caution(
            "some of these are within 0.1 of the smallest aspect ratio: stiff, and the last ring may \
             not go in",
        );
    }
    printout.caution("widths are soft by about a tenth; try a few repeats before the whole chain");
    printout
}

/// The nearest in full, with the rods next to it.
fn detail(printout: &mut Printout, best: &Design) {
    printout.text_only("nearest", format!("{}, {}", best.pattern, best.title));
    printout.text_only(
        "wire",
        format!("{}, {}, {}", best.lot, best.metal, both_lengths(best.wire.mm())),
    );
    printout.text_only("rod", rod(&best.gives));
    let ratio =
        format!("{:.2} ({:.2} is the least)", best.gives.aspect_ratio, best.aspect_ratio_min);
    printout.text_only("aspect ratio, closed", ratio);
    if let Some(chain) = best.gives.chain {
        printout.text_only("width", format!("about {}", both_lengths(chain.width.mm())));
        printout.text_only("thickness", format!("about {}", both_lengths(chain.thickness.mm())));
        printout.text_only("rings per cm", significant(chain.rings_per_cm, 4));
        printout.text_only("mass per cm", Unit::Mass.show(chain.mass_per_cm.g()));
    }
    for (label, next) in ["next rod up", "next rod down"].into_iter().zip(&best.next) {
        let said = match next {
            None => "none owned".to_owned(),
            Some(gives) => match gives.chain {
                None => format!("{}; no chain of it", rod(gives)),
                Some(chain) => format!(
                    "{}; width about {:.2} mm, {} g per cm",
                    rod(gives),
                    chain.width.mm(),
                    significant(chain.mass_per_cm.g(), 3)
                ),
            },
        };
        printout.text_only(label, said);
    }
}

fn rod(gives: &Gives) -> String {
    format!(
        "{} ({}): ring {:.2} mm open, {:.2} mm closed",
        gives.rod,
        short_mm(gives.rod_diameter.mm(), 3),
        gives.open_inside.mm(),
        gives.closed_inside.mm()
    )
}

fn cost(chain: ChainGiven) -> String {
    let said = |(minor, currency): (f64, Currency)| {
        Money::rounded(minor, currency).map_or_else(|_| String::new(), |money| money.to_string())
    };
    chain.cost_per_cm.map_or_else(|| "no price".to_owned(), said)
}
