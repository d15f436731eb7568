//! From the records of the workshop to run sheets, and from a run sheet to work at the bench.

mod inputs;

mod lot_fit;

mod tried;

mod obstacle;

mod freeze;

mod frozen;

mod changes;

mod pieces;

mod at_hand;

use std::collections::BTreeMap;
use std::sync::Arc;

use linkwright_answers::chain::{KnownPatterns, OrderAsked};
use linkwright_answers::files::{from_json, metals_toml};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{Plan, RunSheet, Workshop};
use linkwright_store::records::{FrozenSheet, MetalOverlay, RingOrder, Rod, Run};
use linkwright_store::{Id, LineInFull, Saved, StoreError, View};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use self::inputs::line_of_sheet;
use self::pieces::with_measured;
use self::tried::TrialsOnRecord;
use crate::learning::{Pricing, Taught};
use crate::patterns::{known_patterns, own_texts};

pub(crate) use at_hand::{at_hand, is_at_hand};
pub(crate) use changes::{Change, changes_since};
pub(crate) use freeze::{BladeAnyway, coil_to_wind, start_run, start_run_anyway};
pub(crate) use frozen::{Frozen, FrozenBlade, FrozenGroup, shown, sums};
pub(crate) use inputs::{metals_text, order_as_json, workshop_as_json};
pub(crate) use lot_fit::{fit_of, lot_fit, stock_named, stocks};
pub(crate) use obstacle::Obstacle;

/// What a plan was made from, in the form of the files; kept with every frozen sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Inputs {
    /// The order, with the keys of the order file.
    pub(crate) order: Value,
    /// The workshop, with the keys of the workshop file.
    pub(crate) workshop: Value,
    /// Own metals, as a metals file.
    pub(crate) metals: String,
    /// Own patterns its lines are linked in, each as its pattern file; none of a sheet that was frozen
    /// before there were any.
    #[serde(default)]
    pub(crate) patterns: BTreeMap<String, String>,
}

impl Inputs {
    /// The date of the order.
    pub(crate) fn date(&self) -> Option<&str> {
        self.order["date"].as_str()
    }
}

/// An order worked out.
#[derive(Clone, Debug)]
pub(crate) struct Planned {
    /// What went in.
    pub(crate) inputs: Inputs,
    /// What came out.
    pub(crate) plan: Plan,
}

impl Planned {
    /// The sheet of a line.
    pub(crate) fn sheet(&self, line: &str) -> Option<&RunSheet> {
        self.plan.sheets.iter().find(|sheet| sheet.line.name == line)
    }
}

/// Works out an order from the records as they stand and what the trials among them teach.
pub(crate) fn plan_order(
    view: &View<'_>,
    taught: &Taught,
    id: Id<RingOrder>,
) -> Result<Result<Planned, Obstacle>, StoreError> {
    let planned = view.worked_out(&name_of_plan(id, taught), || {
        let inputs = inputs_of(view, id, None)?;
        let pricing = pricing(view)?;
        let patterns = known_patterns(view)?;
        Ok::<_, StoreError>(inputs.and_then(|inputs| plan(inputs, taught, &pricing, &patterns)))
    })?;
    Ok(Result::clone(&planned))
}

/// What a plan is called among what was worked out from the records.
fn name_of_plan(id: Id<RingOrder>, taught: &Taught) -> String {
    format!("plan of order {id} by lessons {}", taught.number)
}

fn but(but_for: Option<Id<Run>>) -> String {
    but_for.map_or_else(String::new, |run| format!(" but for run {run}"))
}

/// Works out an order for the sheet of one line; where another line stands in the way, this one is
/// worked out by itself.
pub(crate) fn plan_sheet(
    view: &View<'_>,
    taught: &Taught,
    id: Id<RingOrder>,
    line: &str,
) -> Result<Result<Planned, Obstacle>, StoreError> {
    let stands_in_the_way = match plan_order(view, taught, id)? {
        Err(obstacle) if obstacle.line().is_some_and(|other| other != line) => obstacle,
        planned => return Ok(planned),
    };
    let mut inputs = match inputs_of(view, id, None)? {
        Ok(inputs) => inputs,
        Err(_) => return Ok(Err(stands_in_the_way)),
    };
    let alone = line_of_sheet(&inputs.order, line).cloned();
    inputs.order["line"] = alone.into_iter().collect();
    Ok(plan(inputs, taught, &*pricing(view)?, &*known_patterns(view)?))
}

/// What a plan of an order would be made from now; `but_for` leaves one run out of the records, as if
/// it had never been.
fn inputs_of(
    view: &View<'_>,
    id: Id<RingOrder>,
    but_for: Option<Id<Run>>,
) -> Result<Result<Inputs, Obstacle>, StoreError> {
    let order = view.get(id)?;
    let lines = view.lines_in_full(id)?;
    let stands = view.worked_out(&format!("workshop{}", but(but_for)), || {
        let bench = view.bench(but_for)?;
        let (workshop, metals) = (workshop_as_json(&bench), metals_text(&bench.metals));
        Ok::<_, StoreError>(Stands { rods: bench.rods, workshop, metals })
    })?;
    let patterns = own_patterns_of(view, &lines)?;
    let lines = lines.iter().map(|line| (&line.line, &line.further[..]));
    let order = with_measured(view, order_as_json(&order, lines, &stands.rods))?;
    Ok(stands.workshop.clone().map(|workshop| Inputs {
        order,
        workshop,
        metals: stands.metals.clone(),
        patterns,
    }))
}

/// The texts of the workshop's own patterns among those that lines are linked in.
fn own_patterns_of(
    view: &View<'_>,
    lines: &[LineInFull],
) -> Result<BTreeMap<String, String>, StoreError> {
    let texts = own_texts(view)?;
    let named = lines.iter().filter_map(|line| texts.get_key_value(line.line.pattern.as_ref()?));
    Ok(named.map(|(name, text)| (name.clone(), text.clone())).collect())
}

/// The workshop as every order finds it.
struct Stands {
    rods: Vec<Saved<Rod>>,
    workshop: Result<Value, Obstacle>,
    metals: String,
}

/// What work and wire cost, by the records.
fn pricing(view: &View<'_>) -> Result<Arc<Pricing>, StoreError> {
    view.worked_out("pricing", || {
        let bench = view.bench(None)?;
        Ok(Pricing::of(&bench, &catalogue_or_built_in(&bench.metals)))
    })
}

/// Works out an order from what was put together for it.
fn plan(
    inputs: Inputs,
    taught: &Taught,
    pricing: &Pricing,
    patterns: &KnownPatterns,
) -> Result<Planned, Obstacle> {
    let (order, workshop, metals) = read(&inputs, patterns)?;
    let trials = TrialsOnRecord { taught, metals: &metals, pricing };
    let plan = order.plan(&workshop, &metals, Some(&trials))?;
    Ok(Planned { inputs, plan })
}

fn read(
    inputs: &Inputs,
    patterns: &KnownPatterns,
) -> Result<(OrderAsked, Workshop, Catalogue), Obstacle> {
    let metals = metals_toml::catalogue("own metals", &inputs.metals)?;
    let order = from_json::order(&inputs.order, patterns).map_err(Obstacle::in_order)?;
    let workshop = from_json::workshop(&inputs.workshop, &metals).map_err(Obstacle::in_workshop)?;
    Ok((order, workshop, metals))
}

/// The workshop a frozen sheet was worked out in; none if the kept inputs are of an earlier form.
pub(crate) fn workshop_of(sheet: &FrozenSheet) -> Option<Workshop> {
    let inputs: Inputs = serde_json::from_str(&sheet.inputs).ok()?;
    let metals = metals_toml::catalogue("own metals", &inputs.metals).ok()?;
    from_json::workshop(&inputs.workshop, &metals).ok()
}

/// The workshop as it stands on record, with its metals; or what it lacks, as a sentence.
///
/// # Errors
/// If the file cannot be read.
pub fn workshop(view: &View<'_>) -> Result<Result<(Workshop, Catalogue), String>, StoreError> {
    let bench = view.bench(None)?;
    let found = || {
        let metals = catalogue(&bench.metals)?;
        let workshop = from_json::workshop(&workshop_as_json(&bench)?, &metals)
            .map_err(Obstacle::in_workshop)?;
        Ok((workshop, metals))
    };
    Ok(found().map_err(|obstacle: Obstacle| obstacle.sentence()))
}

/// The built-in metals with the workshop's own over them.
pub(crate) fn catalogue(own: &[Saved<MetalOverlay>]) -> Result<Catalogue, Obstacle> {
    Ok(metals_toml::catalogue("own metals", &metals_text(own))?)
}

/// The same for naming metals only: an own metal that cannot be read is left out, and what is made
/// of it is called by its key.
pub(crate) fn catalogue_or_built_in(own: &[Saved<MetalOverlay>]) -> Catalogue {
    catalogue(own).unwrap_or_else(|_| Catalogue::built_in())
}

/// [`catalogue_or_built_in`] for the records as they stand, put together once while none changes.
pub(crate) fn metals_for_names(view: &View<'_>) -> Result<Arc<Catalogue>, StoreError> {
    view.worked_out("metals for names", || Ok(catalogue_or_built_in(&view.all()?)))
}

/// The trade name of a metal by its key; the key itself of a metal that is no longer known.
pub(crate) fn metal_name(metals: &Catalogue, key: &str) -> String {
    metals.find(key).map_or_else(|_| key.to_owned(), |metal| metal.trade_name().to_string())
}

#[cfg(test)]
#[path = "../../tests/it/examples.rs"]
mod examples;

#[cfg(test)]
mod tests {
    use linkwright_answers::files::load::load;
    use linkwright_answers::run_sheet::Money;
    use linkwright_answers::run_sheet::json::plan_as_json;
    use linkwright_store::{Moment, Store, StoreError};

    use super::{examples, plan_order};
    use crate::learning::Taught;

    #[test]
    fn records_are_planned_as_the_example_files_they_were_typed_from() {
        for order in [
            "necklace.toml",
            "class-kits.toml",
            "three-lines.toml",
            "linked-pieces.toml",
            "graduated-cable.toml",
        ] {
            let mut files = load(&examples::path(order), None).expect("the example");
            // Records keep measured pieces beside the orders, not with a line.
            files.order.linked.iter_mut().for_each(|wanted| wanted.measured.clear());
            let of_files = files.plan(None);
            let folder = tempfile::tempdir().expect("a folder");
            let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
            let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
            let id = store.act(now, "Set up", |act| {
                examples::add_workshop(act, &examples::workshop_of(order));
                Ok::<_, StoreError>(examples::add_order(act, order))
            });
            let of_records = store
                .read(|view| plan_order(view, &Taught::nothing(), id.expect("saved")))
                .expect("read")
                .expect("planned");
            assert_eq!(
                plan_as_json(&of_records.plan, Money::Shown),
                plan_as_json(&of_files.expect("planned"), Money::Shown),
                "{order}"
            );
        }
    }
}
