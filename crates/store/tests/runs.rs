//! Runs through the door of the store.

use linkwright_store::records::{
    Blade, BladeEvent, Coil, FrozenSheet, RingOrder, Run, Tick, WireLot,
};
use linkwright_store::{Id, Moment, RingCount, RunMade, Store, StoreError};

fn now() -> Moment {
    Moment::parse("2026-11-25T08:30:00Z").expect("a moment")
}

fn blade(name: &str) -> Blade {
    Blade {
        name: name.to_owned(),
        diameter_typed: "32 mm".to_owned(),
        diameter_mm: 32.0,
        kerf_typed: "0.25 mm".to_owned(),
        kerf_mm: 0.25,
        teeth: None,
        hub_typed: None,
        hub_mm: None,
        fitted_on: None,
        rings_before: 0,
        cut_before_mm2: 0.0,
        retired_on: None,
        retired_why: String::new(),
        note: String::new(),
    }
}

fn lot() -> WireLot {
    WireLot {
        name: "reel 7".to_owned(),
        metal: "copper".to_owned(),
        temper: "soft".to_owned(),
        diameter_typed: "1 mm".to_owned(),
        diameter_mm: 1.0,
        measured_diameter_typed: None,
        measured_diameter_mm: None,
        measured_density_g_cm3: None,
        length_typed: Some("6 m".to_owned()),
        mass_typed: None,
        annealed: false,
        price_typed: None,
        price_date: None,
        supplier: String::new(),
        bought_on: None,
        note: String::new(),
        finished_on: None,
        finished_why: String::new(),
    }
}

fn coil(run_id: Id<Run>, number: u32, blade: Id<Blade>) -> Coil {
    Coil {
        run_id,
        number,
        turns_target: 47,
        turns_wound: 0,
        wound_at: None,
        turns_relaxed: None,
        off_at: None,
        pieces: None,
        blade_id: Some(blade),
        projection_typed: None,
        projection_mm: None,
        clamped_at: None,
        slit_at: None,
        good: 0,
        uncut: 0,
        nicked: 0,
        crushed: 0,
        counted_at: None,
        blade_event: BladeEvent::None,
        note: String::new(),
    }
}

struct Made {
    run: Id<Run>,
    coils: [Id<Coil>; 2],
    blades: [Id<Blade>; 2],
    lot: Id<WireLot>,
}

/// A run of two coils, slit by two blades.
fn run_of_two(store: &Store) -> Made {
    let saved = store.act::<_, StoreError>(now(), "A run", |act| {
        let blades = [act.add(&blade("one"))?, act.add(&blade("two"))?];
        let lot = act.add(&lot())?;
        let order_id = act.add(&RingOrder {
            name: "order".to_owned(),
            asked_on: "2026-11-25".to_owned(),
            due_on: None,
            buyer: String::new(),
            note: String::new(),
            closed_on: None,
        })?;
        let frozen_sheet_id = act.add(&FrozenSheet {
            order_id,
            line_name: "line".to_owned(),
            frozen_at: now(),
            program_version: "test".to_owned(),
            inputs: "{}".to_owned(),
            answer: "{}".to_owned(),
        })?;
        let run = act.add(&Run {
            frozen_sheet_id,
            name: "order, line".to_owned(),
            started_at: now(),
            finished_at: None,
            step: "wire".to_owned(),
            coil_number: 1,
            wire_lot_id: Some(lot),
            wire_in_g: Some(19.9),
            annealed_at: None,
            anneal_skipped: false,
            set_aside_why: None,
            called_off_why: None,
            note: String::new(),
        })?;
        let coils = [act.add(&coil(run, 1, blades[0]))?, act.add(&coil(run, 2, blades[1]))?];
        Ok(Made { run, coils, blades, lot })
    });
    saved.expect("saved")
}

#[test]
fn what_a_run_and_a_blade_made_is_the_sum_of_the_coils_that_are_counted() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let Made { run, coils, blades, lot } = run_of_two(&store);
    let counted = store.act::<_, StoreError>(now(), "Counted", |act| {
        act.count_rings(coils[0], RingCount::Good, 40)?;
        act.count_rings(coils[0], RingCount::Uncut, 3)?;
        act.count_rings(coils[1], RingCount::Good, 7)?;
        let mut first: Coil = act.get(coils[0])?;
        first.counted_at = Some(now());
        act.change(coils[0], &first)
    });
    counted.expect("saved");
    let first = RunMade { good: 40, uncut: 3, coils_counted: 1, ..RunMade::default() };
    let read = store.read::<_, StoreError>(|view| {
        Ok((
            view.made_in_run(run)?,
            view.made_with_blade(blades[0])?,
            view.made_with_blade(blades[1])?,
            view.wire_taken_g(lot)?,
            view.runs_in_hand()?.len(),
            view.runs_done(10)?.len(),
        ))
    });
    assert_eq!(read.expect("read"), (first, first, RunMade::default(), 19.9, 1, 0));
}

#[test]
fn counts_step_from_what_the_file_holds_and_never_below_none_and_undo_brings_them_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let Made { coils, .. } = run_of_two(&store);
    for by in [10, 10, -1, -100, 5] {
        store
            .act::<_, StoreError>(now(), "Turns", |act| act.wind_turns(coils[0], by))
            .expect("saved");
    }
    let wound = || {
        let read: Result<Coil, StoreError> = store.read(|view| view.get(coils[0]));
        read.expect("there").turns_wound
    };
    assert_eq!(wound(), 5);
    store.undo_last(now()).expect("undone");
    store.undo_last(now()).expect("undone");
    assert_eq!(wound(), 19);
    let nowhere = store.act::<_, StoreError>(now(), "Turns", |act| act.wind_turns(Id::new(99), 1));
    assert!(matches!(nowhere, Err(StoreError::NotFound { record: "coil", number: 99 })));
}

#[test]
fn a_tick_is_kept_once_and_readings_take_the_next_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
    let Made { run, .. } = run_of_two(&store);
    let saved = store.act::<_, StoreError>(now(), "Ticked", |act| {
        act.tick(run, 1, "drive", now())?;
        act.tick(run, 1, "drive", now())?;
        act.tick(run, 2, "drive", now())?;
        act.untick(run, 2, "drive")?;
        act.add_reading(run, "4.12 mm", 4.12)?;
        act.add_reading(run, "4.15 mm", 4.15)
    });
    saved.expect("saved");
    let bench = store.read::<_, StoreError>(|view| view.run_at_bench(run)).expect("read");
    let ticks: Vec<&Tick> = bench.ticks.iter().map(|tick| &tick.record).collect();
    assert_eq!(ticks.len(), 1);
    assert_eq!((ticks[0].coil_number, ticks[0].item.as_str()), (1, "drive"));
    let places: Vec<u32> = bench.readings.iter().map(|reading| reading.record.position).collect();
    assert_eq!(places, [1, 2]);
}
