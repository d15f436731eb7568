//! From what was typed to a question about a pattern, or complaints beside the fields.

use std::sync::Arc;

use linkwright_answers::chain::{
    AskedMetal, AskedRing, ChainAsked, EndsAsked, NoPattern, PieceAsked, Solver,
};
use linkwright_answers::printout::{SIZE_PLACES, short_mm};
use linkwright_calc::metal::{Catalogue, Metal};
use linkwright_calc::quantity::{Length, RingSide, RingState, parse_length, parse_ring_size};
use linkwright_calc::ring::{Joint, RingMetal};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::Correction;
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_store::View;

use super::asked::{Asked, FURTHER};
use crate::error::PageError;
use crate::form::Complaints;
use crate::patterns::known_patterns;

/// A question that can be answered, with what it was read from.
pub(super) struct Question {
    pub(super) chain: ChainAsked,
    pub(super) metal: Metal,
    /// The main wire.
    pub(super) wire: Wire,
    /// Its strength as wound, with ends that only touch; `None` where the table has none.
    pub(super) ring_metal: Option<RingMetal>,
    /// What measured pieces of the pattern teach of its lengths.
    pub(super) correction: Correction,
    /// What solves it where no table knows the pattern.
    pub(super) solver: Arc<Solver>,
}

/// The pattern of a key among those known here.
///
/// # Errors
/// [`PageError::NotFound`] if there is none, [`PageError::Nowhere`] if one's own of that key cannot be
/// used or is gone.
pub(super) fn pattern_named(view: &View<'_>, name: &str) -> Result<Pattern, PageError> {
    known_patterns(view)?.find(name).map_err(|error| match error {
        NoPattern::Unknown(_) => PageError::NotFound { what: "pattern" },
        other => PageError::Nowhere(other.to_string()),
    })
}

/// Reads the whole form; every complaint is found at once.
pub(super) fn read(
    pattern: &Pattern,
    asked: &Asked,
    metals: &Catalogue,
    own_kerf: Option<Kerf>,
    (correction, solver): (Correction, Arc<Solver>),
) -> Result<Question, Complaints> {
    let mut complaints = Complaints::default();
    let metal = complaints.take("metal", metals.find(asked.at("metal")));
    let wire = wire(&mut complaints, "wire", asked.at("wire"));
    if let (Some(metal), Some(wire)) = (metal, wire) {
        complaints.take("temper", metal.temper_for_wire(asked.at("temper"), wire).map(|_| ()));
    }
    let kerf = match asked.at("kerf") {
        "" => own_kerf,
        typed => {
            let width = complaints.take("kerf", parse_length(typed));
            width.and_then(|width| complaints.take("kerf", Kerf::new(width.value())))
        }
    };
    let is_open = match asked.at("state") {
        "open" => true,
        "closed" => false,
        _ => {
            complaints.add(
                "state",
                "is the inside diameter that of the open ring or of the closed one? Choose",
            );
            false
        }
    };
    let mut rings = Vec::new();
    if let Some(wire) = wire {
        rings.extend(ring(&mut complaints, "inside", asked.at("inside"), wire, is_open, kerf));
    }
    let sizes = pattern.spec().sizes.len();
    for (size, fields) in (2..=sizes).zip(FURTHER) {
        further(&mut complaints, asked, (size, fields), is_open, kerf, &mut rings);
    }
    let piece = piece(&mut complaints, pattern, asked);
    match (metal, wire) {
        (Some(metal), Some(wire)) if complaints.is_empty() => Ok(Question {
            chain: ChainAsked {
                pattern: pattern.clone(),
                rings,
                piece,
                metal: Some(AskedMetal::of(metal)),
            },
            metal: metal.clone(),
            wire,
            ring_metal: metal
                .temper_for_wire(asked.at("temper"), wire)
                .ok()
                .and_then(|temper| RingMetal::of(metal, temper.value, Joint::Touching).ok())
                .map(|rings| rings.value),
            correction,
            solver,
        }),
        _ => Err(complaints),
    }
}

fn wire(complaints: &mut Complaints, field: &str, typed: &str) -> Option<Wire> {
    let size = complaints.take(field, parse_length(typed))?;
    complaints.take(field, Wire::new(size.value()))
}

fn ring(
    complaints: &mut Complaints,
    field: &str,
    typed: &str,
    wire: Wire,
    is_open: bool,
    kerf: Option<Kerf>,
) -> Option<AskedRing> {
    let inside = inside(complaints, field, typed, wire, is_open)?;
    if is_open {
        complaints.take(field, AskedRing::open(wire, inside, kerf))
    } else {
        complaints.take(field, AskedRing::closed(wire, inside))
    }
}

/// The inside diameter: the field is called so, but one who says otherwise is heard.
fn inside(
    complaints: &mut Complaints,
    field: &str,
    typed: &str,
    wire: Wire,
    is_open: bool,
) -> Option<Length> {
    let words = match parse_ring_size(typed) {
        Ok(_) => typed.to_owned(),
        Err(_) => format!("{typed} inside"),
    };
    if typed.is_empty() {
        complaints.add(field, "type the inside diameter, such as 3.5 mm");
        return None;
    }
    let (size, side, state) = match parse_ring_size(&words) {
        Ok(read) => read,
        // Told of what was typed, without the word that was added.
        Err(_) => {
            complaints.take(field, parse_length(typed));
            complaints
                .add(field, format!("\"{typed}\" is no inside diameter; type 3.5 mm or 9/64 in"));
            return None;
        }
    };
    if state.is_some_and(|state| (state == RingState::Open) != is_open) {
        complaints.add(field, "this says one thing and the choice of open or closed another");
        return None;
    }
    Some(match side {
        RingSide::Inside => size.value(),
        RingSide::Outside => size.value() - wire.diameter() - wire.diameter(),
    })
}

/// A further size; left blank it follows the pattern's own proportion, with those after it.
fn further(
    complaints: &mut Complaints,
    asked: &Asked,
    (size, (wire_field, inside_field)): (usize, (&str, &str)),
    is_open: bool,
    kerf: Option<Kerf>,
    rings: &mut Vec<AskedRing>,
) {
    let (typed_wire, typed_inside) = (asked.at(wire_field), asked.at(inside_field));
    if typed_wire.is_empty() && typed_inside.is_empty() {
        return;
    }
    if size != rings.len() + 1 && !rings.is_empty() {
        complaints.add(inside_field, "give the sizes before this one too, or leave this one blank");
        return;
    }
    let own_wire = rings.first().map(|ring| ring.wire());
    let wire = match typed_wire {
        "" => own_wire,
        typed => wire(complaints, wire_field, typed),
    };
    if let Some(wire) = wire {
        rings.extend(ring(complaints, inside_field, typed_inside, wire, is_open, kerf));
    }
}

fn piece(complaints: &mut Complaints, pattern: &Pattern, asked: &Asked) -> Option<PieceAsked> {
    let mut length = |field: &str| match asked.at(field) {
        "" => None,
        typed => complaints.take(field, parse_length(typed)).map(|length| length.value()),
    };
    let (long, across, clasp) = (length("length"), length("across"), length("clasp"));
    match pattern.kind() {
        Kind::Cluster => None,
        Kind::Sheet => match (long, across) {
            (Some(along), Some(across)) => Some(PieceAsked::Sheet { along, across }),
            (None, None) => None,
            (None, Some(_)) => {
                complaints.add("length", "how long along the rows?");
                None
            }
            (Some(_), None) => {
                complaints.add("across", "how wide across the rows?");
                None
            }
        },
        Kind::Chain => long.map(|length| PieceAsked::Long {
            length,
            ends: EndsAsked { clasp: clasp.unwrap_or(EndsAsked::NONE.clasp), rings: 0 },
        }),
    }
}

/// A size as the form shows it.
pub(super) fn size_typed(mm: f64) -> String {
    short_mm(mm, SIZE_PLACES)
}
