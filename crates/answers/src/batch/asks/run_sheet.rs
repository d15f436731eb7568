//! `run_sheet`: a whole order, with the keys of the order and workshop files.

use linkwright_calc::metal::Catalogue;
use serde_json::Value;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::files::document::FileError;
use crate::files::from_json;
use crate::refusal::Refusal;
use crate::run_sheet::Money;
use crate::run_sheet::json::{all_doubts, plan_as_json};

pub static RUN_SHEET: Ask =
    Ask { name: "run_sheet", keys: &["order", "workshop"], answer: answer_run_sheet };

fn answer_run_sheet(inputs: &Inputs) -> Result<Reply, Refusal> {
    let metals = Catalogue::built_in();
    let order = from_json::order(&inputs.object("order")?, inputs.patterns())
        .map_err(|error| refusal("order", error))?;
    let workshop = from_json::workshop(&inputs.object("workshop")?, &metals)
        .map_err(|error| refusal("workshop", error))?;
    let plan = order
        .plan(&workshop, &metals, None)
        .map_err(|error| Refusal::bench("order", Value::from(error.line.as_str()), error))?;
    let mut reply = Reply::new();
    if let Value::Object(answer) = plan_as_json(&plan, Money::Shown) {
        for (key, value) in answer {
            reply = reply.owned(key, value);
        }
    }
    for doubt in all_doubts(&plan) {
        reply = reply.caution(doubt);
    }
    Ok(reply.source("mechanics A-F in the order of the wire; the choices are the project's own"))
}

fn refusal(key: &str, error: FileError) -> Refusal {
    match error {
        FileError::Wrong { ref field, ref given, .. } => {
            Refusal::bench(&format!("{key}.{field}"), given.as_str(), &error)
        }
        FileError::Missing { ref field, .. } => {
            Refusal::bench(&format!("{key}.{field}"), Value::Null, &error)
        }
        other => Refusal::bench(key, Value::Null, other),
    }
}
