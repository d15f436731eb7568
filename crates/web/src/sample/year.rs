//! The sample's work, order by order: planned as any order is, wound, slit, counted, measured.

use std::collections::BTreeMap;

use linkwright_calc::metal::Catalogue;
use linkwright_store::records::{
    Batch, Blade, BladeEvent, Coil, Fault, FurtherRing, Holder, LineKind, OrderLine, Outcome,
    Reading, RingOrder, Run, Tick, Trial, TrialSource,
};
use linkwright_store::{Act, Id, Saved, StoreError};
use linkwright_trials::Counts;
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use super::Calendar;
use super::asked::{Asked, Line, NOT_STARTED, ORDERS, Wanted, What};
use super::cutting::{Cut, Cutting};
use super::shelf::{Lot, Shelf};
use crate::error::PageError;
use crate::learning::Taught;
use crate::pages::runs::{CHECKS, TAPE};
use crate::planning::{Frozen, FrozenGroup, metal_name, start_run};

/// Rings measured after a run.
const READINGS: u32 = 10;

/// Spread of inside diameters from ring to ring, mm.
const SPREAD_MM: f64 = 0.012;

/// Orders after which the thin blade broke, by their place in the list.
const BLADE_BROKE_AFTER: [usize; 2] = [12, 26];

/// Rings of every lot and rod, once it is known what the wire does.
type Known = BTreeMap<(String, String), f64>;

/// Does the year's work; the last run is left in the middle.
pub(super) fn work(
    act: &Act<'_>,
    calendar: Calendar,
    shelf: &mut Shelf,
    chance: &mut ChaCha8Rng,
) -> Result<(), PageError> {
    let mut known = Known::new();
    let cutting = Cutting::new();
    // A year that begins with no trial is planned from the workshop's habits.
    let nothing_tried = Taught::nothing();
    let in_hand = ORDERS.len() - NOT_STARTED - 1;
    for (place, asked) in ORDERS.iter().enumerate() {
        let order = take_order(act, calendar, shelf, asked)?;
        if place > in_hand {
            continue;
        }
        for (name, ..) in asked.3 {
            let day = asked.0 + chance.random_range(1..4);
            let started = calendar.moment(day, 9 * 60 + 10);
            let run = start_run(act, &nothing_tried, order, name, started, String::new())?;
            let mut bench = AtBench {
                act,
                calendar,
                shelf,
                chance,
                known: &mut known,
                day,
                run,
                cutting: &cutting,
            };
            bench.go(place < in_hand)?;
        }
        if place < in_hand {
            let mut closed: RingOrder = act.get(order)?;
            closed.closed_on = Some(calendar.day(asked.0 + 9));
            act.change(order, &closed)?;
        }
        if BLADE_BROKE_AFTER.contains(&place) {
            replace_thin_blade(act, calendar, shelf, asked.0 + 6)?;
        }
    }
    Ok(())
}

fn take_order(
    act: &Act<'_>,
    calendar: Calendar,
    shelf: &Shelf,
    (day, name, buyer, lines): &Asked,
) -> Result<Id<RingOrder>, StoreError> {
    // A name that comes back is told apart by its month.
    let taken = ORDERS.iter().filter(|other| other.1 == *name).count() > 1;
    let asked_on = calendar.day(*day);
    let name = if taken { format!("{name} {}", &asked_on[..7]) } else { (*name).to_owned() };
    let order_id = act.add(&RingOrder {
        name,
        asked_on,
        due_on: Some(calendar.day(day + 14)),
        buyer: (*buyer).to_owned(),
        note: String::new(),
        closed_on: None,
    })?;
    for (position, line) in (1..).zip(*lines) {
        let record = order_line(order_id, position, line, shelf.lots[line.2].1);
        let order_line_id = act.add(&record)?;
        if let What::Linked(.., rod) = line.1 {
            act.add(&FurtherRing {
                order_line_id,
                size: 2,
                wire_typed: record.wire_typed,
                wire_mm: Some(record.wire_mm),
                ring_typed: None,
                tolerance_typed: None,
                rod_typed: Some(rod.to_owned()),
            })?;
        }
    }
    Ok(order_id)
}

fn order_line(order_id: Id<RingOrder>, position: u32, line: &Line, lot: Lot) -> OrderLine {
    let (name, what, _, wanted) = line;
    let (ring, tolerance, rod) = match wanted {
        Wanted::Off(rod) => (None, None, Some((*rod).to_owned())),
        Wanted::Size(ring, tolerance) => {
            (Some((*ring).to_owned()), Some((*tolerance).to_owned()), None)
        }
    };
    let mut record = OrderLine {
        metal: metal_name(&Catalogue::built_in(), lot.metal),
        temper: lot.temper.to_owned(),
        wire_typed: lot.typed.to_owned(),
        wire_mm: lot.mm,
        ring_typed: ring,
        tolerance_typed: tolerance,
        rod_typed: rod,
        spare_typed: Some("10 %".to_owned()),
        ..OrderLine::begun(order_id, position, *name)
    };
    match *what {
        What::Rings(rings) => record.rings = Some(rings),
        What::Chain(length, clasp) => {
            record.kind = LineKind::Chain;
            record.chain_length_typed = Some(length.to_owned());
            record.clasp_typed = Some(clasp.to_owned());
        }
        What::Linked(pattern, length, clasp, _) => {
            record.kind = LineKind::Chain;
            record.pattern = Some(pattern.to_owned());
            record.chain_length_typed = Some(length.to_owned());
            record.clasp_typed = Some(clasp.to_owned());
        }
        What::Kits(kits, rings_each, spare_each) => {
            record.kind = LineKind::Kits;
            record.kits = Some(kits);
            record.rings_each = Some(rings_each);
            record.spare_each = Some(spare_each);
            record.spare_typed = None;
        }
    }
    record
}

/// One run being worked.
struct AtBench<'a, 's> {
    act: &'a Act<'s>,
    calendar: Calendar,
    shelf: &'a Shelf,
    chance: &'a mut ChaCha8Rng,
    known: &'a mut Known,
    day: i64,
    run: Id<Run>,
    cutting: &'a Cutting,
}

impl AtBench<'_, '_> {
    /// Works the run to its end, or only as far as its second coil.
    fn go(&mut self, to_the_end: bool) -> Result<(), PageError> {
        let mut run: Run = self.act.get(self.run)?;
        let frozen = Frozen::of(&self.act.get(run.frozen_sheet_id)?)?;
        let lot = frozen.lot.as_deref().and_then(|name| self.shelf.lots.get(name));
        let annealed = frozen.rod.wire_state == "annealed";
        run.wire_lot_id = lot.map(|(id, _)| *id);
        run.wire_in_g = Some((frozen.metal_use.wire_mass_g * 10.3).ceil() / 10.0);
        run.annealed_at = annealed.then(|| self.calendar.moment(self.day, 9 * 60 + 25));
        run.anneal_skipped = !annealed;
        let blade = frozen.blade().and_then(|blade| self.shelf.blades.get(&blade.name)).copied();
        let coils = self.act.run_at_bench(self.run)?.coils;
        let groups: Vec<&FrozenGroup> = frozen
            .coils
            .groups
            .iter()
            .flat_map(|group| std::iter::repeat_n(group, group.coils as usize))
            .collect();
        for (coil, group) in coils.iter().zip(groups) {
            if !to_the_end && coil.record.number > 1 {
                break;
            }
            self.work_coil(coil, group, (&frozen, annealed), blade)?;
        }
        if to_the_end {
            self.finish(&mut run, &frozen)?;
        } else {
            let coils = self.act.run_at_bench(self.run)?.coils;
            for coil in coils.iter().filter(|coil| coil.record.counted_at.is_some()) {
                self.add_trial(&coil.record, &run, &frozen, &self.calendar.day(self.day))?;
            }
            run.coil_number = 2.min(u32::try_from(coils.len()).unwrap_or(1));
            run.step = "wind".to_owned();
        }
        self.act.change(self.run, &run)?;
        Ok(())
    }

    fn work_coil(
        &mut self,
        coil: &Saved<Coil>,
        group: &FrozenGroup,
        (frozen, annealed): (&Frozen, bool),
        blade: Option<Id<Blade>>,
    ) -> Result<(), PageError> {
        let turns = group.relaxed_turns_needed;
        let counts = self.cut(frozen, annealed, blade, turns)?;
        let minute = 9 * 60 + 30 + i64::from(coil.record.number) * 9;
        let at = |after: i64| Some(self.calendar.moment(self.day, minute + after));
        let worked = Coil {
            turns_wound: coil.record.turns_target,
            wound_at: at(2),
            turns_relaxed: Some((group.relaxed_turns * 2.0).round() / 2.0),
            off_at: at(3),
            pieces: Some(1),
            blade_id: blade,
            clamped_at: at(5),
            slit_at: at(7),
            good: counts.good,
            uncut: counts.uncut + counts.stop_lost,
            nicked: counts.deformed,
            crushed: counts.crushed,
            counted_at: at(8),
            ..coil.record.clone()
        };
        self.act.change(coil.id, &worked)?;
        // Tape and lubricant are what gets forgotten.
        for item in CHECKS.map(|check| check.word).into_iter().chain([TAPE]) {
            let may_be_forgotten = matches!(item, "tape" | "lubricant");
            if !may_be_forgotten || self.chance.random_range(0..8) > 0 {
                self.act.add(&Tick {
                    run_id: self.run,
                    coil_number: coil.record.number,
                    item: item.to_owned(),
                    ticked_at: self.calendar.moment(self.day, minute + 4),
                })?;
            }
        }
        Ok(())
    }

    /// What becomes of a coil under the blade of its sheet.
    fn cut(
        &mut self,
        frozen: &Frozen,
        annealed: bool,
        blade: Option<Id<Blade>>,
        turns: u32,
    ) -> Result<Counts, PageError> {
        let Some((id, planned)) = blade.zip(frozen.blade()) else {
            return Err(PageError::NotFound { what: "blade of the invented sheet" });
        };
        let record: Blade = self.act.get(id)?;
        let cut = Cut {
            metal: (&frozen.metal_key, if annealed { "annealed" } else { &frozen.temper }),
            wire_mm: frozen.wire_diameter_mm,
            rod_mm: frozen.rod.mandrel_diameter_mm,
            projection_mm: planned.projection_mm,
            taped: true,
            lubricated: true,
        };
        Ok(self.cutting.coil(cut, &record, turns, self.chance))
    }

    /// Ten rings measured, a batch made, a trial for every coil.
    fn finish(&mut self, run: &mut Run, frozen: &Frozen) -> Result<(), PageError> {
        let inside_mm = self.measure(frozen)?;
        let coils = self.act.run_at_bench(self.run)?.coils;
        let made_on = self.calendar.day(self.day);
        let good: u32 = coils.iter().map(|coil| coil.record.good).sum();
        let rod_typed = format!("{} mm", frozen.rod.mandrel_diameter_mm);
        for coil in &coils {
            self.add_trial(&coil.record, run, frozen, &made_on)?;
        }
        self.act.add(&Batch {
            code: format!("{}-{}", &made_on[2..7].replace('-', ""), self.run),
            made_on,
            run_id: Some(self.run),
            wire_lot_id: run.wire_lot_id,
            metal: frozen.metal_key.clone(),
            temper: frozen.temper.clone(),
            wire_typed: frozen.wire_typed.clone(),
            wire_mm: frozen.wire_diameter_mm,
            rod_typed: Some(rod_typed),
            rod_mm: Some(frozen.rod.mandrel_diameter_mm),
            inside_mm: Some(inside_mm),
            inside_readings: Some(READINGS),
            closed_inside_mm: None,
            closed_how: String::new(),
            rings: good,
            rings_uncertainty: None,
            counted_how: "counted coil by coil".to_owned(),
            place: format!("drawer {}", self.chance.random_range(1..9)),
            note: String::new(),
            gone_on: (self.chance.random_range(0..3) > 0).then(|| self.calendar.day(self.day + 8)),
        })?;
        run.step = "done".to_owned();
        run.coil_number = u32::try_from(coils.len()).unwrap_or(1);
        run.finished_at = Some(self.calendar.moment(self.day, 15 * 60));
        Ok(())
    }

    /// A counted coil is a trial.
    fn add_trial(
        &self,
        coil: &Coil,
        run: &Run,
        frozen: &Frozen,
        day: &str,
    ) -> Result<(), PageError> {
        let named = |blade: Option<Id<Blade>>| {
            let mut names = self.shelf.blades.iter();
            names
                .find(|(_, id)| Some(**id) == blade)
                .map_or_else(String::new, |(name, _)| name.clone())
        };
        self.act.add(&Trial {
            tried_on: day.to_owned(),
            source: TrialSource::Run,
            metal: frozen.metal_key.clone(),
            temper: frozen.temper.clone(),
            annealed: run.annealed_at.is_some(),
            wire_typed: frozen.wire_typed.clone(),
            wire_mm: frozen.wire_diameter_mm,
            rod_typed: format!("{} mm", frozen.rod.mandrel_diameter_mm),
            rod_mm: frozen.rod.mandrel_diameter_mm,
            wire_lot_id: run.wire_lot_id,
            blade_id: coil.blade_id,
            blade_name: named(coil.blade_id),
            blade_diameter_mm: frozen.blade().map(|blade| blade.blade_diameter_mm),
            projection_typed: frozen.blade().map(|blade| format!("{:.2} mm", blade.projection_mm)),
            projection_mm: frozen.blade().map(|blade| blade.projection_mm),
            inside_typed: None,
            inside_mean_mm: None,
            inside_readings: None,
            turns_wound: Some(coil.turns_wound),
            turns_relaxed: coil.turns_relaxed,
            good: Some(coil.good),
            uncut: Some(coil.uncut),
            nicked: Some(coil.nicked),
            crushed: Some(coil.crushed),
            blade_event: BladeEvent::None,
            outcome: if (coil.nicked + coil.crushed) * 9 > coil.good {
                Outcome::Poor
            } else {
                Outcome::Good
            },
            run_id: Some(self.run),
            coil_number: Some(coil.number),
            worker: String::new(),
            note: String::new(),
        })?;
        Ok(())
    }

    /// Ten rings; what a lot does on a rod it does again.
    fn measure(&mut self, frozen: &Frozen) -> Result<f64, PageError> {
        let rod = frozen.rod.name.clone();
        let lot = frozen.lot.clone().unwrap_or_default();
        let foreseen_mm = frozen.rod.predicted_inside_diameter_mm;
        let off_mm = self.chance.random_range(-0.03..0.03);
        let true_mm = *self.known.entry((lot, rod)).or_insert(foreseen_mm + off_mm);
        let spread = Normal::new(0.0, SPREAD_MM)
            .unwrap_or_else(|_| unreachable!("a spread is a positive number"));
        let mut sum_mm = 0.0;
        for position in 1..=READINGS {
            let read_mm = ((true_mm + spread.sample(self.chance)) * 100.0).round() / 100.0;
            sum_mm += read_mm;
            self.act.add(&Reading {
                run_id: self.run,
                position,
                typed: format!("{read_mm:.2} mm"),
                inside_mm: read_mm,
            })?;
        }
        Ok(sum_mm / f64::from(READINGS))
    }
}

/// The thin blade broke: why was looked into, and a new one fitted.
fn replace_thin_blade(
    act: &Act<'_>,
    calendar: Calendar,
    shelf: &mut Shelf,
    day: i64,
) -> Result<(), StoreError> {
    let thin: Vec<String> =
        shelf.blades.keys().filter(|name| name.starts_with("small, thin")).cloned().collect();
    let Some(name) = thin.last() else { return Ok(()) };
    let id = shelf.blades[name];
    let mut broken: Blade = act.get(id)?;
    act.add(&Fault {
        symptom: "F01".to_owned(),
        cause: "F01a".to_owned(),
        found_on: calendar.day(day),
        run_id: None,
        blade_id: Some(id),
        note: "coil moved: tape had come off".to_owned(),
    })?;
    let next = format!("small, thin {}", thin.len() + 1);
    let fresh = Blade { name: next.clone(), fitted_on: Some(calendar.day(day)), ..broken.clone() };
    let fresh = act.add(&fresh)?;
    broken.retired_on = Some(calendar.day(day));
    broken.retired_why = "broke".to_owned();
    act.change(id, &broken)?;
    let mut holder: Holder = act.get(shelf.holder)?;
    holder.projection_blade_id = Some(fresh);
    act.change(shelf.holder, &holder)?;
    shelf.blades.insert(next, fresh);
    Ok(())
}
