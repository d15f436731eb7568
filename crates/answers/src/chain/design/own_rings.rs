//! The ring that every owned rod gives of every owned wire, once closed.

use linkwright_calc::coil::GoodRings;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::Price;
use linkwright_calc::plan::{Item, OrderLine, RingWanted, Spare, Workshop, plan_line};
use linkwright_calc::quantity::{Density, Length};

use crate::chain::AskedRing;

/// A ring the workshop can make.
#[derive(Clone, Debug)]
pub(super) struct OwnRing {
    /// Name of the lot of wire.
    pub(super) lot: String,
    /// Trade name of its metal.
    pub(super) metal: String,
    /// Name of the rod.
    pub(super) rod: String,
    /// Diameter of the rod.
    pub(super) rod_diameter: Length,
    /// The open ring off it.
    pub(super) open_inside: Length,
    /// The ring as closed.
    pub(super) ring: AskedRing,
    /// Density of the wire.
    pub(super) density: Density,
    /// Money for a gram of the wire, and in what.
    pub(super) price: Option<(f64, Price)>,
}

/// Every ring the workshop can make of its wire, by lot and then by rod, thin rods first; and the rods and
/// wires that give none, with why.
pub(super) fn own_rings(
    workshop: &Workshop,
    metals: &Catalogue,
    metal: Option<&str>,
) -> (Vec<Vec<OwnRing>>, Vec<String>) {
    let (mut lots, mut left_out) = (Vec::new(), Vec::new());
    for stocked in &workshop.wire {
        let lot = &stocked.lot;
        let key = lot.metal.key().to_string();
        let wanted = metal.is_none_or(|wanted| {
            metals.find(wanted).is_ok_and(|found| found.key() == lot.metal.key())
        });
        if !wanted {
            continue;
        }
        let mut rings = Vec::new();
        for rod in &workshop.rods {
            let line = OrderLine {
                name: stocked.name.clone(),
                item: Item::Rings { count: GoodRings::new(1) },
                metal: key.clone(),
                temper: lot.temper.name().to_string(),
                wire_typed: stocked.name.clone(),
                wire: lot.marked,
                ring: RingWanted::OnRod { rod: rod.mandrel.diameter() },
                spare: Spare::Rings(0),
                linked: None,
            };
            let planned = plan_line(&line, workshop, metals, None).map_err(|why| why.to_string());
            let ring = planned.and_then(|sheets| {
                let sheet = &sheets[0];
                let closed = sheet.ring.ring.closed_inside();
                let ring = AskedRing::closed(sheet.wire.value, closed);
                let ring = ring.map_err(|error| error.to_string())?;
                Ok(OwnRing {
                    lot: stocked.name.clone(),
                    metal: sheet.metal.name.clone(),
                    rod: rod.name.clone(),
                    rod_diameter: rod.mandrel.diameter(),
                    open_inside: sheet.ring.open_inside.value,
                    ring,
                    density: sheet.metal.density.value,
                    price: price_of(lot.price, lot.metal.fine_share()),
                })
            });
            match ring {
                Ok(ring) => rings.push(ring),
                Err(why) => left_out.push(format!("{} on rod {}: {why}", stocked.name, rod.name)),
            }
        }
        rings.sort_by(|a, b| a.rod_diameter.mm().total_cmp(&b.rod_diameter.mm()));
        lots.push(rings);
    }
    (lots, left_out)
}

/// Minor units for a gram of the wire as it lies on the scale.
fn price_of(price: Option<Price>, fine_share: Option<f64>) -> Option<(f64, Price)> {
    use linkwright_calc::money::PricedMetal;
    let price = price?;
    let share = match price.metal() {
        PricedMetal::AsWeighed => 1.0,
        PricedMetal::Fine => fine_share?,
    };
    Some((price.minor_per_gram() * share, price))
}
