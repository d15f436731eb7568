//! From a run to what it leaves behind: one batch of rings, and a trial for every coil.

use linkwright_calc::quantity::Length;
use linkwright_calc::ring::{Ring, RingInput};
use linkwright_calc::slit::Kerf;
use linkwright_store::records::{Batch, BladeEvent, Coil, Outcome, Trial, TrialSource};
use linkwright_store::{Act, StoreError, View};

use super::at_bench::AtBench;
use super::springback::trial_of;
use crate::error::PageError;

/// What is written on the label by hand.
pub(crate) struct Written {
    pub(crate) code: String,
    pub(crate) place: String,
    pub(crate) note: String,
    /// The day, as 2026-11-25.
    pub(crate) day: String,
}

/// A code for the batch that nobody has used: the day and the number of the run.
pub(crate) fn code_suggested(
    view: &View<'_>,
    at: &AtBench,
    day: &str,
) -> Result<String, StoreError> {
    if let Some(batch) = &at.work.batch {
        return Ok(batch.record.code.clone());
    }
    let stem = format!("{}-{}", day.replace('-', ""), at.work.run.id);
    let mut code = stem.clone();
    for again in 2.. {
        if !view.code_is_taken(&code, None)? {
            break;
        }
        code = format!("{stem}-{again}");
    }
    Ok(code)
}

/// Mean inside diameter of the open rings: measured, else as planned, and which it is.
pub(crate) fn open_inside(at: &AtBench) -> (Length, bool) {
    trial_of(at).map_or_else(
        || (Length::from_mm(at.sheet.ring.coil_inside_diameter_mm), false),
        |trial| (trial.mean(), true),
    )
}

/// Kerf of the blade that slit the last coil, mm.
fn kerf_mm(view: &View<'_>, at: &AtBench) -> Result<Option<f64>, StoreError> {
    match at.work.coils.iter().rev().find_map(|coil| coil.record.blade_id) {
        Some(blade) => Ok(Some(view.get(blade)?.kerf_mm)),
        None => Ok(at.sheet.blade().map(|blade| blade.kerf_mm)),
    }
}

/// Inside diameter of the rings once closed, and the kerf it is worked out from.
pub(crate) fn closed_inside(
    view: &View<'_>,
    at: &AtBench,
) -> Result<Option<(Length, f64)>, StoreError> {
    let Some(kerf_mm) = kerf_mm(view, at)? else { return Ok(None) };
    let (coil_inside, _) = open_inside(at);
    let ring = Kerf::new(Length::from_mm(kerf_mm)).ok().and_then(|kerf| {
        Ring::cut(RingInput { wire: at.wire, coil_inside, kerf, pitch: at.pitch }).ok()
    });
    Ok(ring.map(|ring| (ring.closed_inside(), kerf_mm)))
}

/// Writes the batch and the trials, or brings those written before up to the counts as they are.
pub(crate) fn write(act: &Act<'_>, at: &AtBench, written: &Written) -> Result<(), PageError> {
    let batch = batch(act, at, written)?;
    match &at.work.batch {
        Some(before) => act.change(before.id, &batch)?,
        None => {
            act.add(&batch)?;
        }
    }
    // The rings were measured out of the whole run: they stand with one trial, not with each.
    let counted = |coil: &&linkwright_store::Saved<Coil>| coil.record.counted_at.is_some();
    let last = at.work.coils.iter().filter(counted).map(|coil| coil.record.number).max();
    for coil in at.work.coils.iter().filter(counted) {
        let carries_readings = Some(coil.record.number) == last;
        write_trial(act, at, &coil.record, &written.day, carries_readings)?;
    }
    Ok(())
}

/// Writes the trial of one counted coil, or brings the one written before up to the counts as they
/// are; it keeps its day.
pub(crate) fn write_trial(
    act: &Act<'_>,
    at: &AtBench,
    coil: &Coil,
    day: &str,
    carries_readings: bool,
) -> Result<(), PageError> {
    let trial = trial(act, at, coil, day, carries_readings)?;
    match act.trial_of_coil(at.work.run.id, coil.number)? {
        Some(before) => {
            let tried_on = before.record.tried_on.clone();
            act.change(before.id, &Trial { tried_on, ..trial })?;
        }
        None => {
            act.add(&trial)?;
        }
    }
    Ok(())
}

fn batch(act: &Act<'_>, at: &AtBench, written: &Written) -> Result<Batch, PageError> {
    let (inside, is_measured) = open_inside(at);
    let closed = closed_inside(act, at)?;
    let before = at.work.batch.as_ref().map(|batch| &batch.record);
    let readings = u32::try_from(at.work.readings.len()).unwrap_or(u32::MAX);
    Ok(Batch {
        code: written.code.clone(),
        made_on: written.day.clone(),
        run_id: Some(at.work.run.id),
        wire_lot_id: at.run().wire_lot_id,
        metal: at.sheet.metal_key.clone(),
        temper: temper(at).to_owned(),
        wire_typed: at.sheet.wire_typed.clone(),
        wire_mm: at.sheet.wire_diameter_mm,
        rod_typed: Some(at.sheet.rod.name.clone()),
        rod_mm: Some(at.rod.diameter().mm()),
        inside_mm: is_measured.then(|| inside.mm()),
        inside_readings: is_measured.then_some(readings),
        closed_inside_mm: closed.map(|(closed, _)| closed.mm()),
        closed_how: closed.map_or_else(String::new, |(_, kerf_mm)| {
            format!("worked out from a kerf of {kerf_mm:.2} mm")
        }),
        rings: at.good(),
        rings_uncertainty: None,
        counted_how: "one by one, coil by coil".to_owned(),
        place: written.place.clone(),
        note: written.note.clone(),
        gone_on: before.and_then(|before| before.gone_on.clone()),
    })
}

fn temper(at: &AtBench) -> &str {
    if at.run().annealed_at.is_some() { "annealed" } else { &at.sheet.temper }
}

fn trial(
    act: &Act<'_>,
    at: &AtBench,
    coil: &Coil,
    day: &str,
    carries_readings: bool,
) -> Result<Trial, PageError> {
    let blade = coil.blade_id.map(|blade| act.get(blade)).transpose()?;
    let of_sheet = blade.as_ref().and_then(|blade| at.blade_on_sheet(&blade.name));
    let read = trial_of(at).filter(|_| carries_readings);
    let shown = |mm: f64| format!("{mm:.2} mm");
    Ok(Trial {
        tried_on: day.to_owned(),
        source: TrialSource::Run,
        metal: at.sheet.metal_key.clone(),
        temper: at.sheet.temper.clone(),
        annealed: at.run().annealed_at.is_some(),
        wire_typed: at.sheet.wire_typed.clone(),
        wire_mm: at.sheet.wire_diameter_mm,
        rod_typed: shown(at.rod.diameter().mm()),
        rod_mm: at.rod.diameter().mm(),
        wire_lot_id: at.run().wire_lot_id,
        blade_id: coil.blade_id,
        blade_name: blade.as_ref().map_or_else(String::new, |blade| blade.name.clone()),
        blade_diameter_mm: blade.as_ref().map(|blade| blade.diameter_mm),
        projection_typed: coil
            .projection_typed
            .clone()
            .or_else(|| of_sheet.map(|blade| shown(blade.projection_mm))),
        projection_mm: coil.projection_mm.or_else(|| of_sheet.map(|blade| blade.projection_mm)),
        inside_typed: read.as_ref().map(|_| readings_typed(at)),
        inside_mean_mm: read.as_ref().map(|read| read.mean().mm()),
        inside_readings: read.as_ref().and_then(|read| u32::try_from(read.readings()).ok()),
        turns_wound: (coil.turns_wound > 0).then_some(coil.turns_wound),
        turns_relaxed: coil.turns_relaxed,
        good: Some(coil.good),
        uncut: Some(coil.uncut),
        nicked: Some(coil.nicked),
        crushed: Some(coil.crushed),
        blade_event: coil.blade_event,
        outcome: outcome(coil),
        run_id: Some(at.work.run.id),
        coil_number: Some(coil.number),
        worker: String::new(),
        note: coil.note.clone(),
    })
}

/// The readings in millimetres with one unit after the last.
fn readings_typed(at: &AtBench) -> String {
    let each: Vec<String> = at
        .work
        .readings
        .iter()
        .map(|reading| {
            let typed = reading.record.typed.trim();
            typed
                .strip_suffix(" mm")
                .map_or_else(|| reading.record.inside_mm.to_string(), str::to_owned)
        })
        .collect();
    format!("{} mm", each.join(" "))
}

/// How a coil went as long as nobody judged otherwise: no rings is a failure, trouble with the
/// blade is not to be repeated. Own rule.
fn outcome(coil: &Coil) -> Outcome {
    match (coil.good, coil.blade_event) {
        (0, _) => Outcome::Failed,
        (_, BladeEvent::None) => Outcome::Good,
        _ => Outcome::Poor,
    }
}
