//! What the sample workshop has: habits, rods, blades, holder, wire.

use std::collections::BTreeMap;

use linkwright_store::records::{Blade, Holder, Rod, WireLot, Workshop};
use linkwright_store::{Act, Id, StoreError};

use super::Calendar;

/// What later parts of the year refer to.
pub(super) struct Shelf {
    pub(super) lots: BTreeMap<&'static str, (Id<WireLot>, Lot)>,
    pub(super) blades: BTreeMap<String, Id<Blade>>,
    pub(super) holder: Id<Holder>,
}

/// A reel as bought.
#[derive(Clone, Copy)]
pub(super) struct Lot {
    pub(super) name: &'static str,
    pub(super) metal: &'static str,
    pub(super) temper: &'static str,
    pub(super) typed: &'static str,
    pub(super) mm: f64,
    pub(super) measured: Option<(&'static str, f64)>,
    mass: &'static str,
    price: &'static str,
    day: i64,
}

const fn lot(
    name: &'static str,
    kind: (&'static str, &'static str),
    size: (&'static str, f64),
    mass: &'static str,
    price: &'static str,
    day: i64,
) -> Lot {
    let (metal, temper) = kind;
    Lot { name, metal, temper, typed: size.0, mm: size.1, measured: None, mass, price, day }
}

const STERLING: (&str, &str) = ("sterling_925", "annealed");
const COPPER: (&str, &str) = ("copper_c110", "annealed");

/// Wire of the year; prices are invented.
const LOTS: [Lot; 13] = [
    lot("silver reel 7", STERLING, ("1.02 mm", 1.02), "420 g", "1.10 EUR per g", 3),
    lot("silver reel 8", STERLING, ("20 awg", 0.811_8), "240 g", "1.12 EUR per g", 40),
    lot(
        "silver, springy",
        ("sterling_925", "half hard wire"),
        ("18 awg", 1.023_6),
        "180 g",
        "1.15 EUR per g",
        120,
    ),
    lot("silver, heavy", STERLING, ("1.5 mm", 1.5), "300 g", "1.09 EUR per g", 95),
    lot("copper, class", COPPER, ("16 awg", 1.290_9), "4 kg", "0.028 EUR per g", 2),
    lot("copper, thin", COPPER, ("20 awg", 0.811_8), "1.5 kg", "0.031 EUR per g", 2),
    lot("copper, heavy", COPPER, ("12 awg", 2.052_5), "1 kg", "0.027 EUR per g", 35),
    lot("copper, fine", COPPER, ("0.6 mm", 0.6), "400 g", "0.036 EUR per g", 150),
    lot(
        "brass 20",
        ("brass_c260", "half hard wire H02"),
        ("0.81 mm", 0.81),
        "900 g",
        "0.034 EUR per g",
        20,
    ),
    lot(
        "bronze 14",
        ("bronze_c220", "annealed"),
        ("14 awg", 1.627_7),
        "2 kg",
        "0.038 EUR per g",
        60,
    ),
    lot(
        "gold filled 3",
        ("gf_14_20_c260", "half hard"),
        ("20 awg", 0.811_8),
        "110 g",
        "2.90 EUR per g",
        80,
    ),
    lot(
        "fine silver 2",
        ("fine_silver", "annealed"),
        ("0.8 mm", 0.8),
        "120 g",
        "1.20 EUR per g",
        140,
    ),
    lot(
        "nickel silver",
        ("nickel_silver_c752", "annealed"),
        ("18 awg", 1.023_6),
        "600 g",
        "0.041 EUR per g",
        30,
    ),
];

/// A rod: its name, its size as marked, and as measured if it was, mm.
type MarkedRod = (&'static str, f64, Option<(&'static str, f64)>);

/// Rods of the year.
const RODS: [MarkedRod; 14] = [
    ("2.5", 2.5, Some(("2.50 mm", 2.5))),
    ("3.0", 3.0, Some(("2.99 mm", 2.99))),
    ("3.5", 3.5, Some(("3.51 mm", 3.51))),
    ("4.0", 4.0, Some(("4.00 mm", 4.0))),
    ("4.5", 4.5, None),
    ("5.0", 5.0, Some(("5.02 mm", 5.02))),
    ("5.5", 5.5, None),
    ("6.0", 6.0, Some(("6.00 mm", 6.0))),
    ("6.5", 6.5, None),
    ("7.0", 7.0, Some(("6.98 mm", 6.98))),
    ("8.0", 8.0, None),
    ("9.0", 9.0, None),
    ("10", 10.0, None),
    ("12", 12.0, None),
];

/// Puts everything on the shelf.
pub(super) fn stock(act: &Act<'_>, calendar: Calendar) -> Result<Shelf, StoreError> {
    act.add(&Workshop {
        name: "Harbour Street bench".to_owned(),
        confidence: "95 %".to_owned(),
        end_turns: 2,
        stop_turns: Some(3),
        tails: "40 mm".to_owned(),
        packing: 1.01,
        set_up_minutes: 20.0,
        per_coil_minutes: 8.5,
        sample: true,
        hour_cost_typed: Some("38 EUR".to_owned()),
        ring_worth_typed: Some("0.45 EUR".to_owned()),
        scrap_paid_typed: Some("80 %".to_owned()),
    })?;
    for (name, marked_mm, measured) in RODS {
        act.add(&Rod {
            name: name.to_owned(),
            marked_typed: format!("{marked_mm} mm"),
            marked_mm,
            measured_typed: measured.map(|(typed, _)| typed.to_owned()),
            measured_mm: measured.map(|(_, mm)| mm),
            note: if name == "3.0" { "a drill shank".to_owned() } else { String::new() },
            retired_on: None,
            retired_why: String::new(),
        })?;
    }
    let mut blades = BTreeMap::new();
    for (name, diameter, kerf, teeth, day) in [
        ("small, thin", ("1 1/4 in", 31.75), ("0.25 mm", 0.25), 250, 4),
        ("small, fine teeth", ("1 1/4 in", 31.75), ("0.20 mm", 0.20), 320, 30),
        ("large", ("1 1/2 in", 38.1), ("0.30 mm", 0.30), 200, 12),
    ] {
        let id = act.add(&blade(name, diameter, kerf, teeth, calendar.day(day)))?;
        blades.insert(name.to_owned(), id);
    }
    let mut old =
        blade("large, old", ("1 1/2 in", 38.1), ("0.30 mm", 0.30), 200, calendar.day(-200));
    old.rings_before = 6_400;
    old.cut_before_mm2 = 7_900.0;
    old.retired_on = Some(calendar.day(12));
    old.retired_why = "two teeth gone".to_owned();
    blades.insert(old.name.clone(), act.add(&old)?);
    let holder = act.add(&Holder {
        name: "plates with the slotted cover".to_owned(),
        length_typed: "75 mm".to_owned(),
        head_start_typed: None,
        stop_setback_typed: Some("3 mm".to_owned()),
        squash_typed: "0.05 mm".to_owned(),
        margin_typed: "0.30 mm".to_owned(),
        projection_blade_id: blades.get("small, thin").copied(),
        projection_typed: Some("1.90 mm".to_owned()),
        in_use: true,
        note: String::new(),
    })?;
    let mut lots = BTreeMap::new();
    for lot in LOTS {
        lots.insert(lot.name, (act.add(&reel(&lot, calendar))?, lot));
    }
    Ok(Shelf { lots, blades, holder })
}

/// A blade that came last and was not tried yet.
pub(super) fn new_blade(act: &Act<'_>, fitted_on: String) -> Result<(), StoreError> {
    let coarse = blade("small, coarse", ("1 1/4 in", 31.75), ("0.15 mm", 0.15), 140, fitted_on);
    act.add(&coarse).map(drop)
}

fn blade(
    name: &str,
    diameter: (&str, f64),
    kerf: (&str, f64),
    teeth: u32,
    fitted_on: String,
) -> Blade {
    Blade {
        name: name.to_owned(),
        diameter_typed: diameter.0.to_owned(),
        diameter_mm: diameter.1,
        kerf_typed: kerf.0.to_owned(),
        kerf_mm: kerf.1,
        teeth: Some(teeth),
        hub_typed: Some("12 mm".to_owned()),
        hub_mm: Some(12.0),
        fitted_on: Some(fitted_on),
        rings_before: 0,
        cut_before_mm2: 0.0,
        retired_on: None,
        retired_why: String::new(),
        note: String::new(),
    }
}

fn reel(lot: &Lot, calendar: Calendar) -> WireLot {
    WireLot {
        name: lot.name.to_owned(),
        metal: lot.metal.to_owned(),
        temper: lot.temper.to_owned(),
        diameter_typed: lot.typed.to_owned(),
        diameter_mm: lot.mm,
        measured_diameter_typed: lot.measured.map(|(typed, _)| typed.to_owned()),
        measured_diameter_mm: lot.measured.map(|(_, mm)| mm),
        measured_density_g_cm3: None,
        length_typed: None,
        mass_typed: Some(lot.mass.to_owned()),
        annealed: false,
        price_typed: Some(lot.price.to_owned()),
        price_date: Some(calendar.day(lot.day)),
        supplier: "counter at the quay".to_owned(),
        bought_on: Some(calendar.day(lot.day)),
        note: String::new(),
        finished_on: None,
        finished_why: String::new(),
    }
}
