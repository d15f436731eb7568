//! What is believed of each cell, as JSON.

use linkwright_trials::Belief;
use serde_json::{Value, json};

/// The beliefs as one object, `{"cells": [...]}`, in the order of the cells.
///
/// # Units
/// Shares of 1; `trials_here` counts coils. `q` is the long-run share of good rings among the
/// turns that are not lost at an end.
pub fn as_json(beliefs: &[Belief]) -> Value {
    let cells: Vec<Value> = beliefs
        .iter()
        .map(|belief| {
            json!({
                "q_mean": belief.good_share_mean,
                "q_sd": belief.good_share_sd,
                "q_80": belief.good_share_80,
                "q_95": belief.good_share_95,
                "p_q_90": belief.chance_of_90,
                "trials_here": belief.trials_here,
            })
        })
        .collect();
    json!({ "cells": cells })
}
