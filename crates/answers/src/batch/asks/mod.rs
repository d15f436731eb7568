//! The questions `batch` answers, one file a topic.

mod gauge;

mod wind;

mod coil;

mod hold;

mod slit;

mod ring;

mod count;

mod run_sheet;

mod chain;

use std::sync::atomic::AtomicBool;

use serde_json::Value;

use crate::batch::inputs::Inputs;
use crate::batch::line::{Given, Line};
use crate::batch::reply::Reply;
use crate::chain::KnownPatterns;
use crate::refusal::Refusal;

/// One question: its name, the keys it takes, and how it is answered.
pub struct Ask {
    pub name: &'static str,
    pub keys: &'static [&'static str],
    answer: fn(&Inputs) -> Result<Reply, Refusal>,
}

/// Every question, in the order of the wire.
pub static ASKS: &[&Ask] = &[
    &gauge::GAUGE,
    &wind::WIND,
    &wind::MANDREL,
    &wind::CLAD_WIRE,
    &coil::COIL,
    &coil::TURNS_IN_LENGTH,
    &hold::CLAMP,
    &hold::CLAMP_AS_WOUND,
    &slit::PROJECTION_WINDOW,
    &slit::STOP_END,
    &slit::CUTTING,
    &ring::RING,
    &ring::CLOSING,
    &ring::STRENGTH,
    &count::COUNT,
    &count::EXACT_COUNT_LIMIT,
    &count::ODDS_OF_GOOD_RINGS,
    &count::COILS_NEEDED,
    &run_sheet::RUN_SHEET,
    &chain::CHAIN,
];

/// Answers the question of a line where these patterns are known, unless `stop` is set meanwhile.
pub fn answer(line: &Line, patterns: &KnownPatterns, stop: &AtomicBool) -> Result<Reply, Refusal> {
    let ask = find(line)?;
    let inputs = Inputs::new(ask.name, ask.keys, line.fields(), patterns)?.until(stop);
    (ask.answer)(&inputs)?.finite()
}

fn find(line: &Line) -> Result<&'static Ask, Refusal> {
    let known = || ASKS.iter().map(|ask| ask.name).collect::<Vec<_>>().join(", ");
    let Some(given) = line.fields().get("ask") else {
        return Err(Refusal::Missing { field: "ask".to_owned(), ask: "every line".to_owned() });
    };
    let Given::Plain(Value::String(name)) = given else {
        return Err(Refusal::WrongType {
            field: "ask".to_owned(),
            given: Box::new(given.to_json()),
            wanted: "a word in quotes",
        });
    };
    ASKS.iter()
        .find(|ask| ask.name == name)
        .copied()
        .ok_or_else(|| Refusal::UnknownAsk { given: Box::new(given.to_json()), known: known() })
}
