//! The necklace of the worked examples (needs.md, T1) in a data file, ready to be made.

use std::path::Path;

use linkwright_answers::files::load::load;
use linkwright_answers::run_sheet::{Money, json};
use linkwright_store::records::{
    Blade, BladeEvent, Coil, FrozenSheet, Holder, Outcome, RingOrder, Rod, Run, Trial, TrialSource,
    WireLot, Workshop,
};
use linkwright_store::{Act, Id, Moment, StoreError};

use crate::bench::Bench;

/// A workshop with the necklace's run in hand; its number.
pub fn in_hand(bench: &Bench) -> Id<Run> {
    let now = bench.app.clock().now();
    let saved = bench.app.store().act::<_, StoreError>(now, "A necklace to make", |act| {
        workshop(act)?;
        run(act, now)
    });
    saved.expect("saved")
}

fn workshop(act: &Act<'_>) -> Result<(), StoreError> {
    act.add(&Workshop {
        name: "Harbour Street bench".to_owned(),
        confidence: "95 %".to_owned(),
        end_turns: 2,
        stop_turns: Some(3),
        tails: "40 mm".to_owned(),
        packing: 1.01,
        set_up_minutes: 20.0,
        per_coil_minutes: 8.5,
        sample: false,
        hour_cost_typed: None,
        ring_worth_typed: None,
        scrap_paid_typed: None,
    })?;
    for marked_mm in [3.5, 4.0, 4.5] {
        act.add(&Rod {
            name: format!("{marked_mm:.1}"),
            marked_typed: format!("{marked_mm:.2} mm"),
            marked_mm,
            measured_typed: None,
            measured_mm: None,
            note: String::new(),
            retired_on: None,
            retired_why: String::new(),
        })?;
    }
    let thin = act.add(&blade("small, thin", "1 1/4 in", 31.75, 0.25))?;
    act.add(&blade("large", "1 1/2 in", 38.1, 0.30))?;
    act.add(&Holder {
        name: "old holder".to_owned(),
        length_typed: "60 mm".to_owned(),
        head_start_typed: Some("8 mm".to_owned()),
        stop_setback_typed: Some("6 mm".to_owned()),
        squash_typed: "0.05 mm".to_owned(),
        margin_typed: "0.30 mm".to_owned(),
        projection_blade_id: Some(thin),
        projection_typed: Some("1.50 mm".to_owned()),
        in_use: true,
        note: String::new(),
    })?;
    let lot = act.add(&lot())?;
    act.add(&trial_of(lot))?;
    Ok(())
}

fn blade(name: &str, diameter_typed: &str, diameter_mm: f64, kerf_mm: f64) -> Blade {
    Blade {
        name: name.to_owned(),
        diameter_typed: diameter_typed.to_owned(),
        diameter_mm,
        kerf_typed: format!("{kerf_mm:.2} mm"),
        kerf_mm,
        teeth: Some(250),
        hub_typed: Some("12 mm".to_owned()),
        hub_mm: Some(12.0),
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
        name: "silver reel 7".to_owned(),
        metal: "sterling".to_owned(),
        temper: "soft".to_owned(),
        diameter_typed: "1.02 mm".to_owned(),
        diameter_mm: 1.02,
        measured_diameter_typed: None,
        measured_diameter_mm: None,
        measured_density_g_cm3: None,
        length_typed: Some("6 m".to_owned()),
        mass_typed: None,
        annealed: false,
        price_typed: Some("1.10 EUR per g".to_owned()),
        price_date: Some("2026-11-02".to_owned()),
        supplier: String::new(),
        bought_on: None,
        note: String::new(),
        finished_on: None,
        finished_why: String::new(),
    }
}

fn trial_of(lot: Id<WireLot>) -> Trial {
    Trial {
        tried_on: "2026-10-28".to_owned(),
        source: TrialSource::Typed,
        metal: "sterling".to_owned(),
        temper: "soft".to_owned(),
        annealed: false,
        wire_typed: "1.02 mm".to_owned(),
        wire_mm: 1.02,
        rod_typed: "4.00 mm".to_owned(),
        rod_mm: 4.0,
        wire_lot_id: Some(lot),
        blade_id: None,
        blade_name: String::new(),
        blade_diameter_mm: None,
        projection_typed: None,
        projection_mm: None,
        inside_typed: Some("4.12 4.15 4.14 4.16 4.13 mm".to_owned()),
        inside_mean_mm: Some(4.14),
        inside_readings: Some(5),
        turns_wound: None,
        turns_relaxed: None,
        good: None,
        uncut: None,
        nicked: None,
        crushed: None,
        blade_event: BladeEvent::None,
        outcome: Outcome::Good,
        run_id: None,
        coil_number: None,
        worker: String::new(),
        note: String::new(),
    }
}

/// The run, from the sheet that the example order comes to.
fn run(act: &Act<'_>, now: Moment) -> Result<Id<Run>, StoreError> {
    let order = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/necklace.toml");
    let loaded = load(&order, None).expect("the example order");
    let planned = loaded.plan(None).expect("a plan");
    let sheet = &planned.sheets[0];
    let order_id = act.add(&RingOrder {
        name: loaded.order.order.name,
        asked_on: "2026-11-20".to_owned(),
        due_on: None,
        buyer: String::new(),
        note: String::new(),
        closed_on: None,
    })?;
    let frozen_sheet_id = act.add(&FrozenSheet {
        order_id,
        line_name: sheet.line.name.clone(),
        frozen_at: now,
        program_version: "test".to_owned(),
        inputs: "{}".to_owned(),
        answer: serde_json::json!({ "sheet": json::sheet(sheet, Money::Shown) }).to_string(),
    })?;
    let run = act.add(&Run {
        frozen_sheet_id,
        name: "Ferry Lane 14, necklace".to_owned(),
        started_at: now,
        finished_at: None,
        step: "wire".to_owned(),
        coil_number: 1,
        wire_lot_id: None,
        wire_in_g: None,
        annealed_at: None,
        anneal_skipped: false,
        set_aside_why: None,
        called_off_why: None,
        note: String::new(),
    })?;
    let targets = sheet
        .coils
        .groups
        .iter()
        .flat_map(|group| std::iter::repeat_n(group.wound.get(), group.coils as usize));
    for (number, turns_target) in (1..).zip(targets) {
        act.add(&coil(run, number, turns_target))?;
    }
    Ok(run)
}

fn coil(run_id: Id<Run>, number: u32, turns_target: u32) -> Coil {
    Coil {
        run_id,
        number,
        turns_target,
        turns_wound: 0,
        wound_at: None,
        turns_relaxed: None,
        off_at: None,
        pieces: None,
        blade_id: None,
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
