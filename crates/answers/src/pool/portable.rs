//! The prior that many workshops make together, as a file.

use std::collections::BTreeMap;

use linkwright_trials::{Bell, GATES, Gate, GatePrior, Pool, Prior, TermPrior, pooled_term};
use serde_json::{Map, Value, json};

use super::error::PoolFileError;
use super::field::{Between, Field, document};
use super::gate_name;
use super::term::{read_term, term_name};
use super::workshop::{FILE_BYTES_MOST, bell_as_json};

/// What the file says it is.
const FORMAT: &str = "linkwright-portable-prior";
/// The version written, and the last one read.
const VERSION: u64 = 1;
/// Terms of a gate at most.
const TERMS_MOST: usize = 500;
/// Workshops and trials at most.
const COUNT_MOST: u64 = 1_000_000_000;
/// Log odds that a term may add: beyond 30 a share is 0 or 1 to all digits.
const LOG_ODDS: Between = Between { low: -30.0, high: 30.0 };
/// Width of a belief about them; one of no width at all could not learn.
const LOG_ODDS_SD: Between = Between { low: 1e-6, high: 30.0 };
/// Logarithms of scatter and departure.
const LN_SETTING: Between = Between { low: -10.0, high: 5.0 };
/// Their width.
const LN_SETTING_SD: Between = Between { low: 1e-3, high: 10.0 };

/// What is believed before a workshop's first trial, and whose trials taught it.
#[derive(Clone, Debug, PartialEq)]
pub struct PortablePrior {
    /// What is believed.
    pub prior: Prior,
    /// Workshops it was learned from.
    pub workshops: usize,
    /// Their trials, coils.
    pub trials: usize,
}

impl PortablePrior {
    /// Geometry alone, from no workshop.
    pub fn geometry() -> PortablePrior {
        PortablePrior { prior: Prior::geometry(), workshops: 0, trials: 0 }
    }

    /// Whose trials it rests on, such as "the trials of 3 other workshops (310 coils)".
    pub fn in_words(&self) -> String {
        match self.workshops {
            0 => "geometry alone".to_owned(),
            1 => format!("the trials of 1 other workshop ({} coils)", self.trials),
            many => format!("the trials of {many} other workshops ({} coils)", self.trials),
        }
    }

    /// What the workshops of a pool make of it.
    pub fn of(pool: &Pool) -> PortablePrior {
        PortablePrior {
            prior: pool.prior(),
            workshops: pool.workshops().len(),
            trials: pool.workshops().iter().map(|workshop| workshop.trials()).sum(),
        }
    }
}

/// The file of a prior: JSON, as docs/pooling-file.md describes it.
///
/// # Units
/// Log odds, and their natural logarithm for scatter and departure.
pub fn write_prior(portable: &PortablePrior) -> String {
    let gates: Map<String, Value> = GATES
        .into_iter()
        .map(|gate| (gate_name(gate).to_owned(), gate_as_json(&portable.prior.gates[gate.index()])))
        .collect();
    let file = json!({
        "format": FORMAT,
        "version": VERSION,
        "workshops": portable.workshops,
        "trials": portable.trials,
        "gates": gates,
    });
    format!("{file}\n")
}

fn gate_as_json(gate: &GatePrior) -> Value {
    let terms = gate.learned.iter().filter_map(|(term, prior)| {
        let name = term_name(term)?;
        Some(match *prior {
            TermPrior::Fixed(bell) => json!({ "term": name, "mean": bell.mean, "sd": bell.sd }),
            TermPrior::OfDeparture { mean, times } => {
                json!({ "term": name, "mean": mean, "sd_per_departure": times })
            }
        })
    });
    json!({
        "ln_scatter": bell_as_json(gate.ln_scatter),
        "ln_departure": bell_as_json(gate.ln_departure),
        "terms": terms.collect::<Vec<_>>(),
    })
}

/// Reads the file of a prior. End losses are not pooled and stay geometry's.
///
/// # Errors
/// [`PoolFileError`], as for a condensed workshop.
pub fn read_prior(bytes: &[u8]) -> Result<PortablePrior, PoolFileError> {
    let document = document(bytes, FILE_BYTES_MOST, FORMAT, VERSION)?;
    let file = Field::whole(&document);
    file.has_only("format, version, workshops, trials, gates")?;
    let count = |key: &str| -> Result<usize, PoolFileError> {
        Ok(usize::try_from(file.at(key)?.count(1, COUNT_MOST)?).unwrap_or(usize::MAX))
    };
    let (workshops, trials) = (count("workshops")?, count("trials")?);
    let gates = file.at("gates")?;
    gates.has_only("kept, severed, round")?;
    let mut prior = Prior::geometry();
    for gate in GATES {
        prior.gates[gate.index()] = read_gate(gate, &gates.at(gate_name(gate))?)?;
    }
    Ok(PortablePrior { prior, workshops, trials })
}

fn read_gate(gate: Gate, field: &Field<'_>) -> Result<GatePrior, PoolFileError> {
    field.has_only("ln_scatter, ln_departure, terms")?;
    let mut learned = BTreeMap::new();
    for entry in field.at("terms")?.list(TERMS_MOST)? {
        let at = entry.at("term")?;
        let term = read_term(&at)?;
        let before = Prior::geometry().term(gate, &term).filter(|_| pooled_term(&term));
        let before = before.ok_or_else(|| at.kind("a term of this gate"))?;
        if learned.insert(term, read_entry(&entry, before)?).is_some() {
            return Err(at.kind("a term that did not come before"));
        }
    }
    let setting = |key: &str| field.at(key)?.bell(LN_SETTING, LN_SETTING_SD);
    Ok(GatePrior {
        ln_scatter: setting("ln_scatter")?,
        ln_departure: setting("ln_departure")?,
        learned,
    })
}

/// What is believed of one term; its width is given in the way geometry gives it.
fn read_entry(entry: &Field<'_>, before: TermPrior) -> Result<TermPrior, PoolFileError> {
    let mean = entry.at("mean")?.number(LOG_ODDS)?;
    match before {
        TermPrior::Fixed(_) => {
            entry.has_only("term, mean, sd")?;
            Ok(TermPrior::Fixed(Bell { mean, sd: entry.at("sd")?.number(LOG_ODDS_SD)? }))
        }
        TermPrior::OfDeparture { .. } => {
            entry.has_only("term, mean, sd_per_departure")?;
            let times = entry.at("sd_per_departure")?.number(LOG_ODDS_SD)?;
            Ok(TermPrior::OfDeparture { mean, times })
        }
    }
}
