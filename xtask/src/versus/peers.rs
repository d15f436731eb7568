//! The peers' side: one Python per peer and question, which times and scores itself.

use std::path::Path;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::process::{output, root};
use crate::python::peers;

/// A peer: its word in `xtask/peers/learn.py`, its name, and the most trials it is asked for
/// unless told to take its time.
pub struct Peer {
    pub word: &'static str,
    pub name: &'static str,
    pub trials_most: usize,
}

pub const PEERS: [Peer; 4] = [
    Peer { word: "glm", name: "statsmodels binomial GLM", trials_most: usize::MAX },
    Peer { word: "beta", name: "scipy beta-binomial", trials_most: usize::MAX },
    Peer { word: "gp", name: "scikit-learn GP classifier", trials_most: 200 },
    Peer { word: "nuts", name: "numpyro NUTS, our model", trials_most: 200 },
];

impl Peer {
    /// Its answer to the question in a file: seconds, and the scores it can give.
    pub fn answer(&self, question: &Path) -> Result<Value> {
        let mut command = peers()?;
        command.arg(root().join("xtask/peers/learn.py")).arg(self.word).arg(question);
        let printed = output(&mut command)?;
        let last = printed.lines().last().context("it said nothing")?;
        serde_json::from_str(last).with_context(|| format!("{} said {last}", self.name))
    }
}
