//! The learned blade chart as a version: its words for the page, the chart itself for the files.

use linkwright_answers::published::PublishedChart;
use linkwright_store::View;

use super::sheet::{List, Made, Sheet, Table};
use crate::error::PageError;
use crate::pages::chart::publish::published;
use crate::state::App;

/// A new version of the chart of one metal and temper.
pub(super) fn made(
    app: &App,
    view: &View<'_>,
    metal: &str,
    temper: &str,
) -> Result<Made, PageError> {
    let taught = app.taught_by_all(view)?;
    let date = app.clock().today().to_string();
    let chart = published(view, &taught, [metal, temper], date)?;
    Ok(Made {
        title: chart.title(),
        trials: chart.trials,
        sheet: words(&chart),
        chart: Some(chart),
    })
}

/// The words of the page.
fn words(chart: &PublishedChart) -> Sheet {
    let head = std::iter::once("wire".to_owned());
    let head = head.chain(chart.rods.iter().map(|rod| format!("rod {rod}"))).collect();
    let rows = chart.rows.iter().map(|row| {
        let places = row.places.iter().map(|place| {
            place.as_ref().map_or_else(
                || "not known".to_owned(),
                |place| {
                    let (outlook, advice) = (place.outlook().words(), place.advice());
                    format!("{advice}: {outlook}; {}; {}", place.share(), place.tried())
                },
            )
        });
        std::iter::once(format!("{}, {}", row.wire, row.also)).chain(places).collect()
    });
    Sheet {
        lead: vec![chart.rests_on(), PublishedChart::how_to_read().to_owned()],
        tables: vec![Table {
            caption: "The blade to use, wire by rod".to_owned(),
            head,
            rows: rows.collect(),
        }],
        lists: vec![List {
            heading: "Before you cut".to_owned(),
            lines: PublishedChart::cautions().into_iter().map(str::to_owned).collect(),
        }],
        ..Sheet::default()
    }
}
