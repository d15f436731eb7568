//! What a run's frozen sheet, coils and ticks already say about a fault.

use linkwright_calc::fault::KnownOfRun;
use linkwright_store::records::{Blade, Run};
use linkwright_store::{Id, View};

use crate::error::PageError;
use crate::pages::workshop::lives_used;
use crate::planning::Frozen;

/// A run a fault befell, as far as a fault is concerned.
pub(super) struct RunKnown {
    pub(super) name: String,
    /// The blade of its last coil.
    pub(super) blade: Option<(Id<Blade>, String)>,
    pub(super) known: KnownOfRun,
}

impl RunKnown {
    /// Reads what is known of a run.
    pub(super) fn of(view: &View<'_>, id: Id<Run>) -> Result<RunKnown, PageError> {
        let at = view.run_at_bench(id)?;
        let frozen = Frozen::of(&at.sheet)?;
        let coil = at.coils.iter().rev().find(|coil| coil.record.blade_id.is_some());
        let blade = match coil.and_then(|coil| coil.record.blade_id) {
            Some(blade) => Some((blade, view.get(blade)?.name)),
            None => None,
        };
        let planned = match &blade {
            Some((_, name)) => frozen.blades.iter().find(|planned| planned.name == *name),
            None => frozen.blade(),
        };
        // A tick that is missing says something only where it could have been given: the list of the
        // coil was begun, or another coil of the run has that tick.
        let number = at.ticks.iter().map(|tick| tick.record.coil_number).max();
        let has = |item: &str| {
            let of_item = at.ticks.iter().filter(|tick| tick.record.item == item);
            of_item.map(|tick| tick.record.coil_number).collect::<Vec<_>>()
        };
        let on_this = |coils: &[u32]| number.is_some_and(|number| coils.contains(&number));
        let begun = on_this(&has("drive"));
        let ticked = |item: &str| {
            let coils = has(item);
            (!coils.is_empty() || begun).then(|| on_this(&coils))
        };
        let wire_mm = frozen.wire_diameter_mm;
        let run = &at.run.record;
        let advised = frozen.anneal.advice.starts_with("anneal");
        Ok(RunKnown {
            name: run.name.clone(),
            known: KnownOfRun {
                projection_less_wire_mm: planned.map(|blade| blade.projection_mm - wire_mm),
                far_wall_clear_mm: planned.map(|blade| blade.far_wall_mm - blade.projection_mm),
                blade_life_used: match &blade {
                    Some((blade, _)) => lives_used(view, *blade)?,
                    None => None,
                },
                // The screen of clamping asks for tape on every coil.
                tape_ticked: coil.and_then(|coil| {
                    let clamped = coil.record.clamped_at.is_some();
                    clamped.then(|| has("tape").contains(&coil.record.number))
                }),
                lubricant_ticked: ticked("lubricant"),
                direction_ticked: ticked("teeth"),
                alignment_ticked: ticked("slot"),
                uncut_expected: planned.and_then(|blade| blade.not_severed_at_stop),
                index: Some((frozen.rod.mandrel_diameter_mm + wire_mm) / wire_mm),
                anneal_left_out: Some(advised && run.annealed_at.is_none()),
            },
            blade,
        })
    }
}
