//! Pieces that were linked and measured, as an order line gives them.

use linkwright_calc::limits::{Limit, RINGS};
use linkwright_calc::quantity::{Length, RingSide, RingState, parse_ring_size};
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::{ClosedRing, MeasuredPiece};
use linkwright_linkage::pattern::{Kind, Pattern};
use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, FileError};
use crate::chain::{PIECES_MOST, PieceGiven, Solver, reading};

/// A piece as written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MeasuredEntry {
    rings: Spanned<u32>,
    length: Spanned<String>,
    date: Option<String>,
    #[serde(default)]
    of: Vec<RingOfPiece>,
}

/// A ring size of a piece that is not of the line's rings.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RingOfPiece {
    wire: Spanned<String>,
    ring: Spanned<String>,
}

/// The pieces of a line, those of rings of their own read already.
pub(super) fn given(
    entries: &[MeasuredEntry],
    document: &Document,
    pattern: &Pattern,
    solver: &Solver,
) -> Result<Vec<PieceGiven>, FileError> {
    let Some(first) = entries.first() else { return Ok(Vec::new()) };
    if pattern.kind() != Kind::Chain {
        let message = format!(
            "{} is no chain; only the length of a chain is corrected by measured pieces",
            pattern.name()
        );
        return Err(document.wrong("measured", &first.rings, &message));
    }
    if let Some(one_more) = entries.get(PIECES_MOST) {
        let message =
            format!("at most {PIECES_MOST} pieces are learned from; keep the latest of them");
        return Err(document.wrong("measured", &one_more.rings, &message));
    }
    let numbered = entries.iter().zip(1..);
    numbered.map(|(entry, number)| entry.given(document, pattern, solver, number)).collect()
}

impl MeasuredEntry {
    fn given(
        &self,
        document: &Document,
        pattern: &Pattern,
        solver: &Solver,
        number: usize,
    ) -> Result<PieceGiven, FileError> {
        let field = |key: &str| format!("measured {number} {key}");
        let least = pattern.spec().rings.len() as f64;
        let limit =
            Limit { low: least, why: "one repeat of the pattern to a thousand million", ..RINGS };
        let rings = f64::from(*self.rings.get_ref());
        document.parsed(&field("rings"), &self.rings, limit.check(rings))?;
        let piece = MeasuredPiece {
            rings: u64::from(*self.rings.get_ref()),
            length: document.length(&field("length"), &self.length)?,
        };
        let reading = if self.of.is_empty() {
            None
        } else {
            let rings = self.of.iter().map(|ring| ring.closed(document, &field));
            let rings = rings.collect::<Result<Vec<_>, _>>()?;
            let read = reading(pattern, &rings, piece, solver);
            Some(document.parsed(&field("length"), &self.length, read)?)
        };
        Ok(PieceGiven { piece, reading, date: self.date.clone() })
    }
}

impl RingOfPiece {
    fn closed(
        &self,
        document: &Document,
        field: &impl Fn(&str) -> String,
    ) -> Result<ClosedRing, FileError> {
        let (wire_field, ring_field) = (field("wire"), field("ring"));
        let length = document.length(&wire_field, &self.wire)?;
        let wire = document.parsed(&wire_field, &self.wire, Wire::new(length))?;
        let typed = parse_ring_size(self.ring.get_ref());
        let (size, side, state) = document.parsed(&ring_field, &self.ring, typed)?;
        if state != Some(RingState::Closed) {
            let message = "a chain is measured with its rings closed: write their size as closed, such \
                           as \"4.05 mm inside closed\"";
            return Err(document.wrong(&ring_field, &self.ring, message));
        }
        let inside = match side {
            RingSide::Inside => size.value(),
            RingSide::Outside => Length::from_mm(size.value().mm() - 2.0 * wire.diameter().mm()),
        };
        document.parsed(&ring_field, &self.ring, ClosedRing::new(wire, inside))
    }
}
