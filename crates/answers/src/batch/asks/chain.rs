//! `chain`: what a pattern of linked rings gives with rings as closed.

use linkwright_calc::basis::Basis;
use linkwright_calc::limits::{INSIDE_DIAMETER, LENGTH, Limit, WIRE_DIAMETER};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::QuestionError;
use serde_json::Value;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::chain::{
    AskedMetal, AskedRing, ChainAsked, ChainError, EndsAsked, PieceAsked, answer_by, chain_as_json,
};
use crate::refusal::Refusal;

pub static CHAIN: Ask = Ask {
    name: "chain",
    keys: &[
        "pattern",
        "wire_diameter_mm",
        "closed_inside_diameter_mm",
        "second_wire_diameter_mm",
        "second_closed_inside_diameter_mm",
        "length_mm",
        "clasp_mm",
        "across_mm",
        "metal",
        "density_g_cm3",
    ],
    answer: answer_chain,
};

/// A finished length: above nothing.
const FINISHED: Limit = Limit { low: 0.1, ..LENGTH };

fn answer_chain(inputs: &Inputs) -> Result<Reply, Refusal> {
    let found = inputs.patterns().find(inputs.word("pattern")?);
    let pattern = found.map_err(|error| inputs.bench("pattern", error))?;
    let mut rings = vec![ring(inputs, "wire_diameter_mm", "closed_inside_diameter_mm")?];
    let second = ("second_wire_diameter_mm", "second_closed_inside_diameter_mm");
    if inputs.has(second.0) || inputs.has(second.1) {
        rings.push(ring(inputs, second.0, second.1)?);
    }
    let asked = ChainAsked { pattern, rings, piece: piece(inputs)?, metal: metal(inputs)? };
    let answered =
        answer_by(&asked, inputs.patterns().solver()).map_err(|error| refuse(inputs, &error))?;
    let mut reply = Reply::new();
    if let Value::Object(keys) = chain_as_json(&answered) {
        for (key, value) in keys {
            match (key.as_str(), value) {
                ("cautions", Value::Array(sentences)) => {
                    for sentence in sentences.iter().filter_map(Value::as_str) {
                        reply = reply.caution(sentence);
                    }
                }
                (_, value) => reply = reply.owned(key, value),
            }
        }
    }
    Ok(reply.source("contact of rigid rings; docs/theory/chain.md"))
}

/// A length over all, or the two sides of a sheet; neither is needed.
fn piece(inputs: &Inputs) -> Result<Option<PieceAsked>, Refusal> {
    let length = |key, limit| Ok(inputs.optional_number(key, limit)?.map(Length::from_mm));
    let clasp = length("clasp_mm", LENGTH)?.unwrap_or(Length::from_mm(0.0));
    Ok(match (length("length_mm", FINISHED)?, length("across_mm", FINISHED)?) {
        (None, None) => None,
        (None, Some(_)) => return Err(inputs.missing("length_mm")),
        (Some(along), Some(across)) => Some(PieceAsked::Sheet { along, across }),
        (Some(length), None) => {
            Some(PieceAsked::Long { length, ends: EndsAsked { clasp, ..EndsAsked::NONE } })
        }
    })
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

/// A metal by name, or a density alone; neither is needed.
fn metal(inputs: &Inputs) -> Result<Option<AskedMetal>, Refusal> {
    if inputs.has("density_g_cm3") {
        inputs.refuse_beside("density_g_cm3", &["metal"])?;
        return Ok(Some(AskedMetal {
            name: "as given by its density".to_owned(),
            density: inputs.density("density_g_cm3")?,
            basis: Basis::assumed("as given"),
            cautions: Vec::new(),
        }));
    }
    if !inputs.has("metal") {
        return Ok(None);
    }
    let catalogue = Catalogue::built_in();
    let found =
        catalogue.find(inputs.word("metal")?).map_err(|error| inputs.bench("metal", error))?;
    Ok(Some(AskedMetal::of(found)))
}

/// The key to change for each thing a pattern can say no to.
fn refuse(inputs: &Inputs, error: &ChainError) -> Refusal {
    let second = "second_closed_inside_diameter_mm";
    match error {
        ChainError::Question(QuestionError::RingSizes { sizes: 1, .. }) => {
            inputs.bench(second, "this pattern has one ring size only")
        }
        ChainError::Question(QuestionError::Sizes(_)) if inputs.has(second) => {
            inputs.bench(second, error)
        }
        ChainError::SheetByLength { .. } => inputs.bench("across_mm", error),
        ChainError::ChainByArea { .. } => inputs.bench("across_mm", error),
        ChainError::ClusterBySize { .. } => inputs.bench("length_mm", error),
        _ => inputs.bench("closed_inside_diameter_mm", error),
    }
}
