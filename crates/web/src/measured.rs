//! Pieces that were linked and measured, as they are on record: what each says, and how plans are given them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use linkwright_answers::chain::{PIECES_MOST, Solver, reading};
use linkwright_calc::limits::LimitError;
use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::{ClosedRing, Correction, MeasuredPiece as Measured, Reading};
use linkwright_linkage::pattern::Pattern;
use linkwright_store::records::{MeasuredPiece, RingOfPiece};
use linkwright_store::{PieceInFull, StoreError, View};
use serde_json::{Value, json};

use crate::patterns::{known_patterns, solver};

/// A piece on record, and what it says of the ratio of real to worked-out length, or in a sentence why
/// nothing.
pub(crate) struct PieceRead {
    pub(crate) piece: MeasuredPiece,
    pub(crate) further: Vec<RingOfPiece>,
    pub(crate) reading: Result<Reading, String>,
}

/// The latest pieces of a pattern that are learned from, the latest first; read once while no record
/// changes.
pub(crate) fn pieces_of(
    view: &View<'_>,
    pattern: &Pattern,
) -> Result<Arc<Vec<PieceRead>>, StoreError> {
    // A pattern from a file of one's own may bear a name that is taken, with rings that lie otherwise.
    let name = format!("measured pieces of {} as {:?}", pattern.name(), pattern.spec().links);
    let solver = solver(view);
    view.worked_out(&name, || {
        let kept = view.worked_out("measured pieces", || view.pieces_in_full())?;
        let own = kept.iter().filter(|kept| kept.piece.pattern == pattern.name());
        let latest = own.rev().take(PIECES_MOST).map(|kept: &PieceInFull| PieceRead {
            reading: reading_of(pattern, (&kept.piece, &kept.further), &solver),
            piece: kept.piece.clone(),
            further: kept.further.clone(),
        });
        Ok::<_, StoreError>(latest.collect())
    })
}

/// Whether the latest pieces of a pattern can be read without a step of the solver.
pub(crate) fn are_read_without_a_step(
    view: &View<'_>,
    pattern: &Pattern,
) -> Result<bool, StoreError> {
    let idle = solver(view).without_a_step();
    let kept = view.worked_out("measured pieces", || view.pieces_in_full())?;
    let own = kept.iter().filter(|kept| kept.piece.pattern == pattern.name());
    for kept in own.rev().take(PIECES_MOST) {
        // What it says is told elsewhere; here only whether it was at hand.
        let _ = reading_of(pattern, (&kept.piece, &kept.further), &idle);
    }
    Ok(!idle.has_missed())
}

/// What the measured pieces of a pattern on record say of its lengths.
///
/// # Errors
/// If the file cannot be read.
pub fn measured_readings(view: &View<'_>, pattern: &Pattern) -> Result<Vec<Reading>, StoreError> {
    let pieces = pieces_of(view, pattern)?;
    Ok(pieces.iter().filter_map(|piece| piece.reading.clone().ok()).collect())
}

/// What the measured pieces on record teach of every pattern of which there are some, by its key.
///
/// # Errors
/// If the file cannot be read.
pub fn chain_corrections(view: &View<'_>) -> Result<BTreeMap<String, Correction>, StoreError> {
    let kept = view.worked_out("measured pieces", || view.pieces_in_full())?;
    let names: BTreeSet<&str> = kept.iter().map(|kept| kept.piece.pattern.as_str()).collect();
    let patterns = known_patterns(view)?;
    let known = names.into_iter().filter_map(|name| patterns.find(name).ok());
    known
        .map(|pattern| {
            let readings = measured_readings(view, &pattern)?;
            Ok((pattern.name().to_owned(), Correction::from_readings(&readings)))
        })
        .collect()
}

/// What a piece says of the ratio of real to worked-out length, or in a sentence why nothing.
pub(crate) fn reading_of(
    pattern: &Pattern,
    (piece, further): (&MeasuredPiece, &[RingOfPiece]),
    solver: &Solver,
) -> Result<Reading, String> {
    let rings = rings_of(piece, further).map_err(|error| error.to_string())?;
    let measured =
        Measured { rings: u64::from(piece.rings), length: Length::from_mm(piece.length_mm) };
    reading(pattern, &rings, measured, solver).map_err(|error| error.to_string())
}

fn rings_of(piece: &MeasuredPiece, further: &[RingOfPiece]) -> Result<Vec<ClosedRing>, LimitError> {
    sizes_of(piece, further)
        .map(|(wire_mm, inside_mm)| {
            ClosedRing::new(Wire::new(Length::from_mm(wire_mm))?, Length::from_mm(inside_mm))
        })
        .collect()
}

/// Wire and closed inside diameter of every ring size in mm, the main one first.
pub(crate) fn sizes_of(
    piece: &MeasuredPiece,
    further: &[RingOfPiece],
) -> impl Iterator<Item = (f64, f64)> {
    let further = further.iter().map(|ring| (ring.wire_mm, ring.closed_inside_mm));
    std::iter::once((piece.wire_mm, piece.closed_inside_mm)).chain(further)
}

impl PieceRead {
    /// The piece as a line of an order file gives it.
    pub(crate) fn as_json(&self) -> Value {
        let of = sizes_of(&self.piece, &self.further).map(|(wire_mm, inside_mm)| {
            json!({
                "wire": format!("{wire_mm} mm"),
                "ring": format!("{inside_mm} mm inside closed"),
            })
        });
        json!({
            "rings": self.piece.rings,
            "length": self.piece.length_typed,
            "date": self.piece.measured_on,
            "of": of.collect::<Vec<_>>(),
        })
    }
}
