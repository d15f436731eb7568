//! Coils still to make, planned anew from what was counted so far; the sheet stays as it was frozen.

use linkwright_answers::coils::{Job, JobCoils, Setting, as_checked};
use linkwright_answers::run_sheet::view::BasisView;
use linkwright_answers::run_sheet::view::at_bench::more_coils;
use linkwright_calc::coil::RelaxedTurns;
use linkwright_calc::quantity::{Length, parse_share};
use linkwright_calc::slit::{AxisHeight, Projection};
use linkwright_store::View;
use linkwright_store::records::{Blade, Coil, MetalOverlay, Workshop};
use linkwright_trials::{Cell, CoilsNeeded};

use super::at_bench::AtBench;
use crate::error::PageError;
use crate::learning::trial_blade;
use crate::planning::catalogue_or_built_in;
use crate::state::App;

/// What is still to make.
pub(crate) struct More {
    /// Good rings so far, and of how many.
    pub(crate) so_far: String,
    /// The coils it takes, or that none is needed.
    pub(crate) coils: String,
    /// What the sheet has left.
    pub(crate) of_sheet: String,
    pub(crate) sum: Option<BasisView>,
    /// Turns to wind on one more coil than the sheet has, where that is needed.
    pub(crate) another: Option<u32>,
}

/// What is still to make; nothing before the first coil is counted, or where the trials have no say.
pub(crate) fn more(app: &App, view: &View<'_>, at: &AtBench) -> Result<Option<More>, PageError> {
    let counted = || at.work.coils.iter().filter(|coil| coil.record.counted_at.is_some());
    let Some(last) = counted().max_by_key(|coil| coil.record.number) else { return Ok(None) };
    let (good, wanted) = (at.good(), at.sheet.to_make.good_rings);
    let left = at.work.coils.len() - counted().count();
    let of_sheet = match left {
        0 => "The sheet has none left to wind.".to_owned(),
        1 => "The sheet has 1 left to wind.".to_owned(),
        left => format!("The sheet has {left} left to wind."),
    };
    let so_far = format!("{good} good so far, of {wanted}");
    if good >= wanted {
        let coils = "No more coils are needed.".to_owned();
        return Ok(Some(More { so_far, coils, of_sheet, sum: None, another: None }));
    }
    let Some(cell) = cell(view, at, &last.record)? else { return Ok(None) };
    let habits = view.all::<Workshop>()?.into_iter().next();
    let confidence = habits.and_then(|habits| parse_share(&habits.record.confidence).ok());
    let Some(confidence) = confidence.map(|share| share.value()) else { return Ok(None) };
    let Some(taught) = app.taught_at_hand(view)? else { return Ok(None) };
    if taught.is_geometry_alone() {
        return Ok(None);
    }
    let job = Job { rings: wanted - good, turns_most: turns(at), confidence, cost: None };
    let found = taught.coils(&cell, job);
    Ok(Some(match found {
        Ok(found) => said(at, &found, job, left, so_far, of_sheet),
        Err(error) => More {
            so_far,
            coils: format!("By what was tried: {error}."),
            of_sheet,
            sum: None,
            another: None,
        },
    }))
}

fn said(
    at: &AtBench,
    found: &JobCoils,
    job: Job,
    left: usize,
    so_far: String,
    of_sheet: String,
) -> More {
    let CoilsNeeded { coils, turns, last_turns, chance, .. } = found.needed;
    let wound = |turns: u32| {
        let inside = Length::from_mm(at.sheet.ring.coil_inside_diameter_mm);
        RelaxedTurns::new(f64::from(turns)).to_wind(at.wire, at.rod, inside).get()
    };
    let words = match (coils, last_turns == turns) {
        (1, _) => format!("1 more coil of {} turns wound", wound(last_turns)),
        (_, true) => format!("{coils} more coils of {} turns wound", wound(turns)),
        (2, false) => {
            format!("2 more coils, of {} and {} turns wound", wound(turns), wound(last_turns))
        }
        _ => format!(
            "{} more coils of {} turns wound and one of {}",
            coils - 1,
            wound(turns),
            wound(last_turns)
        ),
    };
    let all = at.sheet.to_make.good_rings;
    let sure = format!("{:.0} % sure of all {all}", 100.0 * chance);
    let short = usize::try_from(coils).is_ok_and(|coils| coils > left) && left == 0;
    More {
        so_far,
        coils: format!("{words}: {sure}."),
        of_sheet,
        sum: Some(more_coils(&found.odds(job.confidence), job.rings)),
        another: short.then(|| wound(if coils == 1 { last_turns } else { turns })),
    }
}

/// Whole turns of the sheet's own coils, as they are clamped.
fn turns(at: &AtBench) -> u32 {
    let full = at.sheet.coils.groups.first();
    full.map_or(at.sheet.coils.relaxed_turns_most, |group| group.relaxed_turns_needed)
}

/// The cell of the coils that are made, by the blade that slit the last one.
fn cell(view: &View<'_>, at: &AtBench, coil: &Coil) -> Result<Option<Cell>, PageError> {
    let Some(id) = coil.blade_id else { return Ok(None) };
    let record: Blade = view.get(id)?;
    let Some(blade) = trial_blade(&record) else { return Ok(None) };
    let of_sheet = || at.blade_on_sheet(&record.name).map(|blade| blade.projection_mm);
    let depth = coil.projection_mm.or_else(of_sheet).map(Length::from_mm);
    let axis = depth
        .and_then(|depth| Projection::new(depth).ok())
        .and_then(|depth| AxisHeight::from_measured(blade.blade, depth).ok());
    let Some(axis) = axis else { return Ok(None) };
    let metals = catalogue_or_built_in(&view.all::<MetalOverlay>()?);
    let annealed = at.run().annealed_at.is_some();
    let setting = Setting {
        metal: &at.sheet.metal_key,
        temper: if annealed { "annealed" } else { &at.sheet.temper },
        wire: at.wire,
        mandrel: at.rod,
        blade,
        axis,
    };
    Ok(as_checked(setting, &metals).ok())
}
