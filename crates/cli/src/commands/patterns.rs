//! `patterns check`: whether a pattern file stands, and what its chain is.

use std::path::PathBuf;

use linkwright_answers::files::load::LoadError;
use linkwright_answers::pattern::{OrderSearch, OwnPattern};
use linkwright_linkage::answer::{Ground, Linked, answer};
use linkwright_linkage::pattern::Kind;
use linkwright_linkage::pattern::order::Order;
use linkwright_linkage::solve::{Patient, Search};
use serde_json::{Value, json};

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Table, Unit, both_lengths, significant};
use linkwright_answers::refusal::Refusal;

/// Patterns of linked rings that you describe yourself, in a file.
///
/// Examples:
///   linkwright patterns check examples/large-and-steps.toml
///   linkwright patterns check examples/skipping-rope.toml --json
///
/// docs/pattern-file.md tells how to write one.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    /// Does it stand? Its links, the smallest aspect ratio, its length pulled taut.
    Check {
        /// The pattern file (TOML).
        file: PathBuf,
    },
}

/// What is to be checked.
struct Plan {
    own: OwnPattern,
}

/// Answers what a pattern file describes.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = Plan::new(args)?;
    let linked = answer(&plan.own.pattern, &plan.own.rings, Search::default(), &mut Patient);
    let linked = linked.map_err(|error| Refusal::bench("ring_size", Value::Null, error))?;
    told(&plan.own, &linked).print(output)
}

impl Plan {
    fn new(args: &Args) -> Result<Plan, Failure> {
        let What::Check { file } = &args.what;
        Ok(Plan { own: OwnPattern::load(file).map_err(LoadError::File)? })
    }
}

fn told(own: &OwnPattern, linked: &Linked) -> Printout {
    let spec = own.pattern.spec();
    let mut printout = Printout::new("patterns_check", format!("{}: it stands", spec.title));
    printout.words("Pattern", "pattern", spec.name.as_str());
    printout.words("Kind", "kind", kind_word(own.pattern.kind()));
    if !spec.linking.is_empty() {
        printout.words("Linking", "linking", spec.linking.as_str());
    }
    let rings = u32::try_from(spec.rings.len()).unwrap_or(u32::MAX);
    printout.count("Rings a repeat", "rings_per_cell", rings, "rings");
    let links = u32::try_from(spec.links.len()).unwrap_or(u32::MAX);
    printout.count("Links a repeat", "links_per_cell", links, "links");
    limit(&mut printout, linked);
    length(&mut printout, own, linked);
    if let Some(search) = &own.search {
        found(&mut printout, search);
    }
    linking(&mut printout, own);
    printout.basis("smallest aspect ratio and length", linked.basis());
    printout.cautions(&linked.cautions());
    printout
}

const fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Chain => "chain",
        Kind::Sheet => "sheet",
        Kind::Cluster => "piece that does not repeat",
    }
}

fn limit(printout: &mut Printout, linked: &Linked) {
    let least = linked.aspect_ratio_min;
    let ground = match linked.limit_ground {
        Ground::Solved { starts, hits } => format!("solved, {hits} of {starts} climbs agree"),
        Ground::BestFound { starts, hits } => {
            format!("best found, {hits} of {starts} climbs met it")
        }
        _ => "found".to_owned(),
    };
    printout.json_only("aspect_ratio_min", least);
    printout.text_only("Smallest aspect ratio", format!("{} ({ground})", significant(least, 4)));
    printout.json_only("aspect_ratio", linked.aspect_ratio);
    printout.json_only("possible", linked.possible());
    let with = significant(linked.aspect_ratio, 4);
    let spare = both_lengths(linked.inside_to_spare.mm().abs());
    printout.text_only(
        "With the file's rings",
        if linked.possible() {
            format!("possible: aspect ratio {with}, {spare} of inside diameter to spare")
        } else {
            format!("not possible: aspect ratio {with}, {spare} of inside diameter missing")
        },
    );
}

fn length(printout: &mut Printout, own: &OwnPattern, linked: &Linked) {
    let Some(taut) = &linked.taut else {
        return;
    };
    printout.figure("A repeat, pulled taut", "advance_mm", taut.advance.mm(), Unit::Length);
    if let Some(across) = taut.across {
        printout.figure("From row to row", "across_mm", across.mm(), Unit::Length);
    }
    let wire_mm = own.rings.first().map_or(1.0, |ring| ring.wire().diameter().mm());
    printout.json_only("advance_in_wires", taut.advance.mm() / wire_mm);
    printout.json_only("within", taut.within);
    if let Some(per_cm) = linked.rings_per_cm() {
        printout.json_only("rings_per_cm", per_cm);
        printout.text_only("Rings per cm", significant(per_cm, 4));
    }
    if let Some(per_cm2) = linked.rings_per_cm2() {
        printout.json_only("rings_per_cm2", per_cm2);
        printout.text_only("Rings per cm2", significant(per_cm2, 4));
    }
}

fn found(printout: &mut Printout, search: &OrderSearch) {
    let OrderSearch { chains, taken, tries, met, .. } = search;
    let list: Vec<Value> = chains
        .iter()
        .map(|chain| json!({ "aspect_ratio_min": chain.aspect_ratio_min, "times": chain.times }))
        .collect();
    printout.json_only(
        "search",
        json!({ "tries": tries, "met": met, "chains": list, "taken": taken + 1 }),
    );
    printout.text_only("Looked for", search.told());
    if chains.len() == 1 {
        printout.text_only("Chains found", "one");
        return;
    }
    printout.table(Table {
        title: "Different chains have these links; the one that needs the loosest rings first"
            .to_owned(),
        headings: ["which", "smallest aspect ratio", "times met", ""].map(str::to_owned).to_vec(),
        rows: chains
            .iter()
            .enumerate()
            .map(|(index, chain)| {
                vec![
                    (index + 1).to_string(),
                    significant(chain.aspect_ratio_min, 4),
                    chain.times.to_string(),
                    if index == *taken { "taken".to_owned() } else { String::new() },
                ]
            })
            .collect(),
    });
    printout.caution(
        "The order of linking alone does not say which of these chains is meant. Rings that suit the \
         first suit all; take another with which = 2 in the file, or give rough places.",
    );
}

fn linking(printout: &mut Printout, own: &OwnPattern) {
    let order = Order::of(&own.pattern);
    let name = |ring: usize| own.ring_names.get(ring).map_or("", String::as_str);
    let steps: Vec<Value> = order
        .steps()
        .iter()
        .enumerate()
        .map(|(at, step)| {
            let through: Vec<Value> = step
                .through
                .iter()
                .map(|t| {
                    let from = if t.sign > 0 { "back" } else { "front" };
                    json!({ "ring": name(t.ring), "back": t.back, "from": from })
                })
                .collect();
            json!({ "ring": name(step.ring), "through": through, "sentence": order.sentence(at) })
        })
        .collect();
    printout.json_only("order", steps);
    printout.table(Table {
        title: "Order of linking, once a repeat is there".to_owned(),
        headings: ["name", "how"].map(str::to_owned).to_vec(),
        rows: order
            .steps()
            .iter()
            .enumerate()
            .map(|(at, step)| vec![name(step.ring).to_owned(), order.sentence(at)])
            .collect(),
    });
}
