//! Pieces that were linked and measured: they correct the lengths of their pattern.

use std::collections::BTreeMap;

use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use linkwright_answers::chain::{AskedRing, ChainAnswer};
use linkwright_answers::printout::both_lengths;
use linkwright_calc::quantity::{Length, parse_count, parse_length};
use linkwright_linkage::answer::Correction;
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_store::records::{MeasuredPiece, RingOfPiece};
use linkwright_store::{Id, StoreError, View};

use super::answers::answered;
use super::asked::{Asked, FURTHER};
use super::question::{pattern_named, size_typed};
use super::show::{MeasuredForm, asked_in_full, page};
use crate::error::PageError;
use crate::form::{Complaints, Sent, given};
use crate::measured::{PieceRead, measured_readings, pieces_of, reading_of, sizes_of};
use crate::patterns::solver;
use crate::planning::metals_for_names;
use crate::state::App;

/// Longest note that is kept.
const LETTERS_MOST: usize = 500;

/// A measured piece as the page lists it.
pub(super) struct PieceRow {
    pub(super) day: String,
    pub(super) rings: u32,
    pub(super) length: String,
    pub(super) of: String,
    /// Measured over worked out, or why it says nothing.
    pub(super) ratio: String,
}

/// What was measured of a pattern, and what it teaches.
pub(super) struct Pieces {
    pub(super) rows: Vec<PieceRow>,
    pub(super) correction: Correction,
}

impl Pieces {
    /// The pieces of a pattern on record.
    pub(super) fn of(view: &View<'_>, pattern: &Pattern) -> Result<Pieces, StoreError> {
        let pieces = pieces_of(view, pattern)?;
        let metals = metals_for_names(view)?;
        let row = |PieceRead { piece, further, reading }: &PieceRead| PieceRow {
            day: piece.measured_on.clone(),
            rings: piece.rings,
            length: both_lengths(piece.length_mm),
            of: of_in_words(
                &crate::planning::metal_name(&metals, &piece.metal),
                sizes_of(piece, further),
            ),
            ratio: match reading {
                Ok(read) => format!("{:.1} % of the length worked out", 100.0 * read.ratio),
                Err(said) => said.clone(),
            },
        };
        let readings = measured_readings(view, pattern)?;
        Ok(Pieces {
            rows: pieces.iter().map(row).collect(),
            correction: Correction::from_readings(&readings),
        })
    }
}

/// Metal and every ring size of a piece; one wire for all is named once.
fn of_in_words(metal: &str, sizes: impl Iterator<Item = (f64, f64)>) -> String {
    let mut said = metal.to_owned();
    let mut last = String::new();
    for (wire_mm, inside_mm) in sizes {
        let wire = format!("wire {wire_mm:.2} mm");
        if wire == last {
            said.push_str(&format!(" and {inside_mm:.2} mm"));
        } else {
            let apart = if last.is_empty() { "," } else { ";" };
            said.push_str(&format!("{apart} {wire}, rings {inside_mm:.2} mm"));
        }
        last = wire;
    }
    said + " inside closed"
}

/// Keeps a measured piece, or shows the page again with what is wrong.
pub(super) async fn add(
    State(app): State<App>,
    Sent { token, typed }: Sent<BTreeMap<String, String>>,
) -> Result<Response, PageError> {
    let asked = Asked::of(&typed);
    let form = MeasuredForm {
        rings: typed.get("measured_rings").cloned().unwrap_or_default(),
        length: typed.get("measured_length").cloned().unwrap_or_default(),
        note: typed.get("note").cloned().unwrap_or_default(),
    };
    let day = app.clock().today().to_string();
    let (asking, typed) = (asked.clone(), form.clone());
    let read = app.read(move |view| read(view, &asking, &typed, day)).await?;
    let (piece, further) = match read {
        Ok(read) => read,
        Err(complaints) => return page(&app, asked, form, complaints).await,
    };
    let what = format!("Measured {} rings of {}", piece.rings, piece.pattern);
    app.act(&token, what, move |act| Ok(act.add_piece(&piece, &further)?)).await?;
    Ok(Redirect::to(&format!("{}#measured", asked.address("/chain/pattern"))).into_response())
}

fn read(
    view: &View<'_>,
    asked: &Asked,
    form: &MeasuredForm,
    day: String,
) -> Result<Result<(MeasuredPiece, Vec<RingOfPiece>), Complaints>, PageError> {
    let pattern = pattern_named(view, asked.at("pattern"))?;
    let question = match asked_in_full(view, &pattern, asked)?.question {
        Ok(question) => question,
        Err(complaints) => return Ok(Err(complaints)),
    };
    let mut complaints = Complaints::default();
    if !can_be_measured(&pattern) {
        complaints.add("measured_length", "only the length of a chain is measured here");
    }
    if form.note.chars().count() > LETTERS_MOST {
        complaints.add("note", format!("at most {LETTERS_MOST} letters are kept here"));
    }
    let rings =
        complaints.take("measured_rings", parse_count(&form.rings)).map(|count| count.value());
    let length = complaints.take("measured_length", parse_length(&form.length));
    let (Some(rings), Some(length)) = (rings, length) else { return Ok(Err(complaints)) };
    let found = answered(&question).map_err(PageError::Unreadable)?;
    let piece = piece(&found.answer, asked, rings, (&form.length, length.value()), &form.note, day);
    let further = further(&found.answer, asked);
    // A slip of the pen is told at once, and not learned from.
    if let Err(said) = reading_of(&pattern, (&piece, &further), &solver(view)) {
        complaints.add("measured_length", said);
    }
    Ok(if complaints.is_empty() { Ok((piece, further)) } else { Err(complaints) })
}

fn piece(
    answer: &ChainAnswer,
    asked: &Asked,
    rings: u32,
    (length_typed, length): (&str, Length),
    note: &str,
    measured_on: String,
) -> MeasuredPiece {
    let main = answer.rings[0].ring;
    MeasuredPiece {
        pattern: answer.name.clone(),
        measured_on,
        metal: asked.at("metal").to_owned(),
        wire_typed: wire_typed(asked, &main, "wire"),
        wire_mm: main.wire().diameter().mm(),
        ring_typed: ring_typed(asked, &main, "inside"),
        closed_inside_mm: main.closed_inside().mm(),
        rings,
        length_typed: length_typed.trim().to_owned(),
        length_mm: length.mm(),
        note: note.trim().to_owned(),
    }
}

/// The ring sizes of a piece beyond its first; those left blank follow the pattern's own proportion.
fn further(answer: &ChainAnswer, asked: &Asked) -> Vec<RingOfPiece> {
    let sizes = answer.rings.iter().zip(1..).skip(1);
    let further = sizes.map(|(used, size): (_, u32)| {
        let ring = &used.ring;
        let fields = FURTHER.get(size as usize - 2);
        let (wire_field, inside_field) = fields.copied().unwrap_or_default();
        RingOfPiece {
            // Given once the piece has its number.
            measured_piece_id: Id::new(0),
            size,
            wire_typed: wire_typed(asked, ring, wire_field),
            wire_mm: ring.wire().diameter().mm(),
            ring_typed: ring_typed(asked, ring, inside_field),
            closed_inside_mm: ring.closed_inside().mm(),
        }
    });
    further.collect()
}

fn ring_typed(asked: &Asked, ring: &AskedRing, field: &str) -> String {
    match asked.at(field) {
        "" => format!("{} inside closed", size_typed(ring.closed_inside().mm())),
        typed => format!("{typed} inside {}", asked.at("state")),
    }
}

fn wire_typed(asked: &Asked, ring: &AskedRing, field: &str) -> String {
    given(asked.at(field)).unwrap_or_else(|| size_typed(ring.wire().diameter().mm()))
}

/// Whether pieces of a pattern can be kept: a sheet is pulled along or across, a cluster not at all.
pub(super) fn can_be_measured(pattern: &Pattern) -> bool {
    pattern.kind() == Kind::Chain
}
