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
use super::linked_entry::{OtherRingEntry, SheetEntry};
use super::measured_entry::MeasuredEntry;
use crate::chain::{KnownPatterns, OrderAsked};

/// How the name of a pattern file ends.
const PATTERN_FILE: &str = ".toml";

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
pub(super) struct LineEntry {
    pub(super) name: String,
    metal: String,
    temper: String,
    wire: Spanned<String>,
    ring: Option<Spanned<String>>,
    tolerance: Option<Spanned<String>>,
    rod: Option<Spanned<String>>,
    pub(super) rings: Option<Spanned<u32>>,
    pub(super) chain: Option<Spanned<ChainEntry>>,
    pub(super) kits: Option<Spanned<KitsEntry>>,
    spare: Option<Spanned<SpareEntry>>,
    pub(super) pattern: Option<Spanned<String>>,
    pub(super) sheet: Option<Spanned<SheetEntry>>,
    #[serde(default)]
    pub(super) other_rings: Vec<OtherRingEntry>,
    #[serde(default)]
    pub(super) measured: Vec<MeasuredEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChainEntry {
    pub(super) length: Option<Spanned<String>>,
    pub(super) round: Option<Spanned<String>>,
    pub(super) ease: Option<Spanned<String>>,
    pub(super) clasp: Option<Spanned<String>>,
    pub(super) end_rings: Option<u32>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KitsEntry {
    pub(super) count: u32,
    pub(super) rings_each: Option<u32>,
    pub(super) spare_each: Option<u32>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum SpareEntry {
    Rings(u32),
    Typed(String),
}

impl OrderFile {
    /// The pattern files its lines name, each once, with the part of the order it stands in.
    pub(super) fn pattern_files<'a>(
        &'a self,
        document: &'a Document,
    ) -> impl Iterator<Item = (Document, &'a Spanned<String>)> {
        let typed = |entry: &'a LineEntry| Some((entry, entry.pattern.as_ref()?));
        let lines = self.line.iter().filter_map(typed);
        lines
            .filter(|(_, typed)| typed.get_ref().ends_with(PATTERN_FILE))
            .map(|(entry, typed)| (document.within(&format!("line \"{}\"", entry.name)), typed))
    }

    /// Turns what was typed into an order, or says what is wrong where.
    pub fn order(
        &self,
        document: &Document,
        patterns: &KnownPatterns,
    ) -> Result<OrderAsked, FileError> {
        if self.line.is_empty() {
            return Err(document.missing("line", "an order has at least one [[line]]"));
        }
        let (mut lines, mut linked) = (Vec::new(), Vec::new());
        for entry in &self.line {
            let document = document.within(&format!("line \"{}\"", entry.name));
            if entry.pattern.is_some() {
                linked.push(entry.linked(&document, patterns, &mut lines)?);
            } else {
                entry.refuse_what_needs_a_pattern(&document)?;
                let item = entry.item(&document)?;
                lines.push(entry.line(&document, item)?);
            }
        }
        let order = Order { name: self.order.clone(), date: self.date.clone(), lines };
        Ok(OrderAsked { order, linked, solver: patterns.solver().clone() })
    }
}

impl LineEntry {
    /// The line with what is asked for.
    pub(super) fn line(&self, document: &Document, item: Item) -> Result<OrderLine, FileError> {
        let wire_length = document.length("wire", &self.wire)?;
        let wire = document.parsed("wire", &self.wire, Wire::new(wire_length))?;
        Ok(OrderLine {
            name: self.name.clone(),
            item,
            metal: self.metal.clone(),
            temper: self.temper.clone(),
            wire_typed: self.wire.get_ref().clone(),
            wire,
            ring: self.ring_typed().wanted(document, wire)?,
            spare: self.spare(document)?,
            linked: None,
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
                let Some(length) = &entry.length else {
                    return Err(document.missing("chain.length", "how long is it over all?"));
                };
                let length = document.length("chain.length", length)?;
                let clasp = document.optional_length("chain.clasp", entry.clasp.as_ref())?;
                let clasp = clasp.unwrap_or(Length::from_mm(0.0));
                let item = Item::Chain { length, clasp };
                document.parsed("chain", chain, item.check())?;
                Ok(item)
            }
            (None, None, Some(kits)) => {
                let KitsEntry { count, rings_each, spare_each } = *kits.get_ref();
                let Some(rings_each) = rings_each else {
                    return Err(document.missing("kits.rings_each", "how many rings has a piece?"));
                };
                let Some(spare_each) = spare_each else {
                    return Err(no_spare(document));
                };
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

    fn ring_typed(&self) -> RingTyped<'_> {
        RingTyped { ring: &self.ring, tolerance: &self.tolerance, rod: &self.rod }
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

/// A ring as a line types it: its size with a tolerance, or the rod it comes off.
pub(super) struct RingTyped<'a> {
    pub(super) ring: &'a Option<Spanned<String>>,
    pub(super) tolerance: &'a Option<Spanned<String>>,
    pub(super) rod: &'a Option<Spanned<String>>,
}

impl RingTyped<'_> {
    /// The ring it stands for.
    pub(super) fn wanted(&self, document: &Document, wire: Wire) -> Result<RingWanted, FileError> {
        match (self.ring, self.rod) {
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
                let Some(tolerance) = self.tolerance else {
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
}

/// Kits say how many spare rings go into each, be it none.
pub(super) fn no_spare(document: &Document) -> FileError {
    document.missing("kits.spare_each", "how many spare rings go into each? 0 for none")
}
