//! What a question about a pattern gives: rings, the finished piece, the metal, measured pieces.

use linkwright_calc::basis::Basis;
use linkwright_calc::limits::{INSIDE_DIAMETER, LENGTH, Limit, RINGS, WIRE_DIAMETER};
use linkwright_calc::metal::{Catalogue, Metal};
use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::MeasuredPiece;
use linkwright_linkage::pattern::{Kind, Pattern};

use crate::batch::inputs::Inputs;
use crate::chain::{
    AskedMetal, AskedRing, EndsAsked, PIECES_MOST, PieceAsked, PieceGiven, reading,
};
use crate::refusal::Refusal;

/// Keys of a measured piece.
pub(super) const MEASURED: &[&str] = &["rings", "length_mm", "of"];
/// Keys of a ring size in a list.
const RING: &[&str] = &[WIRE, INSIDE];

const WIRE: &str = "wire_diameter_mm";
const INSIDE: &str = "closed_inside_diameter_mm";
const SECOND: (&str, &str) = ("second_wire_diameter_mm", "second_closed_inside_diameter_mm");

/// A finished length: above nothing.
const FINISHED: Limit = Limit { low: 0.1, ..LENGTH };
/// End rings: a handful, and never more than this.
const END_RINGS: Limit =
    Limit { field: "end_rings", high: 100.0, why: "none to a hundred", ..RINGS };

/// The key that holds the ring sizes beyond the first.
pub(super) fn others_key(inputs: &Inputs) -> &'static str {
    if inputs.has("other_rings") { "other_rings" } else { SECOND.1 }
}

/// The key that holds the length.
pub(super) fn length_key(inputs: &Inputs) -> &'static str {
    if inputs.has("round_mm") { "round_mm" } else { "length_mm" }
}

/// The rings, the main size first.
pub(super) fn rings(inputs: &Inputs, pattern: &Pattern) -> Result<Vec<AskedRing>, Refusal> {
    let mut rings = vec![ring(inputs, WIRE, INSIDE)?];
    if inputs.has("other_rings") {
        inputs.refuse_beside("other_rings", &[SECOND.0, SECOND.1])?;
        for other in inputs.list("other_rings", RING)? {
            rings.push(ring(&other, WIRE, INSIDE)?);
        }
        let sizes = pattern.spec().sizes.len();
        if rings.len() > sizes {
            let name = pattern.name();
            let said = format!(
                "{name} has {sizes} ring size{}; other_rings holds those beyond the first",
                if sizes == 1 { "" } else { "s" }
            );
            return Err(inputs.bench("other_rings", said));
        }
    } else if inputs.has(SECOND.0) || inputs.has(SECOND.1) {
        rings.push(ring(inputs, SECOND.0, SECOND.1)?);
    }
    Ok(rings)
}

fn ring(
    inputs: &Inputs,
    wire_key: &'static str,
    inside_key: &'static str,
) -> Result<AskedRing, Refusal> {
    let wire = Wire::new(Length::from_mm(inputs.number(wire_key, WIRE_DIAMETER)?))
        .map_err(|error| inputs.bench(wire_key, error))?;
    let inside = Length::from_mm(inputs.number(inside_key, INSIDE_DIAMETER)?);
    AskedRing::closed(wire, inside).map_err(|error| inputs.bench(inside_key, error))
}

/// A length over all, the girth it goes round, or the two sides of a sheet; none is needed.
pub(super) fn piece(inputs: &Inputs) -> Result<Option<PieceAsked>, Refusal> {
    let length = |key, limit| Ok(inputs.optional_number(key, limit)?.map(Length::from_mm));
    let nothing = Length::from_mm(0.0);
    let ends = EndsAsked {
        clasp: length("clasp_mm", LENGTH)?.unwrap_or(nothing),
        rings: inputs.optional_whole("end_rings", END_RINGS)?.unwrap_or(0),
    };
    if let Some(girth) = length("round_mm", FINISHED)? {
        inputs.refuse_beside("round_mm", &["length_mm", "across_mm"])?;
        let ease = length("ease_mm", LENGTH)?.unwrap_or(nothing);
        return Ok(Some(PieceAsked::Round { girth, ease, ends }));
    }
    if inputs.has("ease_mm") {
        return Err(inputs.bench("ease_mm", "ease goes with round_mm, the girth measured"));
    }
    Ok(match (length("length_mm", FINISHED)?, length("across_mm", FINISHED)?) {
        (None, None) => None,
        (None, Some(_)) => return Err(inputs.missing("length_mm")),
        (Some(along), Some(across)) => Some(PieceAsked::Sheet { along, across }),
        (Some(length), None) => Some(PieceAsked::Long { length, ends }),
    })
}

/// The metal of the built-in table, if one is named.
pub(super) fn metal(inputs: &Inputs) -> Result<Option<Metal>, Refusal> {
    if !inputs.has("metal") {
        return Ok(None);
    }
    let catalogue = Catalogue::built_in();
    let found = catalogue.find(inputs.word("metal")?);
    Ok(Some(found.map_err(|error| inputs.bench("metal", error))?.clone()))
}

/// The metal by its name, or a density alone; neither is needed.
pub(super) fn asked_metal(
    inputs: &Inputs,
    metal: Option<&Metal>,
) -> Result<Option<AskedMetal>, Refusal> {
    if inputs.has("density_g_cm3") {
        inputs.refuse_beside("density_g_cm3", &["metal"])?;
        return Ok(Some(AskedMetal {
            name: "as given by its density".to_owned(),
            density: inputs.density("density_g_cm3")?,
            basis: Basis::assumed("as given"),
            cautions: Vec::new(),
        }));
    }
    Ok(metal.map(AskedMetal::of))
}

/// The measured pieces, those of rings of their own read already.
pub(super) fn pieces(
    inputs: &Inputs,
    measured: &[Inputs],
    pattern: &Pattern,
) -> Result<Vec<PieceGiven>, Refusal> {
    if measured.len() > PIECES_MOST {
        let said =
            format!("at most {PIECES_MOST} pieces are learned from; keep the latest of them");
        return Err(inputs.bench("measured", said));
    }
    if !measured.is_empty() && pattern.kind() != Kind::Chain {
        let name = pattern.name();
        let said = format!(
            "{name} is no chain; only the length of a chain is corrected by measured pieces"
        );
        return Err(inputs.bench("measured", said));
    }
    measured.iter().map(|piece| given(piece, pattern)).collect()
}

fn given(inputs: &Inputs, pattern: &Pattern) -> Result<PieceGiven, Refusal> {
    let least = pattern.spec().rings.len() as f64;
    let limit =
        Limit { low: least, why: "one repeat of the pattern to a thousand million", ..RINGS };
    let piece = MeasuredPiece {
        rings: u64::from(inputs.whole("rings", limit)?),
        length: Length::from_mm(inputs.number("length_mm", FINISHED)?),
    };
    let own = inputs.list("of", RING)?;
    let reading = if own.is_empty() {
        None
    } else {
        let rings = own.iter().map(|own| Ok(ring(own, WIRE, INSIDE)?.as_closed()));
        let rings = rings.collect::<Result<Vec<_>, Refusal>>()?;
        let read = reading(pattern, &rings, piece, inputs.patterns().solver());
        Some(read.map_err(|error| inputs.bench("length_mm", error))?)
    };
    Ok(PieceGiven { piece, reading, date: None })
}
