//! `try-next`: the test coils whose counts are worth most for what they cost.

use std::io::{self, Write};
use std::path::PathBuf;

use linkwright_answers::refusal::Refusal;
use linkwright_store::look;
use linkwright_trials::{Cell, CoilCost, CoilMoney, Learned, Outcome, Place, TestCoil, try_next};
use linkwright_web::record::{self, PlanOnRecord};
use serde_json::{Value, json};

use crate::commands::Output;
use crate::commands::chart::{SEED, rests_on, tables};
use crate::commands::pool::given_prior;
use crate::data_file::DataFile;
use crate::failure::Failure;
use crate::printout::{Printout, Table, both_lengths};

/// Turns of every size that are likely to be cut, where a table of cells is asked about.
const PLANNED_TURNS: f64 = 500.0;
/// Turns of the coils of a job.
const JOB_TURNS: u32 = 60;
/// A coil pays from this share of its turns on.
const PAYS_FROM: f64 = 0.5;
const TURNS_MOST: u32 = 1000;
const COILS_MOST: usize = 100;

/// What to try next: the test coils whose counts are worth most for what they cost.
///
/// Without tables the workshop's own data file is asked: its sizes, blades, prices, orders and
/// trials. With a table of cells (docs/trials-table.md) every wire and rod in it counts alike, its
/// lines for one wire and rod being the blades to choose from, and a coil is taken to pay from half
/// its turns on.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  linkwright try-next
  linkwright try-next --metal copper_c110 --temper annealed --json
  linkwright try-next --trials trials.csv --cells cells.csv --turns 20 --coils 10")]
pub struct Args {
    /// Trials, one coil a line.
    #[arg(long, value_name = "CSV", requires = "cells")]
    trials: Option<PathBuf>,
    /// Cells to choose among, one a line: the columns of a trial without its counts.
    #[arg(long, value_name = "CSV", conflicts_with_all = ["data", "metal", "temper"])]
    cells: Option<PathBuf>,
    /// What other workshops' trials taught, as `linkwright pool merge` writes it.
    #[arg(long, value_name = "JSON", requires = "cells")]
    prior: Option<PathBuf>,
    /// Turns of a test coil, with a table of cells.
    #[arg(long, default_value_t = 20, requires = "cells")]
    turns: u32,
    /// Test coils to plan, with a table of cells.
    #[arg(long, default_value_t = 10, requires = "cells")]
    coils: usize,
    /// Key of the metal in the data file; the most tried without it.
    #[arg(long, default_value = "", hide_default_value = true)]
    metal: String,
    /// Its temper; the most tried without it.
    #[arg(long, default_value = "", hide_default_value = true)]
    temper: String,
    #[command(flatten)]
    data: DataFile,
}

/// Answers for the tables, or for the data file.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let Some(cells) = &args.cells else {
        let plan = look(&args.data.path()?, |view| {
            Ok::<_, Failure>(record::to_try(view, &args.metal, &args.temper)?)
        })?;
        return of_record(&plan, output);
    };
    if !(1..=TURNS_MOST).contains(&args.turns) {
        let why = format!("it must be between 1 and {TURNS_MOST}");
        return Err(Refusal::bench("turns", args.turns, why).into());
    }
    if !(1..=COILS_MOST).contains(&args.coils) {
        let why = format!("it must be between 1 and {COILS_MOST}");
        return Err(Refusal::bench("coils", args.coils, why).into());
    }
    let (trials, cells) = tables(args.trials.as_deref(), cells)?;
    let prior = given_prior(args.prior.as_deref())?;
    let outcomes = Learned::fit(&trials, &prior.prior).outcomes(&cells, SEED);
    let (lines, places) = places(&cells, &outcomes);
    let plan = try_next(&places, args.turns, args.coils, SEED);
    let plan: Vec<(&Cell, &TestCoil)> =
        plan.iter().map(|coil| (&cells[lines[coil.place][coil.blade]], coil)).collect();
    match output {
        Output::Json => {
            writeln!(io::stdout(), "{}", as_json(&plan))?;
            Ok(())
        }
        Output::Text => {
            let mut printout = of_tables(args.turns, &plan);
            printout.note(rests_on(trials.len(), &prior));
            printout.note(format!(
                "Assumed: every wire and rod is cut alike, {PLANNED_TURNS} turns each; a coil pays \
                 from half its turns on. Worth and cost are in good rings."
            ));
            printout.print(output)
        }
    }
}

/// The lines of one wire and rod belong together: which lines, and what is at stake.
fn places(cells: &[Cell], outcomes: &[Outcome]) -> (Vec<Vec<usize>>, Vec<Place>) {
    let size = |cell: &Cell| {
        let key = cell.key();
        (key.wire_um, key.mandrel_um)
    };
    let mut lines: Vec<Vec<usize>> = Vec::new();
    for line in 0..cells.len() {
        match lines.iter_mut().find(|of| size(&cells[of[0]]) == size(&cells[line])) {
            Some(place) => place.push(line),
            None => lines.push(vec![line]),
        }
    }
    let cost = CoilCost { per_coil: 0.0, per_turn: PAYS_FROM, scrap_per_turn: 0.0 };
    let money = CoilMoney { ring_value: 1.0, cost, turns: JOB_TURNS };
    let places = lines.iter().map(|lines| Place {
        blades: lines.iter().map(|line| outcomes[*line].clone()).collect(),
        money,
        planned_turns: PLANNED_TURNS,
    });
    let places = places.collect();
    (lines, places)
}

fn as_json(plan: &[(&Cell, &TestCoil)]) -> Value {
    let coils: Vec<Value> = plan
        .iter()
        .map(|(cell, coil)| {
            json!({
                "wire_mm": cell.parts().wire.diameter().mm(),
                "mandrel_mm": cell.parts().mandrel.diameter().mm(),
                "blade": &*cell.parts().blade.name,
                "gain_good_rings": coil.gain,
                "cost_good_rings": coil.cost,
                "places_that_could_change": coil.could_change.len(),
                "worth_it": coil.is_worth_it(),
            })
        })
        .collect();
    json!({ "coils": coils })
}

fn of_tables(turns: u32, plan: &[(&Cell, &TestCoil)]) -> Printout {
    let rows = plan.iter().map(|(cell, coil)| {
        let parts = cell.parts();
        vec![
            both_lengths(parts.wire.diameter().mm()),
            both_lengths(parts.mandrel.diameter().mm()),
            parts.blade.name.to_string(),
            format!("{}", coil.could_change.len()),
            format!("{:.1} rings", coil.gain),
            format!("{:.1} rings", coil.cost),
            worth_it(coil.is_worth_it()),
        ]
    });
    table(
        format!("Test coils of {turns} turns"),
        ["wire", "rod", "blade", "places it could change", "worth", "costs", "worth it"],
        rows.collect(),
    )
}

fn of_record(plan: &PlanOnRecord, output: Output) -> Result<(), Failure> {
    if let Output::Json = output {
        let coils: Vec<Value> = plan
            .coils
            .iter()
            .map(|coil| {
                json!({
                    "wire": coil.wire,
                    "mandrel": coil.rod,
                    "blade": coil.blade,
                    "why": coil.why,
                    "worth": coil.worth,
                    "worth_it": coil.is_worth_it,
                })
            })
            .collect();
        writeln!(
            io::stdout(),
            "{}",
            json!({
                "metal": plan.metal, "temper": plan.temper, "turns": plan.turns, "coils": coils,
            })
        )?;
        return Ok(());
    }
    let rows = plan.coils.iter().map(|coil| {
        let why = format!("{}; {}", coil.why, coil.worth);
        vec![
            coil.wire.clone(),
            coil.rod.clone(),
            coil.blade.clone(),
            why,
            worth_it(coil.is_worth_it),
        ]
    });
    let title = format!("{}, {}: test coils of {} turns", plan.metal, plan.temper, plan.turns);
    let headings = ["wire", "rod", "blade", "why", "worth it"];
    let mut printout = table(title, headings, rows.collect());
    printout.note(format!("Weighed {}.", plan.weighed));
    printout.note(plan.basis.clone());
    printout.print(output)
}

fn table<const N: usize>(title: String, headings: [&str; N], rows: Vec<Vec<String>>) -> Printout {
    let mut printout = Printout::new("try-next", "What to try next");
    if rows.is_empty() {
        printout.note("Nothing here is worth a test: no coil could change the choice of a blade.");
        return printout;
    }
    let headings = headings.map(str::to_owned).to_vec();
    printout.table(Table { title, headings, rows });
    printout
}

fn worth_it(is_worth_it: bool) -> String {
    if is_worth_it { "yes" } else { "no longer" }.to_owned()
}
