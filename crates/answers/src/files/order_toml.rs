//! The order file: what is wanted, as a jeweller types it.

use linkwright_calc::coil::GoodRings;
use linkwright_calc::limits::INSIDE_DIAMETER;
use linkwright_calc::plan::{Item, Order, OrderLine, RingWanted, Spare};
use linkwright_calc::quantity::{self, Length, RingSide};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, FileError};

/// An order file as written; `docs/files.md` describes each key.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderFile {
    order: String,
    date: Option<String>,
    /// Workshop file, relative to the order file.
    pub workshop: Option<String>,
    line: Vec<LineEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LineEntry {
    name: String,
    metal: String,
    temper: String,
    wire: Spanned<String>,
    ring: Option<Spanned<String>>,
    tolerance: Option<Spanned<String>>,
    rod: Option<Spanned<String>>,
    rings: Option<Spanned<u32>>,
    chain: Option<Spanned<ChainEntry>>,
    kits: Option<Spanned<KitsEntry>>,
    spare: Option<Spanned<SpareEntry>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChainEntry {
    length: Spanned<String>,
    clasp: Option<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct KitsEntry {
    count: u32,
    rings_each: u32,
    spare_each: u32,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum SpareEntry {
    Rings(u32),
    Typed(String),
}

impl OrderFile {
    /// Turns what was typed into an order, or says what is wrong where.
    pub fn order(&self, document: &Document) -> Result<Order, FileError> {
        if self.line.is_empty() {
            return Err(document.missing("line", "an order has at least one [[line]]"));
        }
        let lines = self
            .line
            .iter()
            .map(|entry| entry.line(&document.within(&format!("line \"{}\"", entry.name))))
            .collect::<Result<_, _>>()?;
        Ok(Order { name: self.order.clone(), date: self.date.clone(), lines })
    }
}

impl LineEntry {
    fn line(&self, document: &Document) -> Result<OrderLine, FileError> {
        let wire_length = document.length("wire", &self.wire)?;
        let wire = document.parsed("wire", &self.wire, Wire::new(wire_length))?;
        Ok(OrderLine {
            name: self.name.clone(),
            item: self.item(document)?,
            metal: self.metal.clone(),
            temper: self.temper.clone(),
            wire_typed: self.wire.get_ref().clone(),
            wire,
            ring: self.ring_wanted(document, wire)?,
            spare: self.spare(document)?,
        })
    }

    fn item(&self, document: &Document) -> Result<Item, FileError> {
        match (&self.rings, &self.chain, &self.kits) {
            (Some(rings), None, None) => {
                let item = Item::Rings { count: GoodRings::new(*rings.get_ref()) };
                document.parsed("rings", rings, item.check())?;
                Ok(item)
            }
            (None, Some(chain), None) => {
                let entry = chain.get_ref();
                let length = document.length("chain.length", &entry.length)?;
                let clasp = document.optional_length("chain.clasp", entry.clasp.as_ref())?;
                let clasp = clasp.unwrap_or(Length::from_mm(0.0));
                let item = Item::Chain { length, clasp };
                document.parsed("chain", chain, item.check())?;
                Ok(item)
            }
            (None, None, Some(kits)) => {
                let KitsEntry { count, rings_each, spare_each } = *kits.get_ref();
                let item = Item::Kits { kits: count, rings_each, spare_each };
                document.parsed("kits", kits, item.check())?;
                Ok(item)
            }
            _ => Err(document.missing(
                "rings",
                "say what is wanted in exactly one way: rings = 500, or chain = { length = \"450 mm\" }, \
                 or kits = { count = 12, rings_each = 96, spare_each = 6 }",
            )),
        }
    }

    fn ring_wanted(&self, document: &Document, wire: Wire) -> Result<RingWanted, FileError> {
        match (&self.ring, &self.rod) {
            (Some(typed), None) => {
                let (size, side, state) =
                    document.parsed("ring", typed, quantity::parse_ring_size(typed.get_ref()))?;
                let inside = match side {
                    RingSide::Inside => size.value(),
                    RingSide::Outside => {
                        Length::from_mm(size.value().mm() - 2.0 * wire.diameter().mm())
                    }
                };
                document.parsed(
                    "ring",
                    typed,
                    INSIDE_DIAMETER.check(inside.mm()),
                )?;
                let Some(state) = state else {
                    return Err(document.wrong(
                        "ring",
                        typed,
                        "is that the open ring as it leaves the blade, or the closed one? \
                         Add the word open or closed",
                    ));
                };
                let Some(tolerance) = &self.tolerance else {
                    return Err(document.missing(
                        "tolerance",
                        "how far may the inside diameter be off? Add tolerance = \"0.05 mm\"",
                    ));
                };
                let tolerance = document.length("tolerance", tolerance)?;
                Ok(RingWanted::Size { inside, tolerance, state })
            }
            (None, Some(typed)) => {
                let rod = document.length("rod", typed)?;
                let rod =
                    document.parsed("rod", typed, Mandrel::new(rod))?;
                Ok(RingWanted::OnRod { rod: rod.diameter() })
            }
            _ => Err(document.missing(
                "ring",
                "say which ring in exactly one way: ring = \"3.50 mm inside open\" with a tolerance, \
                 or rod = \"4.00 mm\" for whatever comes off that rod",
            )),
        }
    }

    fn spare(&self, document: &Document) -> Result<Spare, FileError> {
        let Some(spare) = &self.spare else { return Ok(Spare::Rings(0)) };
        match spare.get_ref() {
            SpareEntry::Rings(rings) => Ok(Spare::Rings(*rings)),
            SpareEntry::Typed(text) => {
                let share = document.parsed("spare", spare, quantity::parse_share(text))?;
                Ok(Spare::Share(share.value()))
            }
        }
    }
}
