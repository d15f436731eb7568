//! Records written with the keys of the order and workshop files, sizes as they were typed.

use linkwright_answers::chain::name_of_size;
use linkwright_answers::files::{from_json, metals_toml};
use linkwright_calc::quantity::{Mass, parse_length};
use linkwright_store::records::{
    Blade, FurtherRing, Holder, LineKind, MetalOverlay, OrderLine, Reading, RingOrder, Rod, Trial,
    WireLot, Workshop,
};
use linkwright_store::{Bench, LotOnShelf, RunMeasured, Saved};
use serde_json::{Map, Value, json};

use super::Obstacle;

/// Two rods count as the same if their sizes are this close.
const SAME_ROD_MM: f64 = 0.005;

/// The order with its lines, each with its further ring sizes.
pub(crate) fn order_as_json<'a>(
    order: &RingOrder,
    lines: impl IntoIterator<Item = (&'a OrderLine, &'a [FurtherRing])>,
    rods: &[Saved<Rod>],
) -> Value {
    let lines = lines.into_iter().map(|(line, further)| line_as_json(line, further, rods));
    json!({ "order": order.name, "date": order.asked_on, "line": lines.collect::<Vec<_>>() })
}

/// The line of an order, as JSON, that a run sheet of this name is for.
pub(super) fn line_of_sheet<'a>(order: &'a Value, sheet: &str) -> Option<&'a Value> {
    order["line"].as_array()?.iter().find(|line| {
        let name = line["name"].as_str().unwrap_or_default();
        let further = line["other_rings"].as_array().map_or(0, Vec::len);
        (1..=1 + further).any(|size| name_of_size(name, size) == sheet)
    })
}

fn line_as_json(line: &OrderLine, further: &[FurtherRing], rods: &[Saved<Rod>]) -> Value {
    let mut keys = Keys::default();
    keys.put("name", line.name.as_str());
    keys.put("metal", line.metal.as_str());
    keys.put("temper", line.temper.as_str());
    let own = [&line.ring_typed, &line.tolerance_typed, &line.rod_typed];
    ring(&mut keys, &line.wire_typed, own, rods);
    if !further.is_empty() {
        let others = further.iter().map(|size| {
            let mut keys = Keys::default();
            let typed = [&size.ring_typed, &size.tolerance_typed, &size.rod_typed];
            ring(&mut keys, &size.wire_typed, typed, rods);
            keys.done()
        });
        keys.put("other_rings", others.collect::<Vec<_>>());
    }
    keys.if_any("pattern", line.pattern.as_deref());
    match line.kind {
        LineKind::Rings => keys.if_any("rings", line.rings),
        LineKind::Chain => piece(&mut keys, line),
        LineKind::Kits => {
            let mut kits = Keys::default();
            kits.if_any("count", line.kits);
            kits.if_any("rings_each", line.rings_each);
            kits.put("spare_each", line.spare_each.unwrap_or(0));
            keys.put("kits", kits.done());
            if line.chain_length_typed.is_some() || line.girth_typed.is_some() {
                piece(&mut keys, line);
            }
        }
    }
    keys.if_any("spare", line.spare_typed.as_ref().map(|typed| count_or_words(typed)));
    keys.done()
}

/// A ring size: its wire, with its ring and tolerance or its rod.
fn ring(
    keys: &mut Keys,
    wire: &str,
    [ring, tolerance, rod]: [&Option<String>; 3],
    rods: &[Saved<Rod>],
) {
    keys.put("wire", wire);
    keys.if_any("ring", ring.as_deref());
    keys.if_any("tolerance", tolerance.as_deref());
    keys.if_any("rod", rod.as_ref().map(|typed| rod_meant(typed, rods)));
}

/// The chain or the sheet of a line.
fn piece(keys: &mut Keys, line: &OrderLine) {
    let mut piece = Keys::default();
    piece.if_any("length", line.chain_length_typed.as_deref());
    if let Some(across) = &line.across_typed {
        piece.put("width", across.as_str());
        keys.put("sheet", piece.done());
        return;
    }
    piece.if_any("round", line.girth_typed.as_deref());
    piece.if_any("ease", line.ease_typed.as_deref());
    piece.if_any("clasp", line.clasp_typed.as_deref());
    piece.if_any("end_rings", line.end_rings);
    keys.put("chain", piece.done());
}

/// The size of the rod that is marked as typed, measured where it was; else what was typed.
fn rod_meant(typed: &str, rods: &[Saved<Rod>]) -> String {
    let Ok(length) = parse_length(typed) else { return typed.to_owned() };
    let mm = length.value().mm();
    let at = |other_mm: f64| (other_mm - mm).abs() < SAME_ROD_MM;
    let measured_so = rods.iter().any(|rod| at(rod.record.diameter_mm()));
    let marked_so = rods.iter().find(|rod| at(rod.record.marked_mm));
    match marked_so {
        Some(rod) if !measured_so => rod_size(&rod.record).to_owned(),
        _ => typed.to_owned(),
    }
}

fn rod_size(rod: &Rod) -> &str {
    rod.measured_typed.as_deref().unwrap_or(&rod.marked_typed)
}

/// A bare count as a number, anything else as words, as the order file has spare rings.
fn count_or_words(typed: &str) -> Value {
    typed.trim().parse::<u32>().map_or_else(|_| Value::from(typed), Value::from)
}

/// The workshop; the wire is what is left of it.
pub(crate) fn workshop_as_json(bench: &Bench) -> Result<Value, Obstacle> {
    let habits = bench.workshop.as_ref().ok_or(Obstacle::NoWorkshop)?;
    let holder = bench.holder.as_ref().ok_or(Obstacle::NoHolder)?;
    let wire: Vec<Value> = bench.wire.iter().map(lot_as_json).collect();
    let mut keys = Keys::default();
    keys.put("workshop", habits.name.as_str());
    keys.put("confidence", habits.confidence.as_str());
    keys.put("holder", holder_as_json(holder, &bench.blades)?);
    keys.put("losses", losses_as_json(habits, bench));
    keys.put(
        "minutes",
        json!({ "set_up": habits.set_up_minutes, "per_coil": habits.per_coil_minutes }),
    );
    keys.put("rod", bench.rods.iter().map(|rod| rod_as_json(&rod.record)).collect::<Vec<_>>());
    keys.put(
        "blade",
        bench.blades.iter().map(|blade| blade_as_json(&blade.record)).collect::<Vec<_>>(),
    );
    keys.put("wire", wire);
    let mut workshop = keys.done();
    take_used_wire(&mut workshop, bench)?;
    Ok(workshop)
}

/// Puts what is left in the place of what was bought, for lots that runs have taken from.
fn take_used_wire(workshop: &mut Value, bench: &Bench) -> Result<(), Obstacle> {
    if bench.wire.iter().all(|shelf| shelf.taken_g <= 0.0) {
        return Ok(());
    }
    let metals = metals_toml::catalogue("own metals", &metals_text(&bench.metals))?;
    let as_bought = from_json::workshop(workshop, &metals).map_err(Obstacle::in_workshop)?;
    for (at, shelf) in bench.wire.iter().enumerate().filter(|(_, shelf)| shelf.taken_g > 0.0) {
        let left = as_bought.wire[at].lot.mass_left(Mass::from_g(shelf.taken_g));
        if let Some(Value::Object(lot)) = workshop["wire"].get_mut(at) {
            lot.remove("length");
            lot.insert("mass".to_owned(), Value::from(format!("{} g", left.g())));
        }
    }
    Ok(())
}

fn holder_as_json(holder: &Holder, blades: &[Saved<Blade>]) -> Result<Value, Obstacle> {
    let mut keys = Keys::default();
    keys.put("length", holder.length_typed.as_str());
    keys.if_any("head_start", holder.head_start_typed.as_deref());
    keys.if_any("stop_setback", holder.stop_setback_typed.as_deref());
    if let (Some(id), Some(typed)) = (holder.projection_blade_id, &holder.projection_typed) {
        let blade = blades.iter().find(|blade| blade.id == id).ok_or(Obstacle::BladeRetired)?;
        keys.put("projection", json!({ "blade": blade.record.name, "measured": typed }));
    }
    keys.put("squash", holder.squash_typed.as_str());
    keys.put("margin", holder.margin_typed.as_str());
    Ok(keys.done())
}

fn losses_as_json(habits: &Workshop, bench: &Bench) -> Value {
    let mut keys = Keys::default();
    keys.put("end_turns", habits.end_turns);
    keys.if_any("stop_turns", habits.stop_turns);
    keys.put("tails", habits.tails.as_str());
    keys.put("packing", habits.packing);
    let counted =
        bench.counted.map(|rings| json!({ "good": rings.good, "rejected": rings.rejected }));
    keys.if_any("counted", counted);
    keys.done()
}

fn rod_as_json(rod: &Rod) -> Value {
    json!({ "name": rod.name, "diameter": rod_size(rod) })
}

fn blade_as_json(blade: &Blade) -> Value {
    let mut keys = Keys::default();
    keys.put("name", blade.name.as_str());
    keys.put("diameter", blade.diameter_typed.as_str());
    keys.put("kerf", blade.kerf_typed.as_str());
    keys.if_any("teeth", blade.teeth);
    keys.if_any("hub", blade.hub_typed.as_deref());
    keys.done()
}

fn lot_as_json(shelf: &LotOnShelf) -> Value {
    let lot: &WireLot = &shelf.lot.record;
    let mut keys = Keys::default();
    keys.put("name", lot.name.as_str());
    keys.put("metal", lot.metal.as_str());
    keys.put("temper", lot.temper.as_str());
    keys.put("diameter", lot.diameter_typed.as_str());
    keys.if_any("measured_diameter", lot.measured_diameter_typed.as_deref());
    keys.if_any("measured_density_g_cm3", lot.measured_density_g_cm3);
    keys.if_any("length", lot.length_typed.as_deref());
    keys.if_any("mass", lot.mass_typed.as_deref());
    keys.if_any("price", lot.price_typed.as_deref());
    keys.if_any("price_date", lot.price_date.as_deref());
    keys.put("annealed", lot.annealed);
    let trials = shelf.trials.iter().map(|trial| trial_as_json(&trial.record));
    let runs = shelf.runs.iter().filter_map(run_as_json);
    keys.put("tried", trials.chain(runs).collect::<Vec<_>>());
    keys.done()
}

fn trial_as_json(trial: &Trial) -> Value {
    let mut keys = Keys::default();
    keys.put("rod", format!("{} mm", trial.rod_mm));
    let mean = trial.inside_mean_mm.map(|mean_mm| format!("{mean_mm} mm"));
    keys.if_any("inside", trial.inside_typed.clone().or(mean));
    keys.put("annealed", trial.annealed);
    keys.put("date", trial.tried_on.as_str());
    keys.done()
}

fn run_as_json(measured: &RunMeasured) -> Option<Value> {
    let inside: Vec<String> =
        measured.readings.iter().map(|reading| in_mm(&reading.record)).collect();
    Some(json!({
        "rod": format!("{} mm", measured.rod_mm?),
        "inside": format!("{} mm", inside.join(" ")),
        "annealed": measured.run.record.annealed_at.is_some(),
        "date": measured.run.record.started_at.date().to_string(),
    }))
}

/// A reading in millimetres, with the digits that were typed if it was typed in millimetres: they
/// say how finely it was read.
fn in_mm(reading: &Reading) -> String {
    let typed = reading.typed.trim();
    let number = typed.strip_suffix("mm").unwrap_or(typed).trim();
    let plain =
        number.chars().all(|c| c.is_ascii_digit() || c == '.') && number.parse::<f64>().is_ok();
    if plain { number.to_owned() } else { reading.inside_mm.to_string() }
}

/// The workshop's own metals as a metals file.
pub(crate) fn metals_text(own: &[Saved<MetalOverlay>]) -> String {
    own.iter().fold(String::new(), |mut text, overlay| {
        let entry = overlay.record.entry.trim();
        if !entry.contains("[[metal]]") {
            text.push_str("[[metal]]\n");
        }
        text.push_str(entry);
        text.push_str("\n\n");
        text
    })
}

/// A JSON object under way.
#[derive(Default)]
struct Keys(Map<String, Value>);

impl Keys {
    fn put(&mut self, key: &str, value: impl Into<Value>) {
        self.0.insert(key.to_owned(), value.into());
    }

    fn if_any(&mut self, key: &str, value: Option<impl Into<Value>>) {
        if let Some(value) = value {
            self.put(key, value);
        }
    }

    fn done(self) -> Value {
        Value::Object(self.0)
    }
}
