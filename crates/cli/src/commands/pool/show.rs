//! `pool show`: what is in a file that workshops share.

use std::path::PathBuf;

use linkwright_answers::pool::{
    PoolFileError, PortablePrior, gate_name, read_prior, read_workshop, term_in_words, term_name,
};
use linkwright_trials::{Condensed, GATES, Gate, Prior, Term};
use serde_json::{Map, Value, json};

use super::file::{bytes, refused};
use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Table};

/// Show what a prior, or a condensed file, is made of.
///
/// Weights are log odds: 0.7 more doubles the odds that a ring passes. Behind the ± stands one
/// standard deviation.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  linkwright pool show prior.json
  linkwright pool show prior.json --json")]
pub(super) struct Args {
    /// A prior, or a condensed file.
    #[arg(value_name = "JSON")]
    file: PathBuf,
}

pub(super) fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let bytes = bytes(&args.file)?;
    let shown = match read_prior(&bytes) {
        Ok(portable) => prior(&portable),
        Err(PoolFileError::OtherFormat { .. }) => {
            workshop(&read_workshop(&bytes).map_err(|error| refused(&args.file, &error))?)
        }
        Err(error) => return Err(refused(&args.file, &error)),
    };
    shown.print(output)
}

fn prior(portable: &PortablePrior) -> Printout {
    let mut printout = Printout::new("pool show", "A prior: believed before the first trial");
    printout.words("kind", "kind", "prior");
    printout.text_only("learned from", portable.in_words());
    printout.json_only("workshops", portable.workshops);
    printout.json_only("trials", portable.trials);
    let geometry = Prior::geometry();
    let mut gates = Map::new();
    for gate in GATES {
        // The spread of a wave goes with the departure; shown at the one believed most.
        let departure = |prior: &Prior| prior.gates[gate.index()].ln_departure.mean.exp();
        let believed = |prior: &Prior, term: &Term| {
            let term = prior.term(gate, term)?;
            Some([term.mean(), term.sd(departure(prior))])
        };
        let terms: Vec<(&Term, [f64; 2], [f64; 2])> = portable.prior.gates[gate.index()]
            .learned
            .keys()
            .filter_map(|term| {
                Some((term, believed(&geometry, term)?, believed(&portable.prior, term)?))
            })
            .collect();
        let rows = terms.iter().filter(|(term, ..)| !matches!(term, Term::Smooth(_)));
        printout.table(Table {
            title: in_words(gate).to_owned(),
            headings: ["weight", "geometry alone", "with these workshops"]
                .map(str::to_owned)
                .to_vec(),
            rows: rows
                .map(|(term, before, now)| vec![term_in_words(term), bell(*before), bell(*now)])
                .collect(),
        });
        let as_json = |(term, before, now): &(&Term, [f64; 2], [f64; 2])| {
            json!({
                "term": term_name(term),
                "geometry": { "mean": before[0], "sd": before[1] },
                "pooled": { "mean": now[0], "sd": now[1] },
            })
        };
        gates.insert(gate_name(gate).to_owned(), terms.iter().map(as_json).collect());
    }
    printout.json_only("gates", Value::Object(gates));
    printout.note("The waves that let the odds depart smoothly from geometry over the sizes are in the JSON. Losses at the ends of a coil are not pooled.");
    printout
}

fn workshop(condensed: &Condensed) -> Printout {
    let mut printout = Printout::new("pool show", "One workshop's trials, condensed");
    printout.words("kind", "kind", "condensed workshop");
    printout.json_only("trials", condensed.trials());
    printout.json_only("cells", condensed.cells());
    printout.text_only(
        "learned from",
        format!("{} coils of {} sizes and blades", condensed.trials(), condensed.cells()),
    );
    let metals: Vec<String> = condensed
        .gate(Gate::Kept)
        .terms()
        .iter()
        .filter_map(|term| match term {
            Term::Metal(key) => Some(key.to_string()),
            _ => None,
        })
        .collect();
    let named = if metals.is_empty() { "none".to_owned() } else { metals.join(", ") };
    printout.text_only("metals named", named);
    printout.json_only("metals", metals);
    printout
}

fn in_words(gate: Gate) -> &'static str {
    match gate {
        Gate::Kept => "Held by the clamp, neither crushed nor flung",
        Gate::Severed => "Cut right through",
        Gate::Round => "Neither nicked nor bent",
    }
}

fn bell([mean, sd]: [f64; 2]) -> String {
    format!("{mean:.2} ± {sd:.2}")
}
