//! `chain`: what a pattern of linked rings gives with rings as closed.

mod given;

mod pull;

use linkwright_linkage::answer::QuestionError;
use serde_json::Value;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::chain::{
    ChainAnswer, ChainAsked, ChainError, InFull, InFullError, answer_until, chain_as_json,
    correction,
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
        "other_rings",
        "length_mm",
        "round_mm",
        "ease_mm",
        "clasp_mm",
        "end_rings",
        "across_mm",
        "metal",
        "density_g_cm3",
        "measured",
        "in_full",
        "pull_n",
        "temper",
        "yield_strength_mpa",
        "tensile_strength_mpa",
        "youngs_modulus_mpa",
        "soldered",
    ],
    answer: answer_chain,
};

/// Steps of the solver after which a full answer is given up, counted and not timed, so that the same
/// question has the same answer. Patterns of the table take up to 2,200.
const STEPS_MOST: u32 = 20_000;

fn answer_chain(inputs: &Inputs) -> Result<Reply, Refusal> {
    let found = inputs.patterns().find(inputs.word("pattern")?);
    let pattern = found.map_err(|error| inputs.bench("pattern", error))?;
    let metal = given::metal(inputs)?;
    let asked = ChainAsked {
        rings: given::rings(inputs, &pattern)?,
        piece: given::piece(inputs)?,
        metal: given::asked_metal(inputs, metal.as_ref())?,
        pattern,
    };
    let measured = inputs.list("measured", given::MEASURED)?;
    let pieces = given::pieces(inputs, &measured, &asked.pattern)?;
    let pull = pull::pull(inputs, metal.as_ref(), asked.rings[0].wire())?;
    let rings = asked.pattern.spec().rings.len();
    let refuse = |error| refuse(inputs, rings, &error);
    let solver = inputs.patterns().solver();
    let plain = answer_until(&asked, solver, &mut inputs.watch(u32::MAX)).map_err(refuse)?;
    let taught = correction(&plain.linked, &pieces)
        .map_err(|(at, error)| measured[at].bench("length_mm", error))?;
    let answered = plain.corrected(&asked, &taught).map_err(refuse)?;
    let in_full = if inputs.flag("in_full")? {
        let worked_out = InFull::of(&answered, pull, &mut inputs.watch(STEPS_MOST));
        Some(worked_out.map_err(|error| match error {
            InFullError::Limit(_) => inputs.bench("pull_n", error),
            _ => inputs.bench("in_full", given_up(STEPS_MOST)),
        })?)
    } else {
        None
    };
    Ok(reply(&answered, in_full.as_ref()))
}

/// The keys of the answer, its cautions apart, as every question has them.
fn reply(answered: &ChainAnswer, in_full: Option<&InFull>) -> Reply {
    let mut reply = Reply::new();
    if let Value::Object(keys) = chain_as_json(answered, in_full) {
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
    reply.source("contact of rigid rings; docs/theory/chain.md")
}

fn given_up(steps_most: u32) -> String {
    format!(
        "stopped before the answer was found: at most {steps_most} steps of the solver are taken; the \
         command `linkwright chain` does not give up"
    )
}

/// The key to change for each thing a pattern can say no to.
fn refuse(inputs: &Inputs, rings: usize, error: &ChainError) -> Refusal {
    let others = given::others_key(inputs);
    match error {
        ChainError::Question(QuestionError::RingSizes { sizes: 1, .. }) => {
            inputs.bench(others, "this pattern has one ring size only")
        }
        ChainError::Question(QuestionError::RingSizes { .. }) => inputs.bench(others, error),
        ChainError::Question(QuestionError::Sizes(_)) if inputs.has(others) => {
            inputs.bench(others, error)
        }
        ChainError::Question(QuestionError::Halt(_)) => {
            let steps_most = inputs.patterns().solver().steps_most(rings).unwrap_or(u32::MAX);
            inputs.bench("closed_inside_diameter_mm", given_up(steps_most))
        }
        ChainError::SheetByLength { .. } | ChainError::ChainByArea { .. } => {
            inputs.bench("across_mm", error)
        }
        ChainError::ClusterBySize { .. } => inputs.bench(given::length_key(inputs), error),
        _ => inputs.bench("closed_inside_diameter_mm", error),
    }
}
