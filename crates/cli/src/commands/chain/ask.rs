//! What was typed for `chain`, made sense of.

use linkwright_answers::chain::{
    AskedMetal, AskedRing, ChainAsked, ChainError, EndsAsked, PieceAsked,
};
use linkwright_answers::refusal::Refusal;
use linkwright_calc::coil::InsideDiameter;
use linkwright_calc::limits::LENGTH;
use linkwright_calc::quantity::Length;
use linkwright_calc::ring::RingError;
use linkwright_calc::slit::Kerf;
use linkwright_linkage::answer::QuestionError;
use linkwright_linkage::pattern::Pattern;

use super::Args;
use crate::typed;

/// The question.
pub fn asked(args: &Args, pattern: Pattern) -> Result<ChainAsked, Refusal> {
    let mut rings = vec![ring(args, ("--wire", &args.wire), ("--inside", &args.inside))?];
    if args.second_inside.is_some() {
        let wire = ("--second-wire", &args.second_wire);
        rings.push(ring(args, wire, ("--second-inside", &args.second_inside))?);
    }
    let catalogue = typed::catalogue(args.overlay.as_deref())?;
    let metal = args.metal.as_deref().map(|name| typed::metal(&catalogue, name)).transpose()?;
    Ok(ChainAsked {
        pattern,
        rings,
        piece: piece(args)?,
        metal: metal.as_ref().map(AskedMetal::of),
    })
}

/// A ring of the two options that describe it.
fn ring(
    args: &Args,
    (wire_option, wire): (&'static str, &Option<String>),
    (option, inside): (&'static str, &Option<String>),
) -> Result<AskedRing, Refusal> {
    let (wire, _) = typed::wire(wire_option, wire.as_deref().unwrap_or_default())?;
    let inside = typed::length(option, inside.as_deref().unwrap_or_default())?;
    typed::role(option, &inside, InsideDiameter::new)?;
    if args.closed {
        return typed::role(option, &inside, |length| AskedRing::closed(wire, length));
    }
    let kerf = match typed::optional_length("--kerf", args.kerf.as_ref())? {
        Some(kerf) => Some(typed::role("--kerf", &kerf, Kerf::new)?),
        None => None,
    };
    AskedRing::open(wire, inside.value(), kerf).map_err(|error| {
        let option = match error {
            RingError::KerfAcrossRing { .. } => "--kerf",
            _ => option,
        };
        Refusal::bench(option, inside.text(), error)
    })
}

/// The finished piece, if one is asked for.
fn piece(args: &Args) -> Result<Option<PieceAsked>, Refusal> {
    let clasp = typed::optional_length("--clasp", args.clasp.as_ref())?;
    let clasp = match &clasp {
        Some(clasp) => {
            typed::role("--clasp", clasp, |length| LENGTH.check(length.mm()).map(|_| length))?
        }
        None => Length::from_mm(0.0),
    };
    let ends = EndsAsked { clasp, rings: args.end_rings.unwrap_or(0) };
    let length = finished("--length", args.length.as_ref())?;
    let across = finished("--across", args.across.as_ref())?;
    let girth = finished("--round", args.round.as_ref())?;
    Ok(match (length, across, girth) {
        (Some(along), Some(across), _) => Some(PieceAsked::Sheet { along, across }),
        (Some(length), None, _) => Some(PieceAsked::Long { length, ends }),
        (None, _, Some(girth)) => {
            let ease = typed::length("--ease", &args.ease)?;
            let ease =
                typed::role("--ease", &ease, |length| LENGTH.check(length.mm()).map(|_| length))?;
            Some(PieceAsked::Round { girth, ease, ends })
        }
        (None, _, None) => None,
    })
}

/// A finished length or width, above nothing.
fn finished(option: &'static str, text: Option<&String>) -> Result<Option<Length>, Refusal> {
    let Some(typed) = typed::optional_length(option, text)? else { return Ok(None) };
    let limit = linkwright_calc::limits::Limit { low: 0.1, ..LENGTH };
    typed::role(option, &typed, |length| limit.check(length.mm()).map(|_| length)).map(Some)
}

/// What the pattern says no to, named by its option.
pub fn refuse(args: &Args, error: &ChainError) -> Refusal {
    let given = |typed: &Option<String>| typed.clone().unwrap_or_default();
    let second = |said: &dyn std::fmt::Display| {
        Refusal::bench("--second-inside", given(&args.second_inside), said)
    };
    match error {
        ChainError::Question(QuestionError::RingSizes { sizes: 1, .. }) => {
            second(&"this pattern has one ring size only")
        }
        ChainError::Question(QuestionError::Sizes(_)) if args.second_inside.is_some() => {
            second(error)
        }
        ChainError::SheetByLength { .. } | ChainError::ChainByArea { .. } => {
            Refusal::bench("--across", given(&args.across), error)
        }
        ChainError::ClusterBySize { .. } => Refusal::bench("--length", given(&args.length), error),
        _ => Refusal::bench("--inside", given(&args.inside), error),
    }
}
