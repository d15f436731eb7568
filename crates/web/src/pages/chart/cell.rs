//! One cell of the chart: every blade, the geometry to scale, and why the model believes it.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_answers::printout::both_lengths;
use linkwright_answers::run_sheet::figures::{EndView, ratio};
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::quantity::Length;
use linkwright_trials::{Features, features};

use super::asked::Asked;
use super::believed::Believed;
use super::bench::{ChartBench, RODS_MM, WIRES_MM};
use super::decided::{Decided, decided};
use super::others::with_others;
use super::promise::{Promise, Wanted};
use super::reasons::{Reason, reasons};
use super::told::{money, what_to_do};
use crate::error::PageError;
use crate::frame::Frame;
use crate::learning::Taught;
use crate::planning::metal_name;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/chart/cell.html")]
struct CellPage {
    frame: Frame,
    wire: String,
    /// The wire in millimetres, inches and both gauges.
    gauges: String,
    rod: String,
    metal: String,
    temper: String,
    back: String,
    trials: String,
    here: Arc<Here>,
    coils: usize,
    notes: Vec<String>,
    basis: String,
    is_priced: bool,
    others: String,
    promise: Promise,
}

/// What stands in a cell, whatever is asked about coils of it.
struct Here {
    /// What to do here, in sentences.
    decision: Vec<String>,
    blades: Vec<BladeHere>,
}

/// One blade in this cell.
struct BladeHere {
    believed: Believed,
    /// What it costs and brings, in words.
    money: Vec<String>,
    sizes: String,
    /// How far the blade passes the near wall and stays off the far one, in words.
    margins: Vec<String>,
    /// The drawing and its scale, where there is clearance to draw.
    drawing: Option<(String, String)>,
    reasons: Vec<Reason>,
}

pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
    Query(wanted): Query<Wanted>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let wire_mm = size("wire", &asked.wire, WIRES_MM)?;
    let rod_mm = size("rod", &asked.rod, RODS_MM)?;
    let page = app
        .read(move |view| {
            let taught = at.taught(view)?;
            let bench = ChartBench::of(view, &taught, &asked)?;
            let frame = Frame::of(&at, view, "chart")?;
            let name = format!(
                "cell of the chart: {} {} {wire_mm} {rod_mm} by lessons {}",
                bench.metal, bench.temper, taught.number
            );
            let here = view.worked_out(&name, || Here::of(&bench, &taught, (wire_mm, rod_mm)))?;
            Ok(CellPage {
                frame,
                wire: both_lengths(wire_mm),
                gauges: in_both_systems(Length::from_mm(wire_mm)).to_string(),
                rod: both_lengths(rod_mm),
                metal: metal_name(&bench.metals, &bench.metal),
                back: format!(
                    "/chart?metal={}&temper={}",
                    crate::pages::rings::in_address(&bench.metal),
                    crate::pages::rings::in_address(&bench.temper)
                ),
                temper: bench.temper.clone(),
                trials: format!("/trials?wire={wire_mm:.4}+mm&rod={rod_mm:.4}+mm"),
                basis: bench.pricing.basis(&bench.metal),
                is_priced: bench.pricing.is_said(),
                promise: Promise::of(view, &taught, &bench, (wire_mm, rod_mm), &wanted)?,
                here,
                coils: taught.lessons.coils.len(),
                notes: taught.notes(),
                others: with_others(&taught.others),
            })
        })
        .await?;
    Ok(Html(page.render()?))
}

impl Here {
    fn of(bench: &ChartBench, taught: &Taught, size: (f64, f64)) -> Result<Here, PageError> {
        let Some(decided) = decided(bench, taught, &[size]).into_iter().flatten().next() else {
            return Err(PageError::NotFound { what: "cell of the chart for these sizes" });
        };
        let mut blades = blades(bench, taught, &decided);
        blades.sort_by(|a, b| b.believed.by_share(&a.believed));
        Ok(Here { decision: what_to_do(bench, &decided), blades })
    }
}

/// A size as it stands in the address, on the chart.
fn size(what: &str, typed: &str, [low, high]: [f64; 2]) -> Result<f64, PageError> {
    let number = typed.parse::<f64>().ok().filter(|mm| mm.is_finite() && *mm > 0.0);
    let mm = number.ok_or_else(|| {
        PageError::Unreadable(format!(
            "{what} is \"{typed}\"; it must be a size in mm, such as 1.02"
        ))
    })?;
    if (low..=high).contains(&mm) {
        return Ok(mm);
    }
    Err(PageError::Nowhere(format!(
        "{what} is {typed} mm; the chart goes from {} to {}",
        both_lengths(low),
        both_lengths(high)
    )))
}

fn blades(bench: &ChartBench, taught: &Taught, decided: &Decided) -> Vec<BladeHere> {
    let here = bench.kinds.iter().zip(&decided.beliefs).zip(&decided.decision.blades);
    here.filter_map(|((kind, belief), worth)| {
        let cell = bench.cell(decided.wire_mm, decided.rod_mm, kind)?;
        let geometry = features(&cell);
        let blade = kind.blade.blade;
        let kerf_mm = blade.kerf().width().mm();
        let drawing = EndView::of_cell(decided.wire_mm, decided.rod_mm, kerf_mm, geometry.depth_mm)
            .map(|drawing| (drawing.svg(), ratio(drawing.scale())));
        Some(BladeHere {
            believed: Believed::of(&kind.called, belief),
            money: money(bench, decided, worth),
            sizes: format!(
                "{} across, kerf {}, {}",
                both_lengths(blade.diameter().mm()),
                both_lengths(kerf_mm),
                blade.teeth().map_or_else(
                    || "teeth not counted".to_owned(),
                    |teeth| format!("{teeth} teeth")
                )
            ),
            margins: margins(&geometry),
            drawing,
            reasons: reasons(&taught.learned.explain(&cell), taught.others.workshops > 0),
        })
    })
    .collect()
}

/// What the depth of the blade means for both walls of a coil on its rod.
fn margins(geometry: &Features) -> Vec<String> {
    let Features { depth_mm, sever_margin_mm: past_mm, far_margin_mm: off_mm, .. } = *geometry;
    vec![
        format!("reaches {} below the top of the coil", both_lengths(depth_mm)),
        if past_mm >= 0.0 {
            format!("past the near wall by {}", both_lengths(past_mm))
        } else {
            format!("short of cutting through by {}", both_lengths(-past_mm))
        },
        if off_mm >= 0.0 {
            format!("off the far wall by {}", both_lengths(off_mm))
        } else {
            format!("into the far wall by {}", both_lengths(-off_mm))
        },
    ]
}
