//! `chain-for`: the wires, rods and patterns that give a wanted chain.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::PathBuf;

use linkwright_answers::chain::design::{
    Aim, Design, DesignField, DesignTyped, DesignWanted, Designs, Given, GivesNothing, OwnRing,
    OwnRings, Repertoire, design, designs_as_json,
};
use linkwright_answers::chain::{OwnKnown, find};
use linkwright_answers::files::load::load_workshop;
use linkwright_answers::printout::short_mm;
use linkwright_answers::refusal::Refusal;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::{Currency, Money};
use linkwright_calc::plan::Workshop;
use linkwright_linkage::answer::Correction;
use linkwright_linkage::pattern::Kind;
use linkwright_store::look;
use linkwright_web::record;

use crate::commands::Output;
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::{Printout, Table, Unit, both_lengths, significant};
use crate::typed;

/// The wires, rods and patterns of a workshop that come nearest to a wanted chain or sheet.
///
/// Examples:
///   linkwright chain-for --width "6 mm" --workshop examples/bench.toml
///   linkwright chain-for --mass "20 g" --length "450 mm" --metal sterling
///   linkwright chain-for --cost "30 EUR" --length "450 mm" --pattern byzantine
///   linkwright chain-for --sheet --mass "40 g" --length "100 mm" --across "60 mm"
///
/// Every wire in stock is put on every rod owned, and the ring it really gives,
/// sprung open and closed again, is looked up in every pattern; where a pattern
/// takes rings of several sizes, smaller ones are taken from the same metal.
/// A strip is a chain and has a width; a sheet is as wide as it is made, and is
/// asked for by its thickness, or by mass or cost of a piece.
/// The workshop is that of the data file unless a workshop file is named.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// A sheet, and not a chain.
    #[arg(long)]
    sheet: bool,
    /// Width wanted of a chain.
    #[arg(long)]
    width: Option<String>,
    /// Thickness wanted.
    #[arg(long)]
    thickness: Option<String>,
    /// Mass wanted of the rings of the piece, with --length.
    #[arg(long)]
    mass: Option<String>,
    /// Money the metal of the piece may cost, with --length.
    #[arg(long)]
    cost: Option<String>,
    /// Length of the piece that mass or cost is for; of a sheet, along its rows.
    #[arg(long)]
    length: Option<String>,
    /// Width of the piece of a sheet, across its rows.
    #[arg(long)]
    across: Option<String>,
    /// Take this metal only.
    #[arg(long)]
    metal: Option<String>,
    /// Take this pattern only; may be repeated.
    #[arg(long)]
    pattern: Vec<String>,
    /// Look at chains of rings so large that they hang loose, too.
    #[arg(long)]
    loose: bool,
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
    let mut wanted = wanted(args)?;
    let Stand { workshop, metals, corrections, own_patterns } = stand(args)?;
    if let Some(metal) = &args.metal {
        wanted.metal = Some(typed::metal(&metals, metal)?.key().to_string());
    }
    let repertoire =
        Repertoire::of(OwnRings::of(&workshop, &metals), corrections).beside(&own_patterns);
    let designs = design(&wanted, &repertoire, usize::from(args.show));
    match output {
        Output::Json => Ok(writeln!(io::stdout(), "{}", designs_as_json(&designs))?),
        Output::Text => printout(&designs, &workshop, wanted.kind).print(output),
    }
}

/// The option of a field.
const fn option(field: DesignField) -> &'static str {
    match field {
        DesignField::Width => "--width",
        DesignField::Thickness => "--thickness",
        DesignField::Mass => "--mass",
        DesignField::Cost => "--cost",
        DesignField::Length => "--length",
        DesignField::Across => "--across",
    }
}

fn wanted(args: &Args) -> Result<DesignWanted, Refusal> {
    let at = |text: &'_ Option<String>| text.clone().unwrap_or_default();
    let [width, thickness, mass, cost, length, across] =
        [&args.width, &args.thickness, &args.mass, &args.cost, &args.length, &args.across].map(at);
    let typed = DesignTyped {
        sheet: args.sheet,
        width: &width,
        thickness: &thickness,
        mass: &mass,
        cost: &cost,
        length: &length,
        across: &across,
    };
    let read = typed.read().map_err(|wrong| {
        let (field, said) = wrong.into_iter().next().unwrap_or((DesignField::Width, String::new()));
        let given = match field {
            DesignField::Width => &width,
            DesignField::Thickness => &thickness,
            DesignField::Mass => &mass,
            DesignField::Cost => &cost,
            DesignField::Length => &length,
            DesignField::Across => &across,
        };
        Refusal::bench(option(field), given.as_str(), said)
    })?;
    let mut wanted = DesignWanted { loose: args.loose, ..read.wanted };
    for given in &args.pattern {
        let pattern =
            find(given).map_err(|error| Refusal::bench("--pattern", given.as_str(), error))?;
        if pattern.kind() != wanted.kind {
            let why = match pattern.kind() {
                Kind::Sheet => "this is a sheet; ask with --sheet",
                Kind::Chain => "this is a chain; ask without --sheet",
                Kind::Cluster => "this is one group of rings that does not repeat",
            };
            return Err(Refusal::bench("--pattern", given.as_str(), why));
        }
        wanted.patterns.push(pattern.name().to_owned());
    }
    Ok(wanted)
}

/// What the search rests on.
struct Stand {
    workshop: Workshop,
    metals: Catalogue,
    /// What measured pieces taught, by pattern.
    corrections: BTreeMap<String, Correction>,
    /// Patterns of one's own, which are told as left out.
    own_patterns: Vec<OwnKnown>,
}

fn stand(args: &Args) -> Result<Stand, Failure> {
    if let Some(path) = &args.workshop {
        let (workshop, metals) = load_workshop(path)?;
        return Ok(Stand {
            workshop,
            metals,
            corrections: BTreeMap::new(),
            own_patterns: Vec::new(),
        });
    }
    look(&args.data.path()?, |view| {
        let found = record::workshop(view)?.map_err(|why| Refusal::bench("--data", "", why))?;
        let (workshop, metals) = found;
        Ok::<_, Failure>(Stand {
            workshop,
            metals,
            corrections: record::chain_corrections(view)?,
            own_patterns: record::known_patterns(view)?.own().to_vec(),
        })
    })
}

fn printout(designs: &Designs, workshop: &Workshop, kind: Kind) -> Printout {
    let title = format!("What comes nearest in {}", workshop.name);
    let mut printout = Printout::new("chain-for", title);
    if designs.found.is_empty() {
        printout.note("no wire and rod of this workshop gives what was asked for");
    }
    let is_sheet = kind == Kind::Sheet;
    let headings = if is_sheet {
        ["pattern", "wire", "rod", "mm thick", "g/cm2", "cost/cm2", "off"]
    } else {
        ["pattern", "wire", "rod", "mm wide", "g/cm", "cost/cm", "off"]
    };
    let row = |design: &Design| {
        let given = &design.gives;
        let size = given.width.unwrap_or(given.thickness);
        let joined = |of: &dyn Fn(&OwnRing) -> String| {
            let mut each: Vec<String> = design.rings.iter().map(|part| of(&part.ring)).collect();
            each.dedup();
            each.join(" + ")
        };
        vec![
            design.pattern.clone(),
            joined(&|ring| short_mm(ring.ring.wire().diameter().mm(), 3)),
            joined(&|ring| ring.rod.clone()),
            format!("{:.2}", size.mm()),
            significant(given.mass.g(), 3),
            cost(given),
            format!("{} %", significant(100.0 * design.off, 2)),
        ]
    };
    printout.table(Table {
        title: "Nearest first; off is the farthest of what was wanted".to_owned(),
        headings: headings.map(str::to_owned).to_vec(),
        rows: designs.found.iter().map(row).collect(),
    });
    if let Some(best) = designs.found.first() {
        detail(&mut printout, best);
    }
    printout.note(if is_sheet {
        "all numbers are of the sheet pulled along its rows; a sheet of two ring sizes lies flat, its rows \
         as far apart as they go"
    } else {
        "all numbers are of the chain pulled straight"
    });
    for why in designs.left_out.sentences().iter().chain(&designs.left_out.no_ring) {
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
    let many = best.rings.len() > 1;
    for (part, size) in best.rings.iter().zip(1..) {
        let own = &part.ring;
        let label =
            |what: &str| if many { format!("{what}, size {size}") } else { what.to_owned() };
        let wire = both_lengths(own.ring.wire().diameter().mm());
        printout.text_only(&label("wire"), format!("{}, {}, {wire}", own.lot, own.metal_name));
        printout.text_only(&label("rod"), rod(own));
    }
    let ratio = format!("{:.2}", best.main().ring.as_closed().aspect_ratio());
    printout.text_only(
        "aspect ratio, closed",
        best.least.map_or(ratio.clone(), |least| format!("{ratio} ({least:.2} is the least)")),
    );
    let given = &best.gives;
    for miss in &best.misses {
        let (label, said) = match miss.aim {
            Aim::Width => ("width", format!("about {}", both_lengths(miss.given))),
            Aim::Thickness => ("thickness", format!("about {}", both_lengths(miss.given))),
            Aim::Mass | Aim::Cost => continue,
        };
        let off = format!("{} % off", significant(100.0 * miss.off(), 2));
        printout.text_only(label, format!("{said}, {off}"));
    }
    let area = if given.across.is_some() { "cm2" } else { "cm" };
    printout.text_only(&format!("rings per {area}"), significant(given.rings, 4));
    printout.text_only(&format!("mass per {area}"), Unit::Mass.show(given.mass.g()));
    printout.text_only("the length is from", given.read_in_words());
    for (label, next) in ["next rod up", "next rod down"].into_iter().zip(&best.next) {
        let said = match next {
            None => "none owned".to_owned(),
            Some(next) => match &next.gives {
                Err(GivesNothing::TooSmall) => format!("{}; too small for it", rod(&next.ring)),
                Err(_) => format!("{}; beyond the solved table", rod(&next.ring)),
                Ok(given) => {
                    let size = match given.width {
                        Some(width) => format!("width about {:.2} mm", width.mm()),
                        None => format!("thickness about {:.2} mm", given.thickness.mm()),
                    };
                    let mass = significant(given.mass.g(), 3);
                    format!("{}; {size}, {mass} g per {area}", rod(&next.ring))
                }
            },
        };
        printout.text_only(label, said);
    }
}

fn rod(own: &OwnRing) -> String {
    format!(
        "{} ({}): ring {:.2} mm open ({}), {:.2} mm closed{}",
        own.rod,
        short_mm(own.rod_diameter.mm(), 3),
        own.open_inside.value.mm(),
        own.open_inside.basis.word(),
        own.ring.closed_inside().mm(),
        if own.anneal_first { ", wire annealed first" } else { "" }
    )
}

fn cost(given: &Given) -> String {
    let said = |(minor, currency): (f64, Currency)| {
        Money::rounded(minor, currency).map_or_else(|_| String::new(), |money| money.to_string())
    };
    given.cost.map_or_else(|| "no price".to_owned(), said)
}
