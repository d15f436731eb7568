//! The example files as the records a jeweller would have typed.

use std::fs;
use std::path::{Path, PathBuf};

use linkwright_store::records::{
    Blade, BladeEvent, FurtherRing, Holder, LineKind, OrderLine, Outcome, RingOrder, Rod, Trial,
    TrialSource, WireLot, Workshop,
};
use linkwright_store::{Act, Id};
use toml::Value;

/// Where an example file is.
pub fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

fn read(name: &str) -> Value {
    let text = fs::read_to_string(path(name)).expect("the example");
    toml::from_str(&text).expect("TOML")
}

/// The workshop file an order names.
pub fn workshop_of(order: &str) -> String {
    text(&read(order), "workshop").expect("a workshop")
}

fn text(of: &Value, key: &str) -> Option<String> {
    of.get(key).and_then(Value::as_str).map(str::to_owned)
}

fn must(of: &Value, key: &str) -> String {
    text(of, key).unwrap_or_else(|| panic!("{key} in {of}"))
}

fn whole(of: &Value, key: &str) -> Option<u32> {
    of.get(key).and_then(Value::as_integer).map(|whole| u32::try_from(whole).expect("small"))
}

fn decimal(of: &Value, key: &str) -> Option<f64> {
    let value = of.get(key)?;
    value.as_float().or_else(|| whole(of, key).map(f64::from))
}

fn list<'a>(of: &'a Value, key: &str) -> &'a [Value] {
    of.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

/// Millimetres of a size written in millimetres, or of the inches the examples use.
fn mm(typed: &str) -> f64 {
    match typed {
        "1 1/4 in" => 31.75,
        "1 1/2 in" => 38.1,
        "20 awg" => 0.8118,
        _ => typed.trim_end_matches(" mm").parse().unwrap_or_else(|_| panic!("{typed}")),
    }
}

/// Adds everything of a workshop file.
pub fn add_workshop(act: &Act<'_>, name: &str) {
    let file = read(name);
    let (losses, minutes) = (&file["losses"], &file["minutes"]);
    act.add(&Workshop {
        name: must(&file, "workshop"),
        confidence: text(&file, "confidence").unwrap_or_else(|| "95 %".to_owned()),
        end_turns: whole(losses, "end_turns").expect("end turns"),
        stop_turns: whole(losses, "stop_turns"),
        tails: must(losses, "tails"),
        packing: decimal(losses, "packing").expect("packing"),
        set_up_minutes: decimal(minutes, "set_up").expect("set-up"),
        per_coil_minutes: decimal(minutes, "per_coil").expect("per coil"),
        sample: false,
        hour_cost_typed: None,
        ring_worth_typed: None,
        scrap_paid_typed: None,
    })
    .expect("saved");
    for rod in list(&file, "rod") {
        let marked_typed = must(rod, "diameter");
        act.add(&Rod {
            name: must(rod, "name"),
            marked_mm: mm(&marked_typed),
            marked_typed,
            measured_typed: None,
            measured_mm: None,
            note: String::new(),
            retired_on: None,
            retired_why: String::new(),
        })
        .expect("saved");
    }
    let mut blades = Vec::new();
    for blade in list(&file, "blade") {
        let (diameter_typed, kerf_typed) = (must(blade, "diameter"), must(blade, "kerf"));
        let id = act.add(&Blade {
            name: must(blade, "name"),
            diameter_mm: mm(&diameter_typed),
            diameter_typed,
            kerf_mm: mm(&kerf_typed),
            kerf_typed,
            teeth: whole(blade, "teeth"),
            hub_mm: text(blade, "hub").map(|typed| mm(&typed)),
            hub_typed: text(blade, "hub"),
            fitted_on: None,
            rings_before: 0,
            cut_before_mm2: 0.0,
            retired_on: None,
            retired_why: String::new(),
            note: String::new(),
        });
        blades.push((must(blade, "name"), id.expect("saved")));
    }
    let holder = &file["holder"];
    let projection = &holder["projection"];
    let of_blade = must(projection, "blade");
    act.add(&Holder {
        name: "long holder".to_owned(),
        length_typed: must(holder, "length"),
        head_start_typed: text(holder, "head_start"),
        stop_setback_typed: text(holder, "stop_setback"),
        squash_typed: must(holder, "squash"),
        margin_typed: must(holder, "margin"),
        projection_blade_id: blades.iter().find(|(name, _)| *name == of_blade).map(|(_, id)| *id),
        projection_typed: text(projection, "measured"),
        in_use: true,
        note: String::new(),
    })
    .expect("saved");
    for wire in list(&file, "wire") {
        add_wire(act, wire);
    }
}

fn add_wire(act: &Act<'_>, wire: &Value) {
    let diameter_typed = must(wire, "diameter");
    let lot = act
        .add(&WireLot {
            name: must(wire, "name"),
            metal: must(wire, "metal"),
            temper: must(wire, "temper"),
            diameter_mm: mm(&diameter_typed),
            diameter_typed: diameter_typed.clone(),
            measured_diameter_typed: None,
            measured_diameter_mm: None,
            measured_density_g_cm3: decimal(wire, "measured_density_g_cm3"),
            length_typed: text(wire, "length"),
            mass_typed: text(wire, "mass"),
            annealed: false,
            price_typed: text(wire, "price"),
            price_date: text(wire, "price_date"),
            supplier: String::new(),
            bought_on: None,
            note: String::new(),
            finished_on: None,
            finished_why: String::new(),
        })
        .expect("saved");
    for tried in list(wire, "tried") {
        let (rod, inside) = (must(tried, "rod"), must(tried, "inside"));
        let readings: Vec<f64> = inside.split(' ').filter_map(|word| word.parse().ok()).collect();
        let count = u32::try_from(readings.len()).expect("few");
        act.add(&Trial {
            tried_on: text(tried, "date").unwrap_or_else(|| "2026-10-01".to_owned()),
            source: TrialSource::Typed,
            metal: must(wire, "metal"),
            temper: must(wire, "temper"),
            annealed: tried.get("annealed").and_then(Value::as_bool).unwrap_or(false),
            wire_mm: mm(&diameter_typed),
            wire_typed: diameter_typed.clone(),
            rod_mm: mm(&rod),
            rod_typed: rod,
            wire_lot_id: Some(lot),
            blade_id: None,
            blade_name: String::new(),
            blade_diameter_mm: None,
            projection_typed: None,
            projection_mm: None,
            inside_mean_mm: Some(readings.iter().sum::<f64>() / f64::from(count)),
            inside_readings: Some(count),
            inside_typed: Some(inside),
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
        })
        .expect("saved");
    }
}

/// Adds an order file with its lines.
pub fn add_order(act: &Act<'_>, name: &str) -> Id<RingOrder> {
    let file = read(name);
    let order_id = act
        .add(&RingOrder {
            name: must(&file, "order"),
            asked_on: text(&file, "date").unwrap_or_else(|| "2026-11-25".to_owned()),
            due_on: None,
            buyer: String::new(),
            note: String::new(),
            closed_on: None,
        })
        .expect("saved");
    for (position, line) in (1..).zip(list(&file, "line")) {
        add_line(act, order_id, position, line);
    }
    order_id
}

fn add_line(act: &Act<'_>, order_id: Id<RingOrder>, position: u32, line: &Value) {
    let part = |key: &str| line.get(key);
    let (chain, sheet, kits) = (part("chain"), part("sheet"), part("kits"));
    let kind = match (chain.or(sheet), kits) {
        (_, Some(_)) => LineKind::Kits,
        (Some(_), _) => LineKind::Chain,
        _ => LineKind::Rings,
    };
    let id = act
        .add(&OrderLine {
            kind,
            rings: whole(line, "rings"),
            pattern: text(line, "pattern"),
            chain_length_typed: chain.or(sheet).and_then(|piece| text(piece, "length")),
            girth_typed: chain.and_then(|chain| text(chain, "round")),
            ease_typed: chain.and_then(|chain| text(chain, "ease")),
            across_typed: sheet.and_then(|sheet| text(sheet, "width")),
            end_rings: chain.and_then(|chain| whole(chain, "end_rings")),
            clasp_typed: chain.and_then(|chain| text(chain, "clasp")),
            kits: kits.and_then(|kits| whole(kits, "count")),
            rings_each: kits.and_then(|kits| whole(kits, "rings_each")),
            spare_each: kits.and_then(|kits| whole(kits, "spare_each")),
            metal: must(line, "metal"),
            temper: must(line, "temper"),
            wire_mm: mm(&must(line, "wire")),
            wire_typed: must(line, "wire"),
            ring_typed: text(line, "ring"),
            tolerance_typed: text(line, "tolerance"),
            rod_typed: text(line, "rod"),
            spare_typed: part("spare").map(|spare| match spare {
                Value::String(text) => text.clone(),
                other => other.to_string(),
            }),
            ..OrderLine::begun(order_id, position, must(line, "name"))
        })
        .expect("saved");
    for (size, ring) in (2..).zip(list(line, "other_rings")) {
        act.add(&FurtherRing {
            order_line_id: id,
            size,
            wire_typed: must(ring, "wire"),
            wire_mm: Some(mm(&must(ring, "wire"))),
            ring_typed: text(ring, "ring"),
            tolerance_typed: text(ring, "tolerance"),
            rod_typed: text(ring, "rod"),
        })
        .expect("saved");
    }
}
