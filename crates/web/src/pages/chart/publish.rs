//! The chart as others may see it: no costs, no names of people.

use linkwright_answers::printout::{SIZE_PLACES, inches_and_gauge, short_mm};
use linkwright_answers::published::{Place, PublishedChart, Row};
use linkwright_calc::quantity::Length;
use linkwright_store::View;
use linkwright_store::records::Handout;

use super::asked::Asked;
use super::bench::ChartBench;
use super::decided::{Decided, whole_chart};
use crate::error::PageError;
use crate::learning::{Kept, Taught};
use crate::planning::metal_name;

/// The word the versions of this sheet are kept under.
pub(crate) const KIND: &str = "blade-chart";

/// The chart of one metal and temper ("" for the most tried), a draft until it is kept as a version.
pub(crate) fn published(
    view: &View<'_>,
    taught: &Taught,
    [metal, temper]: [&str; 2],
    date: String,
) -> Result<PublishedChart, PageError> {
    let asked = Asked { metal: metal.to_owned(), temper: temper.to_owned(), ..Asked::default() };
    let bench = ChartBench::of(view, taught, &asked)?;
    if bench.axis.is_none() || bench.kinds.is_empty() {
        return Err(PageError::Unreadable(
            "there is no chart to publish yet: it needs a blade in use and its projection measured with a holder"
                .to_owned(),
        ));
    }
    let places = whole_chart(view, &bench, taught)?;
    let mut chart = PublishedChart {
        metal: metal_name(&bench.metals, &bench.metal),
        metal_key: bench.metal.clone(),
        temper: bench.temper.replace('_', " "),
        date,
        version: String::new(),
        trials: u32::try_from(taught.lessons.coils.len()).unwrap_or(u32::MAX),
        others: if taught.others.workshops == 0 { String::new() } else { taught.others.in_words() },
        rods: bench.rods_mm.iter().map(|mm| rod(*mm)).collect(),
        rows: bench
            .wires_mm
            .iter()
            .zip(places.chunks(bench.rods_mm.len().max(1)))
            .map(|(wire_mm, places)| row(&bench, *wire_mm, places))
            .collect(),
    };
    chart.version = match view.last_version(KIND, &chart.title())? {
        0 => "Draft".to_owned(),
        last => format!("Draft after version {last}"),
    };
    Ok(chart)
}

/// "2.5 mm (0.0984 in)".
fn rod(mm: f64) -> String {
    format!("{} ({:.4} in)", short_mm(mm, SIZE_PLACES), Length::from_mm(mm).inches())
}

fn row(bench: &ChartBench, wire_mm: f64, places: &[Option<Decided>]) -> Row {
    Row {
        wire: short_mm(wire_mm, SIZE_PLACES),
        also: inches_and_gauge(Length::from_mm(wire_mm)),
        places: places.iter().map(|decided| place(bench, decided.as_ref()?)).collect(),
    }
}

fn place(bench: &ChartBench, decided: &Decided) -> Option<Place> {
    let kind = decided.spoken_of();
    let (blade, belief) = (&bench.kinds[kind], &decided.beliefs[kind]);
    let cell = bench.cell(decided.wire_mm, decided.rod_mm, blade)?;
    let measures = blade.blade.blade;
    Some(Place {
        wire_mm: decided.wire_mm,
        mandrel_mm: decided.rod_mm,
        blade: blade.called.clone(),
        blade_dia_mm: measures.diameter().mm(),
        blade_kerf_mm: measures.kerf().width().mm(),
        blade_teeth: measures.teeth(),
        axis_height_mm: cell.parts().axis.height().mm(),
        yield_mpa: cell.parts().yield_strength.mpa(),
        cut: decided.decision.choice.is_some(),
        good_share: belief.good_share_mean,
        good_share_80: belief.good_share_80,
        chance_of_90: belief.chance_of_90,
        trials_here: belief.trials_here,
    })
}

/// The chart as it stands, for whoever is not a browser: a draft after the last version.
///
/// # Errors
/// In words: there is no chart yet, or the file cannot be read.
pub fn blade_chart(
    view: &View<'_>,
    metal: &str,
    temper: &str,
    date: String,
) -> Result<PublishedChart, String> {
    let made = || {
        let taught = Kept::default().learned_now(view)?;
        published(view, &taught, [metal, temper], date)
    };
    made().map_err(|error| match error {
        PageError::Inside(source) => source.to_string(),
        other => other.to_string(),
    })
}

/// The chart that a kept version holds; nothing if it is a version of another sheet.
pub(crate) fn kept(handout: &Handout) -> Option<PublishedChart> {
    let content: serde_json::Value = serde_json::from_str(&handout.content).ok()?;
    serde_json::from_value(content.get("chart")?.clone()).ok()
}
