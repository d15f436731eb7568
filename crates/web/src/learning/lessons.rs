//! Trials on record as coils of the model; what cannot be used is told, not hidden.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use linkwright_answers::chart::{metal_key, yield_strength};
use linkwright_calc::coil::Pitch;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{AxisHeight, LastTurn, Projection, StopQuery, stop_end};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_store::records::{Blade, MetalOverlay, Tick, Trial, Workshop};
use linkwright_store::trials::TrialFilter;
use linkwright_store::{Id, StoreError, View};
use linkwright_trials::{Cell, CellParts, Counts, TrialBlade, TrialRow};

use super::kind::trial_blade;
use super::newest::{Newest, NewestOfEach};
use crate::planning::catalogue_or_built_in;

/// The trials on record as the model reads them.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Lessons {
    /// One coil each, oldest first.
    pub(crate) coils: Vec<TrialRow>,
    /// The temper of each coil's wire as it was wound, in the same order.
    pub(crate) tempers: Vec<Arc<str>>,
    /// The day of each coil, in the same order.
    pub(crate) days: Vec<String>,
    /// The trial of each coil, in the same order.
    pub(crate) trials: Vec<Id<Trial>>,
    /// The newest coils of each cell that are learned from, where there are more on record.
    pub(crate) newest: Option<Newest>,
    /// Why other trials teach nothing here, with how many they are.
    pub(crate) left_out: BTreeMap<&'static str, usize>,
}

/// Everything beside the trials that their reading needs.
struct Around {
    metals: Catalogue,
    blades: HashMap<Id<Blade>, (TrialBlade, u32)>,
    taped: HashSet<(i64, u32)>,
    lubricated: HashSet<(i64, u32)>,
    stop_turns: Option<u32>,
    packing: f64,
}

/// Reads every trial on record, and of those that teach something takes `most` at most: the newest
/// of each cell.
///
/// The jeweller counts good, uncut, nicked and crushed rings. What she did not count is taken for
/// lost at the ends; of the uncut ones as many as the blade leaves at the stop are taken for lost
/// there, the rest for uncut elsewhere. A trial that was not of a run does not say whether tape
/// and lubricant were used: both are assumed, as the check list wants them.
pub(crate) fn lessons(view: &View<'_>, most: usize) -> Result<Lessons, StoreError> {
    let around = Around::of(view)?;
    let mut newest_of_each = NewestOfEach::at_most(most);
    let mut left_out: BTreeMap<&'static str, usize> = BTreeMap::new();
    let mut cut: HashMap<Id<Blade>, u32> = HashMap::new();
    view.each_trial(&TrialFilter::default(), |saved| {
        let trial = saved.record;
        match around.coil(&trial, &cut) {
            Ok(coil) => newest_of_each.take(coil, temper(&trial), &trial.tried_on, saved.id),
            Err(why) => *left_out.entry(why).or_default() += 1,
        }
        if let Some(blade) = trial.blade_id {
            let severed = [trial.good, trial.nicked, trial.crushed].into_iter().flatten();
            let rings = cut.entry(blade).or_default();
            *rings = rings.saturating_add(severed.sum());
        }
        Ok::<_, StoreError>(())
    })?;
    let mut lessons = Lessons { newest: newest_of_each.newest(), left_out, ..Lessons::default() };
    for coil in newest_of_each.oldest_first() {
        lessons.coils.push(coil.row);
        lessons.tempers.push(coil.temper);
        lessons.days.push(coil.day);
        lessons.trials.push(coil.trial);
    }
    Ok(lessons)
}

impl Around {
    fn of(view: &View<'_>) -> Result<Around, StoreError> {
        let ticks = view.all::<Tick>()?;
        let ticked = |item: &str| {
            let of_item = ticks.iter().filter(|tick| tick.record.item == item);
            of_item.map(|tick| (tick.record.run_id.number(), tick.record.coil_number)).collect()
        };
        let habits = view.all::<Workshop>()?.into_iter().next();
        let blades = view.all::<Blade>()?.into_iter();
        Ok(Around {
            metals: catalogue_or_built_in(&view.all::<MetalOverlay>()?),
            blades: blades
                .filter_map(|saved| {
                    let before = saved.record.rings_before;
                    Some((saved.id, (trial_blade(&saved.record)?, before)))
                })
                .collect(),
            taped: ticked("tape"),
            lubricated: ticked("lubricant"),
            stop_turns: habits.as_ref().and_then(|habits| habits.record.stop_turns),
            packing: habits.map_or(1.0, |habits| habits.record.packing),
        })
    }

    fn coil(&self, trial: &Trial, cut: &HashMap<Id<Blade>, u32>) -> Result<TrialRow, &'static str> {
        let good = trial.good.ok_or("no rings were counted")?;
        let others = [trial.uncut, trial.nicked, trial.crushed].into_iter().flatten();
        if good + others.sum::<u32>() == 0 {
            return Err("its coil gave nothing to count");
        }
        let id = trial.blade_id.ok_or("it names no blade of the workshop")?;
        let (blade, before) = self.blades.get(&id).ok_or("its blade has impossible sizes")?;
        let depth_mm = trial.projection_mm.ok_or("no projection was noted")?;
        let projection = Projection::new(Length::from_mm(depth_mm));
        let projection = projection.map_err(|_| "its projection is impossible")?;
        let axis = AxisHeight::from_measured(blade.blade, projection)
            .map_err(|_| "its projection is more than the blade")?;
        let wire =
            Wire::new(Length::from_mm(trial.wire_mm)).map_err(|_| "its wire is impossible")?;
        let mandrel =
            Mandrel::new(Length::from_mm(trial.rod_mm)).map_err(|_| "its rod is impossible")?;
        let strength = yield_strength(&self.metals, &trial.metal, temper(trial), wire)
            .map_err(|_| "the strength of its metal and temper is not known")?;
        let place = trial.run_id.map(|run| run.number()).zip(trial.coil_number);
        let noted = |ticks: &HashSet<(i64, u32)>| place.is_none_or(|place| ticks.contains(&place));
        let rings = before.saturating_add(cut.get(&id).copied().unwrap_or(0));
        let cell = Cell::new(CellParts {
            wire,
            mandrel,
            blade: blade.clone(),
            axis,
            // One metal has one effect, whatever it is called.
            metal: metal_key(&self.metals, &trial.metal)
                .map_or_else(|| trial.metal.as_str().into(), Into::into),
            yield_strength: strength,
            taped: noted(&self.taped),
            lubricated: noted(&self.lubricated),
            operator: Some(trial.worker.trim()).filter(|name| !name.is_empty()).map(Into::into),
            rings_cut_since_new: Some(f64::from(rings)),
        })
        .map_err(|_| "its sizes are outside the chart (wire 0.4 to 2.1 mm, rod 2 to 14 mm)")?;
        let at_stop = self.left_at_stop(blade, projection, wire);
        let (turns, counts) = counts(trial, good, at_stop);
        TrialRow::new(cell, turns, counts).map_err(|_| "its counts are impossible")
    }

    /// How many turns this blade leaves uncut at the stop: as the workshop noted, else by geometry
    /// with the axis above the last turn.
    fn left_at_stop(&self, blade: &TrialBlade, projection: Projection, wire: Wire) -> u32 {
        let by_geometry = || {
            let query = StopQuery {
                blade: blade.blade,
                projection,
                wire,
                pitch: Pitch::new(Length::from_mm(wire.diameter().mm() * self.packing)).ok()?,
                last_turn: LastTurn::from_blade_centre(Length::from_mm(0.0)).ok()?,
                sagitta: Length::from_mm(0.0),
            };
            Some(stop_end(query).ok()?.turns_not_severed)
        };
        self.stop_turns.or_else(by_geometry).unwrap_or(0)
    }
}

/// The temper of the wire as it was wound.
fn temper(trial: &Trial) -> &str {
    if trial.annealed { "annealed" } else { &trial.temper }
}

/// The turns of a coil and what became of each.
fn counts(trial: &Trial, good: u32, at_stop: u32) -> (u32, Counts) {
    let [uncut, deformed, crushed] =
        [trial.uncut, trial.nicked, trial.crushed].map(Option::unwrap_or_default);
    let counted = good.saturating_add(uncut).saturating_add(deformed).saturating_add(crushed);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 10000")]
    let sprung = trial.turns_relaxed.map(|turns| turns.clamp(0.0, 10_000.0).floor() as u32);
    let turns = sprung.or(trial.turns_wound).unwrap_or(counted).max(counted);
    let stop_lost = uncut.min(at_stop);
    let counts = Counts {
        entry_lost: turns - counted,
        stop_lost,
        crushed,
        uncut: uncut - stop_lost,
        deformed,
        good,
    };
    (turns, counts)
}

#[cfg(test)]
mod tests {
    use linkwright_store::records::{BladeEvent, Outcome, TrialSource};

    use super::*;

    pub(super) fn trial(counted: [Option<u32>; 4], turns_relaxed: Option<f64>) -> Trial {
        let [good, uncut, nicked, crushed] = counted;
        Trial {
            tried_on: "2026-03-04".to_owned(),
            source: TrialSource::Typed,
            metal: "copper_c110".to_owned(),
            temper: "annealed".to_owned(),
            annealed: false,
            wire_typed: "1.02 mm".to_owned(),
            wire_mm: 1.02,
            rod_typed: "4 mm".to_owned(),
            rod_mm: 4.0,
            wire_lot_id: None,
            blade_id: None,
            blade_name: String::new(),
            blade_diameter_mm: None,
            projection_typed: None,
            projection_mm: None,
            inside_typed: None,
            inside_mean_mm: None,
            inside_readings: None,
            turns_wound: Some(63),
            turns_relaxed,
            good,
            uncut,
            nicked,
            crushed,
            blade_event: BladeEvent::None,
            outcome: Outcome::Good,
            run_id: None,
            coil_number: None,
            worker: String::new(),
            note: String::new(),
        }
    }

    #[test]
    fn what_was_not_counted_is_lost_at_the_ends_and_uncut_rings_first_at_the_stop() {
        let (turns, counts) =
            counts(&trial([Some(50), Some(4), Some(1), Some(2)], Some(61.5)), 50, 3);
        assert_eq!(turns, 61);
        let wanted =
            Counts { entry_lost: 4, stop_lost: 3, crushed: 2, uncut: 1, deformed: 1, good: 50 };
        assert_eq!(counts, wanted);
    }

    #[test]
    fn more_rings_than_turns_were_turns_all_the_same() {
        let (turns, counts) = counts(&trial([Some(70), None, None, None], Some(61.0)), 70, 3);
        assert_eq!((turns, counts.good, counts.entry_lost), (70, 70, 0));
    }
}
