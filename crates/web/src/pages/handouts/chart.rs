//! The wall chart: the best-tried blade for each wire and rod, good of tried.

use linkwright_answers::printout::inches_and_gauge;
use linkwright_calc::quantity::Length;
use linkwright_store::View;

use super::sheet::{Made, Sheet, Table};
use crate::error::PageError;

pub(super) fn made(view: &View<'_>) -> Result<Made, PageError> {
    let best = view.best_tried(None)?;
    let rod = |mm: &f64| format!("rod {mm:.2} mm, {:.3} in", Length::from_mm(*mm).inches());
    let row = |(wire, wire_mm): (usize, &f64)| {
        let cells = (0..best.rods_mm.len()).map(|rod| {
            let first = best.cell(wire, rod).and_then(|cell| cell.blades.first());
            first.map_or_else(
                || "not tried".to_owned(),
                |blade| {
                    let few = if blade.is_few() { ", few trials" } else { "" };
                    format!("{}: {}{few}, last {}", blade.blade, blade.counted(), blade.last)
                },
            )
        });
        [wire_name(Length::from_mm(*wire_mm))].into_iter().chain(cells).collect()
    };
    let head = ["wire".to_owned()].into_iter().chain(best.rods_mm.iter().map(rod)).collect();
    let rows = best.wires_mm.iter().enumerate().map(row).collect();
    let table = Table { caption: "Blade, good of tried".to_owned(), head, rows };
    Ok(Made {
        title: "Best-tried blades".to_owned(),
        trials: best.trials,
        sheet: Sheet {
            lead: vec![
                "What was tried here with these tools; another bench may differ. Few trials are a \
                 beginning, not a rule."
                    .to_owned(),
            ],
            tables: vec![table],
            ..Sheet::default()
        },
        chart: None,
    })
}

/// The wire in both systems, short enough for the edge of a chart.
fn wire_name(wire: Length) -> String {
    format!("{:.2} mm, {}", wire.mm(), inches_and_gauge(wire))
}
