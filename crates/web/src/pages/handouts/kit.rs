//! The sheet of a class kit: what is in it, what it weighs, how its rings were made, its labels.

use linkwright_answers::chain::name_of_size;
use linkwright_answers::printout::both_lengths;
use linkwright_calc::cautions::{Step, for_step};
use linkwright_calc::plan::RunSheet;
use linkwright_store::records::{FurtherRing, OrderLine};
use linkwright_store::{Id, View};

use super::sheet::{List, Made, Sheet, Table};
use crate::error::PageError;
use crate::learning::Taught;
use crate::planning::plan_order;

pub(super) fn made(view: &View<'_>, taught: &Taught, id: Id<OrderLine>) -> Result<Made, PageError> {
    let line = view.get(id)?;
    let planned = plan_order(view, taught, line.order_id)??;
    let further = view.further_of::<FurtherRing>(id)?;
    let sizes = std::iter::once(1).chain(further.iter().map(|ring| ring.record.size as usize));
    let sheets = sizes.map(|size| planned.sheet(&name_of_size(&line.name, size)).and_then(of_line));
    let sheets: Option<Vec<Sheet>> = sheets.collect();
    let sheet = sheets.and_then(in_one).ok_or(PageError::NotFound { what: "line of kits" })?;
    Ok(Made { title: format!("Class kit: {}", line.name), trials: 0, sheet, chart: None })
}

/// One sheet for all ring sizes of a kit: each has its weight, its table and its labels.
fn in_one(sheets: Vec<Sheet>) -> Option<Sheet> {
    let several = sheets.len() > 1;
    let mut numbered = (1..).zip(sheets);
    let (_, mut whole) = numbered.next()?;
    let call = |sheet: &mut Sheet, number: usize| {
        let size = format!("ring size {number}");
        sheet.lead.iter_mut().for_each(|line| *line = format!("{size}: {line}"));
        sheet.keys.iter_mut().skip(1).for_each(|key| key[0] = format!("{}, {size}", key[0]));
        sheet
            .tables
            .iter_mut()
            .for_each(|table| table.caption = format!("{}, {size}", table.caption));
    };
    if several {
        call(&mut whole, 1);
    }
    for (number, mut sheet) in numbered {
        call(&mut sheet, number);
        whole.lead.append(&mut sheet.lead);
        // The count of kits is the same for all.
        whole.keys.extend(sheet.keys.into_iter().skip(1));
        whole.tables.append(&mut sheet.tables);
        whole.labels.append(&mut sheet.labels);
    }
    Some(whole)
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
