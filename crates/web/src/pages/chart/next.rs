//! What to try next: ten test coils, the most telling first, with boxes for a pencil.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_answers::printout::both_lengths;
use linkwright_calc::cautions::{Step, for_step};
use linkwright_store::{StoreError, View};
use linkwright_trials::{TestCoil, try_next};

use super::asked::Asked;
use super::bench::ChartBench;
use super::decided::{all_sizes, at_stake};
use super::planned::PlannedTurns;
use crate::error::PageError;
use crate::frame::Frame;
use crate::learning::{SEED, Taught};
use crate::planning::metal_name;
use crate::state::App;

/// Turns of a test coil: enough to tell, short enough to spare.
pub(super) const TEST_TURNS: u32 = 20;
/// Test coils of a plan.
const COILS: usize = 10;

#[derive(Template)]
#[template(path = "pages/chart/next.html")]
struct NextPage {
    frame: Frame,
    metal: String,
    temper: String,
    back: String,
    measured: bool,
    turns: u32,
    coils: Vec<ToTry>,
    /// How many of them bring more than they cost.
    worth_it: usize,
    weighed: &'static str,
    basis: String,
    is_priced: bool,
    cautions: Vec<&'static str>,
}

/// One test coil in words.
#[derive(Clone, Debug)]
pub struct ToTry {
    /// The wire, in both systems.
    pub wire: String,
    /// The rod, in both systems.
    pub rod: String,
    /// What the workshop calls the blade.
    pub blade: String,
    /// The page of its cell.
    pub(crate) address: String,
    /// Such as "could change the blade in 4 places".
    pub why: String,
    /// What knowing is worth over a year, and what the coil costs.
    pub worth: String,
    /// Whether the coil brings more than it costs.
    pub is_worth_it: bool,
    /// What knowing is worth.
    gain: f64,
    /// The plan it stands in.
    pub(crate) plan: String,
    /// The metal and temper.
    pub(crate) metal: String,
}

/// A plan of test coils and what it was weighed by.
pub(super) struct Plan {
    pub(super) coils: Vec<ToTry>,
    pub(super) weighed: &'static str,
}

pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let taught = at.taught(view)?;
            let bench = ChartBench::of(view, &taught, &asked)?;
            let plan = plan(view, &bench, &taught)?;
            Ok::<_, PageError>(NextPage {
                frame: Frame::of(&at, view, "chart")?,
                metal: metal_name(&bench.metals, &bench.metal),
                back: Asked { metal: bench.metal.clone(), temper: bench.temper.clone(), ..asked }
                    .chart(),
                temper: bench.temper.clone(),
                measured: bench.axis.is_some(),
                turns: TEST_TURNS,
                worth_it: plan.coils.iter().filter(|coil| coil.is_worth_it).count(),
                coils: plan.coils.clone(),
                weighed: plan.weighed,
                basis: bench.pricing.basis(&bench.metal),
                is_priced: bench.pricing.is_said(),
                cautions: for_step(Step::Slitting).iter().map(|line| line.text).collect(),
            })
        })
        .await?;
    Ok(Html(page.render()?))
}

/// Metals and tempers looked at for the page of today, the most tried first.
const METALS_OF_TODAY: usize = 4;

/// The test coil that tells most, among the metals and tempers that are tried most; nothing where
/// none brings more than it costs, too little is known to say, or it is still being looked for: that
/// takes as long as several charts, so no page waits for it.
pub(crate) fn first_to_try(app: &App, view: &View<'_>) -> Result<Option<ToTry>, StoreError> {
    if let Some(first) = view.already_worked_out::<Option<ToTry>>(FIRST)? {
        return Ok(Option::clone(&first));
    }
    app.beside(FIRST, |app, view| {
        let taught = app.taught_by_all(view)?;
        let first = view.worked_out(FIRST, || first_of_all(view, &taught))?;
        Ok(first.is_some())
    });
    Ok(None)
}

/// Name of it among what was worked out from the records.
const FIRST: &str = "what to try first";

fn first_of_all(view: &View<'_>, taught: &Taught) -> Result<Option<ToTry>, StoreError> {
    let of_most_tried = ChartBench::of(view, taught, &Asked::default())?;
    let mut best: Option<ToTry> = None;
    for (metal, temper) in of_most_tried.known.iter().take(METALS_OF_TODAY).cloned() {
        let asked = Asked { metal, temper, ..Asked::default() };
        let bench = ChartBench::of(view, taught, &asked)?;
        let plan = plan(view, &bench, taught)?;
        let first = plan.coils.first().filter(|coil| coil.is_worth_it);
        best = best.into_iter().chain(first.cloned()).max_by(|a, b| a.gain.total_cmp(&b.gain));
    }
    Ok(best)
}

/// The plan for one metal and temper, kept until a record changes.
pub(super) fn plan(
    view: &View<'_>,
    bench: &ChartBench,
    taught: &Taught,
) -> Result<Arc<Plan>, StoreError> {
    let (metal, temper, number) = (&bench.metal, &bench.temper, taught.number);
    let name = format!("what to try next: {metal} {temper} by lessons {number}");
    view.worked_out(&name, || {
        let planned = PlannedTurns::of(view, taught, bench)?;
        let (sizes, places) =
            at_stake(bench, taught, &all_sizes(bench), |wire, rod| planned.of_size(wire, rod));
        let coils = try_next(&places, TEST_TURNS, COILS, SEED);
        let coils = coils.iter().map(|coil| in_words(bench, sizes[coil.place], coil));
        Ok(Plan { coils: coils.collect(), weighed: planned.basis })
    })
}

fn in_words(bench: &ChartBench, (wire_mm, rod_mm): (f64, f64), coil: &TestCoil) -> ToTry {
    let asked =
        Asked { metal: bench.metal.clone(), temper: bench.temper.clone(), ..Asked::default() };
    let amount = |amount: f64| {
        bench.pricing.amount(amount).unwrap_or_else(|| format!("{amount:.1} good rings"))
    };
    ToTry {
        wire: both_lengths(wire_mm),
        rod: both_lengths(rod_mm),
        blade: bench.kinds[coil.blade].called.clone(),
        address: asked.cell(wire_mm, rod_mm),
        why: match coil.could_change.len() {
            0 => "little by itself, but it narrows the doubt".to_owned(),
            1 => "could change the blade in 1 place".to_owned(),
            places => format!("could change the blade in {places} places"),
        },
        worth: format!(
            "knowing is worth {} in a year, the coil costs {}",
            amount(coil.gain),
            amount(coil.cost)
        ),
        is_worth_it: coil.is_worth_it(),
        gain: coil.gain,
        plan: asked.next(),
        metal: format!("{}, {}", metal_name(&bench.metals, &bench.metal), bench.temper),
    }
}
