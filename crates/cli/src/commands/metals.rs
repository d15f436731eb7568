//! `metals`: what is known of each metal, and where from.

use std::path::PathBuf;

use linkwright_calc::metal::{Band, Metal, Temper};
use linkwright_calc::quantity::Stress;
use serde_json::{Value, json};

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Table, Unit, significant};
use crate::typed;
use linkwright_answers::refusal::Refusal;

/// The metals there are, or all that is known of one.
///
/// Examples:
///   linkwright metals
///   linkwright metals sterling
///   linkwright metals "nickel silver" --overlay metals.toml
///
/// The built-in values are defaults: a measured density or ring of your own
/// wire is better. Put those into a metals file (TOML) and name it with
/// --overlay.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Name, alias or key of one metal; words need no quotes. All if absent.
    metal: Vec<String>,
    /// Your own metals file (TOML) over the built-in table.
    #[arg(long)]
    overlay: Option<PathBuf>,
}

/// One metal, or all of them.
enum Plan {
    All(Vec<Metal>),
    One(Box<Metal>),
}

/// Answers with a list, or with one metal.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    match Plan::new(args)? {
        Plan::All(metals) => list(&metals).print(output),
        Plan::One(metal) => one(&metal).print(output),
    }
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Refusal> {
        let catalogue = typed::catalogue(args.overlay.as_deref())?;
        if args.metal.is_empty() {
            return Ok(Plan::All(catalogue.metals().to_vec()));
        }
        let name = args.metal.join(" ");
        let found = catalogue.find(&name).map_err(|error| Refusal::bench("metal", name, error))?;
        Ok(Plan::One(Box::new(found.clone())))
    }
}

fn list(metals: &[Metal]) -> Printout {
    let mut printout = Printout::new("metals", format!("{} metals", metals.len()));
    let rows = metals.iter().map(|metal| {
        let stiffness = metal.youngs_modulus().map_or_else(
            |_| "not known".to_owned(),
            |band| significant(band.typical().mpa() / 1000.0, 3),
        );
        vec![
            metal.key().to_string(),
            metal.trade_name().to_string(),
            significant(metal.density().value.g_cm3(), 4),
            stiffness,
            metal.tempers().len().to_string(),
        ]
    });
    printout.table(Table {
        title: "Name any of these, or an alias, to see more".to_owned(),
        headings: ["key", "metal", "density g/cm3", "stiffness GPa", "tempers"]
            .map(str::to_owned)
            .to_vec(),
        rows: rows.collect(),
    });
    let all: Vec<Value> = metals.iter().map(summary).collect();
    printout.json_only("metals", all);
    printout.note("data/SOURCES.md says where every value comes from and how it was verified");
    printout
}

fn summary(metal: &Metal) -> Value {
    json!({
        "key": metal.key().as_str(),
        "trade_name": metal.trade_name().as_str(),
        "aliases": metal.aliases().iter().map(ToString::to_string).collect::<Vec<_>>(),
        "density_g_cm3": metal.density().value.g_cm3(),
        "youngs_modulus_mpa": metal.youngs_modulus().ok().map(|band| band.typical().mpa()),
        "tempers": metal.tempers().iter().map(|t| t.name().to_string()).collect::<Vec<_>>(),
    })
}

fn one(metal: &Metal) -> Printout {
    let mut printout = Printout::new("metals", metal.trade_name().as_str());
    printout.words("key", "key", metal.key().as_str());
    let aliases: Vec<String> = metal.aliases().iter().map(ToString::to_string).collect();
    printout.text_only("also called", aliases.join(", "));
    printout.json_only("aliases", aliases);
    let density = metal.density();
    printout.figure("density", "density_g_cm3", density.value.g_cm3(), Unit::Density);
    printout.basis("density", density.basis);
    if let Ok(band) = metal.youngs_modulus() {
        let typical = band.typical().mpa();
        printout.figure("Young's modulus", "youngs_modulus_mpa", typical, Unit::Stress);
        printout.basis("Young's modulus", band.basis());
    }
    if let Ok(band) = metal.poisson_ratio() {
        printout.figure("Poisson's ratio", "poisson_ratio", band.typical(), Unit::Only(""));
    }
    if let Some(share) = metal.fine_share() {
        printout.figure("fine metal", "fine_share", share, Unit::Share);
    }
    if let Some(lender) = metal.strength_borrowed_from() {
        printout.words("strength as of", "strength_borrowed_from", lender.as_str());
    }
    add_tempers(&mut printout, metal);
    add_anneal(&mut printout, metal);
    if let Some(skin) = metal.skin_caution() {
        printout.caution(skin);
    }
    for line in linkwright_calc::cautions::for_metal(metal) {
        printout.caution(line.text);
    }
    printout
}

fn add_tempers(printout: &mut Printout, metal: &Metal) {
    let shown = |band: Option<&Band<Stress>>| {
        band.map_or_else(
            || "not known".to_owned(),
            |band| {
                let mpa =
                    [band.low(), band.typical(), band.high()].map(|s| significant(s.mpa(), 3));
                mpa.join(" / ")
            },
        )
    };
    let row = |temper: &Temper| {
        vec![
            temper.name().to_string(),
            shown(temper.flow_stress()),
            shown(temper.tensile_strength()),
        ]
    };
    if metal.tempers().is_empty() {
        printout.note("no temper is on record; measure a ring wound from it");
        return;
    }
    printout.table(Table {
        title: "Tempers: low / typical / high in MPa (1 ksi = 6.895 MPa)".to_owned(),
        headings: ["temper", "bending flow stress", "tensile strength"].map(str::to_owned).to_vec(),
        rows: metal.tempers().iter().map(row).collect(),
    });
    let tempers: Vec<Value> = metal.tempers().iter().map(temper_as_json).collect();
    printout.json_only("tempers", tempers);
}

fn temper_as_json(temper: &Temper) -> Value {
    json!({
        "name": temper.name().as_str(),
        "hardness": temper.hardness().word(),
        "flow_stress_mpa": temper.flow_stress().map(band_as_json),
        "tensile_strength_mpa": temper.tensile_strength().map(band_as_json),
        "yield_strength_mpa": temper.yield_strength().map(band_as_json),
        "strength_coefficient_mpa": temper.strength_coefficient().map(band_as_json),
        "hardening_exponent": temper.hardening_exponent().map(|band| band.typical()),
    })
}

fn band_as_json(band: &Band<Stress>) -> Value {
    json!({
        "low": band.low().mpa(),
        "typical": band.typical().mpa(),
        "high": band.high().mpa(),
        "source": band.source(),
        "verified": band.verified().to_string(),
    })
}

fn add_anneal(printout: &mut Printout, metal: &Metal) {
    let Some(anneal) = metal.anneal() else {
        return;
    };
    let fahrenheit = |celsius: f64| celsius * 1.8 + 32.0;
    let (low, high) = (anneal.temperature_c_low, anneal.temperature_c_high);
    printout.text_only(
        "anneal at",
        format!(
            "{low:.0} to {high:.0} deg C ({:.0} to {:.0} deg F); {}",
            fahrenheit(low),
            fahrenheit(high),
            anneal.visual_cue
        ),
    );
    printout.text_only("quench", anneal.quench);
    printout.json_only("anneal_c_low", low);
    printout.json_only("anneal_c_high", high);
    if !anneal.caution.is_empty() {
        printout.caution(anneal.caution);
    }
    printout.caution("heat and gas: ask your local rules and whoever is licensed for them");
}
