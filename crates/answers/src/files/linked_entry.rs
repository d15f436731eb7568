//! A line of an order that is linked in a pattern.

use linkwright_calc::coil::GoodRings;
use linkwright_calc::limits::{LENGTH, Limit};
use linkwright_calc::plan::{Item, OrderLine};
use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_linkage::pattern::{Kind, Pattern};
use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, FileError};
use super::measured_entry::given;
use super::order_toml::{LineEntry, RingTyped, no_spare};
use crate::chain::{EndsAsked, KitsAsked, KnownPatterns, LinkedWanted, PieceAsked, name_of_size};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SheetEntry {
    length: Spanned<String>,
    width: Spanned<String>,
}

/// A ring size of a pattern beyond its main one.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OtherRingEntry {
    wire: Spanned<String>,
    ring: Option<Spanned<String>>,
    tolerance: Option<Spanned<String>>,
    rod: Option<Spanned<String>>,
}

/// A finished length: above nothing.
const FINISHED: Limit = Limit { low: 1.0, ..LENGTH };
/// The count of a line whose rings are not counted yet.
const NOT_COUNTED: Item = Item::Rings { count: GoodRings::new(1) };

impl LineEntry {
    /// Refuses the keys that mean nothing without a pattern.
    pub(super) fn refuse_what_needs_a_pattern(&self, document: &Document) -> Result<(), FileError> {
        let chain = self.chain.as_ref().map(Spanned::get_ref);
        let stray = [
            ("sheet", self.sheet.is_some()),
            ("other_rings", !self.other_rings.is_empty()),
            ("measured", !self.measured.is_empty()),
            ("chain.round", chain.is_some_and(|chain| chain.round.is_some())),
            ("chain.ease", chain.is_some_and(|chain| chain.ease.is_some())),
            ("chain.end_rings", chain.is_some_and(|chain| chain.end_rings.is_some())),
        ];
        match stray.into_iter().find(|(_, given)| *given) {
            None => Ok(()),
            Some((key, _)) => Err(document.missing(
                "pattern",
                &format!(
                    "{key} is for a linked pattern: name it, as pattern = \"cable_1in1\" for one ring \
                     in the next"
                ),
            )),
        }
    }

    /// Adds one line for each ring size, not counted yet, and says what they are for.
    pub(super) fn linked(
        &self,
        document: &Document,
        patterns: &KnownPatterns,
        lines: &mut Vec<OrderLine>,
    ) -> Result<LinkedWanted, FileError> {
        let Some(typed) = &self.pattern else {
            return Err(document.missing("pattern", "name the pattern"));
        };
        let pattern = document.parsed("pattern", typed, patterns.find(typed.get_ref()))?;
        let sizes = pattern.spec().sizes.len();
        if self.other_rings.len() + 1 != sizes {
            let message = format!(
                "{} takes {sizes} ring {}; give the others as other_rings = [{{ wire = \"0.8 mm\", rod = \
                 \"2.5 mm\" }}], one each",
                pattern.name(),
                if sizes == 1 { "size" } else { "sizes" }
            );
            return Err(document.wrong("pattern", typed, &message));
        }
        if let Some(rings) = &self.rings {
            let message = "rings are counted from the pattern; leave the count out";
            return Err(document.wrong("rings", rings, message));
        }
        let first = lines.len();
        let main = self.line(document, NOT_COUNTED)?;
        for (number, entry) in (2..).zip(&self.other_rings) {
            let name = name_of_size(&self.name, number);
            lines.push(entry.line(&document.within(&format!("line \"{name}\"")), &main, name)?);
        }
        lines.insert(first, main);
        Ok(LinkedWanted {
            lines: (first..lines.len()).collect(),
            piece: self.piece(document, &pattern)?,
            kits: self.kits_asked(document)?,
            measured: given(&self.measured, document, &pattern, patterns.solver())?,
            pattern,
        })
    }

    /// The finished piece; a cluster is one.
    fn piece(
        &self,
        document: &Document,
        pattern: &Pattern,
    ) -> Result<Option<PieceAsked>, FileError> {
        match (pattern.kind(), &self.chain, &self.sheet) {
            (Kind::Chain, Some(chain), None) => {
                let entry = chain.get_ref();
                let optional = |key: &str, typed| document.optional_length(key, typed);
                let nothing = Length::from_mm(0.0);
                let ends = EndsAsked {
                    clasp: optional("chain.clasp", entry.clasp.as_ref())?.unwrap_or(nothing),
                    rings: entry.end_rings.unwrap_or(0),
                };
                match (&entry.length, &entry.round) {
                    (Some(length), None) => {
                        let length = finished(document, "chain.length", length)?;
                        Ok(Some(PieceAsked::Long { length, ends }))
                    }
                    (None, Some(girth)) => {
                        let girth = finished(document, "chain.round", girth)?;
                        let ease = optional("chain.ease", entry.ease.as_ref())?.unwrap_or(nothing);
                        Ok(Some(PieceAsked::Round { girth, ease, ends }))
                    }
                    _ => Err(document.missing(
                        "chain",
                        "say how long in exactly one way: length = \"180 mm\" over all, or round = \
                         \"160 mm\" for the girth it goes round",
                    )),
                }
            }
            (Kind::Sheet, None, Some(sheet)) => {
                let SheetEntry { length, width } = sheet.get_ref();
                Ok(Some(PieceAsked::Sheet {
                    along: finished(document, "sheet.length", length)?,
                    across: finished(document, "sheet.width", width)?,
                }))
            }
            (Kind::Cluster, None, None) if self.kits.is_some() => Ok(None),
            (Kind::Chain, ..) => Err(document.missing(
                "chain",
                &format!("{} is a chain: chain = {{ length = \"180 mm\" }}", pattern.name()),
            )),
            (Kind::Sheet, ..) => Err(document.missing(
                "sheet",
                &format!(
                    "{} is a sheet: sheet = {{ length = \"60 mm\", width = \"40 mm\" }}",
                    pattern.name()
                ),
            )),
            (Kind::Cluster, ..) => Err(document.missing(
                "kits",
                &format!(
                    "{} is one piece: say how many, as kits = {{ count = 12, spare_each = 1 }}",
                    pattern.name()
                ),
            )),
        }
    }

    fn kits_asked(&self, document: &Document) -> Result<Option<KitsAsked>, FileError> {
        let Some(kits) = &self.kits else { return Ok(None) };
        let entry = kits.get_ref();
        if entry.rings_each.is_some() {
            let message = "the rings of a kit are counted from the pattern; leave rings_each out";
            return Err(document.wrong("kits.rings_each", kits, message));
        }
        let Some(spare_each) = entry.spare_each else {
            return Err(no_spare(document));
        };
        let at_least_one = Item::Kits { kits: entry.count, rings_each: 1, spare_each };
        document.parsed("kits", kits, at_least_one.check())?;
        Ok(Some(KitsAsked { count: entry.count, spare_each }))
    }
}

impl OtherRingEntry {
    /// A line like the main one, of this ring.
    fn line(
        &self,
        document: &Document,
        main: &OrderLine,
        name: String,
    ) -> Result<OrderLine, FileError> {
        let length = document.length("wire", &self.wire)?;
        let wire = document.parsed("wire", &self.wire, Wire::new(length))?;
        let typed = RingTyped { ring: &self.ring, tolerance: &self.tolerance, rod: &self.rod };
        Ok(OrderLine {
            name,
            wire_typed: self.wire.get_ref().clone(),
            wire,
            ring: typed.wanted(document, wire)?,
            ..main.clone()
        })
    }
}

/// A finished length within its limits.
fn finished(
    document: &Document,
    field: &str,
    typed: &Spanned<String>,
) -> Result<Length, FileError> {
    let length = document.length(field, typed)?;
    document.parsed(field, typed, FINISHED.check(length.mm()))?;
    Ok(length)
}
