//! The ring that every owned rod gives of every owned wire, slit and closed.

use std::collections::BTreeMap;
use std::sync::Arc;

use linkwright_calc::basis::Answer;
use linkwright_calc::coil::GoodRings;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::{Price, PricedMetal};
use linkwright_calc::plan::{
    Item, OrderLine, RingWanted, Rod, RunSheet, Spare, StockedWire, Workshop, plan_on_rods,
};
use linkwright_calc::quantity::{Density, Length};
use linkwright_calc::wind::{Mandrel, WireState};
use linkwright_calc::wire::Wire;

use crate::chain::AskedRing;

/// A ring the workshop can make.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnRing {
    /// Name of the lot of wire.
    pub lot: String,
    /// Key of its metal.
    pub metal: String,
    /// Trade name of its metal.
    pub metal_name: String,
    /// Temper of the lot.
    pub temper: String,
    /// The wire, as measured or as marked.
    pub wire: Answer<Wire>,
    /// Whether the wire is annealed before it is wound on this rod.
    pub anneal_first: bool,
    /// Name of the rod.
    pub rod: String,
    /// Diameter of the rod.
    pub rod_diameter: Length,
    /// The open ring off it.
    pub open_inside: Answer<Length>,
    /// The blade it is slit with.
    pub blade: String,
    /// The kerf of that blade.
    pub kerf: Length,
    /// The ring as closed.
    pub ring: AskedRing,
    /// Density of the wire.
    pub density: Answer<Density>,
    /// What the wire cost, if that is on record.
    pub price: Option<OwnPrice>,
}

/// The price of a lot of wire.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnPrice {
    /// Minor units of money for a gram of the wire as it lies on the scale.
    pub minor_per_gram: f64,
    /// The price as it was given.
    pub price: Price,
    /// Its date, as typed.
    pub date: Option<String>,
}

/// Every ring a workshop can make of its wire on its rods.
#[derive(Clone, Debug, Default)]
pub struct OwnRings {
    /// By lot and then by rod, thin rods first.
    pub(super) lots: Vec<Vec<Arc<OwnRing>>>,
    /// All rings of a metal, by its key.
    pub(super) by_metal: BTreeMap<String, Vec<Arc<OwnRing>>>,
    /// Wires on rods that give no ring: metal, and both with the reason.
    pub(super) no_ring: Vec<(String, String)>,
}

impl OwnRings {
    /// Works out what comes off every rod of every lot: sprung open, slit with the blade a run sheet
    /// would take, and closed. Each lot stands for itself, so that its springback rests on its own
    /// trials.
    pub fn of(workshop: &Workshop, metals: &Catalogue) -> OwnRings {
        let mut own = OwnRings::default();
        for stocked in &workshop.wire {
            let alone = Workshop { wire: vec![stocked.clone()], ..workshop.clone() };
            let metal = stocked.lot.metal.key().to_string();
            let mut rings = Vec::new();
            for (rod, ring) in workshop.rods.iter().zip(rings_of(stocked, &alone, metals)) {
                match ring {
                    Ok(ring) => rings.push(Arc::new(ring)),
                    Err(why) => {
                        let said = format!("{} on rod {}: {why}", stocked.name, rod.name);
                        own.no_ring.push((metal.clone(), said));
                    }
                }
            }
            rings.sort_by(|a, b| a.rod_diameter.mm().total_cmp(&b.rod_diameter.mm()));
            own.by_metal.entry(metal).or_default().extend(rings.iter().cloned());
            own.lots.push(rings);
        }
        own
    }

    /// How many rings that makes.
    pub fn count(&self) -> usize {
        self.lots.iter().map(Vec::len).sum()
    }

    /// Key and trade name of every metal of which there is a ring, in the order of the shelf.
    pub fn metals(&self) -> Vec<(String, String)> {
        let mut metals: Vec<(String, String)> = Vec::new();
        for ring in self.lots.iter().filter_map(|rings| rings.first()) {
            if !metals.iter().any(|(key, _)| *key == ring.metal) {
                metals.push((ring.metal.clone(), ring.metal_name.clone()));
            }
        }
        metals
    }
}

/// What comes off every rod of a workshop in the wire of one lot.
fn rings_of(
    stocked: &StockedWire,
    workshop: &Workshop,
    metals: &Catalogue,
) -> Vec<Result<OwnRing, String>> {
    let rods: Vec<Mandrel> = workshop.rods.iter().map(|rod| rod.mandrel).collect();
    let Some(first) = rods.first() else { return Vec::new() };
    let lot = &stocked.lot;
    let line = OrderLine {
        name: stocked.name.clone(),
        item: Item::Rings { count: GoodRings::new(1) },
        metal: lot.metal.key().to_string(),
        temper: lot.temper.name().to_string(),
        wire_typed: stocked.name.clone(),
        wire: lot.diameter().value,
        ring: RingWanted::OnRod { rod: first.diameter() },
        spare: Spare::Rings(0),
        linked: None,
    };
    match plan_on_rods(&line, &rods, workshop, metals) {
        Err(why) => rods.iter().map(|_| Err(why.to_string())).collect(),
        Ok(planned) => planned
            .into_iter()
            .zip(&workshop.rods)
            .map(|(sheets, rod)| own_ring(stocked, rod, sheets.map_err(|why| why.to_string())?))
            .collect(),
    }
}

fn own_ring(stocked: &StockedWire, rod: &Rod, sheets: Vec<RunSheet>) -> Result<OwnRing, String> {
    let Some(sheet) = sheets.into_iter().next() else {
        return Err("no blade slits it".to_owned());
    };
    let Some(blade) = sheet.blades.first() else {
        return Err("no blade slits it".to_owned());
    };
    let closed = sheet.ring.ring.closed_inside();
    let ring = AskedRing::closed(sheet.wire.value, closed).map_err(|error| error.to_string())?;
    Ok(OwnRing {
        lot: stocked.name.clone(),
        metal: sheet.metal.key,
        metal_name: sheet.metal.name,
        temper: sheet.metal.temper,
        anneal_first: sheet.rod.state == WireState::Annealed && !stocked.lot.annealed,
        rod: rod.name.clone(),
        rod_diameter: rod.mandrel.diameter(),
        open_inside: sheet.ring.open_inside,
        blade: blade.name.clone(),
        kerf: blade.blade.kerf().width(),
        ring,
        wire: sheet.wire,
        density: sheet.metal.density,
        price: price_of(stocked),
    })
}

fn price_of(stocked: &StockedWire) -> Option<OwnPrice> {
    let price = stocked.lot.price?;
    let share = match price.metal() {
        PricedMetal::AsWeighed => 1.0,
        PricedMetal::Fine => stocked.lot.metal.fine_share()?,
    };
    Some(OwnPrice {
        minor_per_gram: price.minor_per_gram() * share,
        price,
        date: stocked.price_date.clone(),
    })
}
