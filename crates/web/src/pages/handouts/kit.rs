//! The sheet of a class kit: what is in it, what it weighs, how its rings were made, its labels.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::cautions::{Step, for_step};
use linkwright_calc::plan::RunSheet;
use linkwright_store::records::OrderLine;
use linkwright_store::{Id, View};

use super::sheet::{List, Made, Sheet, Table};
use crate::error::PageError;
use crate::learning::Taught;
use crate::planning::plan_order;

pub(super) fn made(
    view: &View<'_>,
    taught: &Taught,
    line: Id<OrderLine>,
) -> Result<Made, PageError> {
    let line = view.get(line)?;
    let planned = plan_order(view, taught, line.order_id)??;
    let sheet = planned.plan.sheets.iter().find(|sheet| sheet.line.name == line.name);
    let sheet = sheet.and_then(of_line).ok_or(PageError::NotFound { what: "line of kits" })?;
    Ok(Made { title: format!("Class kit: {}", line.name), trials: 0, sheet, chart: None })
}

/// The words of a planned line of kits; none if it asks for something else.
fn of_line(sheet: &RunSheet) -> Option<Sheet> {
    let kits = sheet.to_make.kits?;
    let metal = format!("{}, {}", sheet.metal.name, sheet.metal.temper);
    let wire = both_lengths(sheet.wire.value.diameter().mm());
    let closed = both_lengths(sheet.ring.ring.closed_inside().mm());
    let mass = format!("{:.2} g", kits.mass.g());
    let row =
        |name: &str, value: String, basis: &str| vec![name.to_owned(), value, basis.to_owned()];
    let one_ring = format!("{:.2} %", 100.0 * kits.one_ring_share);
    let weighing = match kits.scale_step_max {
        Some(step) => format!(
            "One ring is {one_ring} of a kit: a scale with steps up to {:.2} g shows a missing ring.",
            step.g()
        ),
        None => {
            "The rings differ so much that no scale shows a missing one: count them.".to_owned()
        }
    };
    let labels = (1..=kits.kits).map(|number| {
        vec![
            format!("Kit {number} of {}", kits.kits),
            sheet.line.name.clone(),
            format!("{} rings, {mass} without the bag", kits.rings_each),
            metal.clone(),
            format!("wire {wire}"),
            format!("inside, closed {closed}"),
        ]
    });
    let finishing = for_step(Step::Finishing).iter().map(|line| line.text.to_owned());
    Some(Sheet {
        lead: vec![weighing],
        keys: vec![
            ["Kits".to_owned(), kits.kits.to_string(), "one for each bag".to_owned()],
            [
                "Rings in each".to_owned(),
                kits.rings_each.to_string(),
                "spare rings included".to_owned(),
            ],
            ["One kit weighs".to_owned(), mass.clone(), "worked out".to_owned()],
        ],
        tables: vec![Table {
            caption: "The rings".to_owned(),
            head: vec!["what".to_owned(), "value".to_owned(), "rests on".to_owned()],
            rows: vec![
                row("metal", metal.clone(), "as ordered"),
                row("wire", wire.clone(), sheet.wire.basis.word()),
                row(
                    "inside, open",
                    both_lengths(sheet.ring.open_inside.value.mm()),
                    sheet.ring.open_inside.basis.word(),
                ),
                row("inside, closed", closed.clone(), "worked out"),
                row(
                    "aspect ratio, closed",
                    format!("{:.2}", sheet.ring.ring.aspect_ratio()),
                    "worked out",
                ),
                row("one ring", format!("{:.4} g", sheet.ring.mass.g()), "worked out"),
            ],
        }],
        lists: vec![List {
            heading: Step::Finishing.heading().to_owned(),
            lines: finishing.collect(),
        }],
        labels: labels.collect(),
        ..Sheet::default()
    })
}
