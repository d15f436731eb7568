//! `chart` without tables: the blade chart of the workshop's own data file.

use std::io::{self, Write};

use linkwright_answers::chart::as_json;
use linkwright_store::look;
use linkwright_web::record::{self, CellOnRecord, ChartOnRecord};
use serde_json::{Value, json};

use super::chart::{Args, share, tried};
use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Table, both_lengths};

pub(super) fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let chart = look(&args.data.path()?, |view| {
        Ok::<_, Failure>(record::chart(view, &args.metal, &args.temper)?)
    })?;
    match output {
        Output::Json => {
            writeln!(io::stdout(), "{}", in_json(&chart))?;
            Ok(())
        }
        Output::Text => printout(&chart).print(output),
    }
}

/// Every figure of a cell, those of a table of cells first.
fn in_json(chart: &ChartOnRecord) -> Value {
    let beliefs: Vec<_> = chart.cells.iter().map(|cell| cell.belief).collect();
    let mut answer = as_json(&beliefs);
    if let Some(cells) = answer["cells"].as_array_mut() {
        for (value, cell) in cells.iter_mut().zip(&chart.cells) {
            let parts = cell.cell.parts();
            value["wire_mm"] = json!(parts.wire.diameter().mm());
            value["mandrel_mm"] = json!(parts.mandrel.diameter().mm());
            value["blade"] = json!(cell.blade);
            value["choice"] = json!(cell.is_choice);
            value["p_best"] = json!(cell.chance_best);
            value["cost_per_good_ring"] = json!(cell.ring_cost);
        }
    }
    answer["metal"] = json!(chart.metal);
    answer["temper"] = json!(chart.temper);
    answer["trials"] = json!(chart.trials);
    answer["basis"] = json!(chart.basis);
    answer
}

fn printout(chart: &ChartOnRecord) -> Printout {
    let mut printout = Printout::new("chart", "Blade chart");
    let row = |cell: &CellOnRecord| {
        let parts = cell.cell.parts();
        vec![
            both_lengths(parts.wire.diameter().mm()),
            both_lengths(parts.mandrel.diameter().mm()),
            cell.blade.clone(),
            share(&cell.belief),
            if cell.is_choice { "use" } else { "" }.to_owned(),
            tried(&cell.belief),
        ]
    };
    let headings = ["wire", "rod", "blade", "good share, 80 % band", "choice", "tried here"];
    printout.table(Table {
        title: format!("{}, {}", chart.metal, chart.temper),
        headings: headings.map(str::to_owned).to_vec(),
        rows: chart.cells.iter().map(row).collect(),
    });
    printout.note(match chart.trials {
        0 => "no trial is on record: this is geometry alone, with wide bands".to_owned(),
        trials => format!("worked out from geometry and {trials} trials"),
    });
    printout.note("Where no blade is marked for a wire and rod, do not cut it: none pays.");
    printout.note(chart.basis.clone());
    printout
}
