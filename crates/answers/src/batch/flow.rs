//! The input `flow`: a flow law by name with its own numbers.

use linkwright_calc::limits::{
    HARDENING_EXPONENT, LimitError, RAMBERG_OSGOOD_EXPONENT, STRESS, TANGENT_MODULUS, VOCE_RATE,
};
use linkwright_calc::metal::FlowLaw;
use linkwright_calc::quantity::Stress;
use serde_json::{Map, Value, json};

use crate::batch::inputs::Inputs;
use crate::batch::line::Line;
use crate::chain::KnownPatterns;
use crate::refusal::Refusal;

const PATH: &str = "flow.";

#[derive(Clone, Copy)]
enum Law {
    ElasticPerfectlyPlastic,
    Bilinear,
    Hollomon,
    Ludwik,
    Swift,
    Voce,
    RambergOsgood,
}

const LAWS: [(&str, Law); 7] = [
    ("elastic_perfectly_plastic", Law::ElasticPerfectlyPlastic),
    ("bilinear", Law::Bilinear),
    ("hollomon", Law::Hollomon),
    ("ludwik", Law::Ludwik),
    ("swift", Law::Swift),
    ("voce", Law::Voce),
    ("ramberg_osgood", Law::RambergOsgood),
];

impl Law {
    const fn keys(self) -> &'static [&'static str] {
        match self {
            Law::ElasticPerfectlyPlastic => &["law", "yield_strength_mpa"],
            Law::Bilinear => &["law", "yield_strength_mpa", "tangent_modulus_mpa"],
            Law::Hollomon => &["law", "strength_coefficient_mpa", "hardening_exponent"],
            Law::Ludwik | Law::Swift => {
                &["law", "initial_yield_mpa", "strength_coefficient_mpa", "hardening_exponent"]
            }
            Law::Voce => &["law", "initial_yield_mpa", "saturation_increment_mpa", "rate"],
            Law::RambergOsgood => &["law", "proof_strength_mpa", "exponent"],
        }
    }
}

/// The law under `flow`.
pub fn flow_law(inputs: &Inputs) -> Result<FlowLaw, Refusal> {
    let law = inputs.within("flow", PATH, &["law"])?.one_of("law", &LAWS)?;
    let given = inputs.within("flow", PATH, law.keys())?;
    given.refuse_unknown_keys(&[])?;
    Ok(match law {
        Law::ElasticPerfectlyPlastic => {
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: given.stress("yield_strength_mpa")? }
        }
        Law::Bilinear => FlowLaw::Bilinear {
            yield_strength: given.stress("yield_strength_mpa")?,
            tangent_modulus: Stress::from_mpa(
                given.number("tangent_modulus_mpa", TANGENT_MODULUS)?,
            ),
        },
        Law::Hollomon => FlowLaw::Hollomon {
            strength_coefficient: given.stress("strength_coefficient_mpa")?,
            hardening_exponent: given.number("hardening_exponent", HARDENING_EXPONENT)?,
        },
        Law::Ludwik => FlowLaw::Ludwik {
            initial_yield: given.stress("initial_yield_mpa")?,
            strength_coefficient: given.stress("strength_coefficient_mpa")?,
            hardening_exponent: given.number("hardening_exponent", HARDENING_EXPONENT)?,
        },
        Law::Swift => FlowLaw::Swift {
            initial_yield: given.stress("initial_yield_mpa")?,
            strength_coefficient: given.stress("strength_coefficient_mpa")?,
            hardening_exponent: given.number("hardening_exponent", HARDENING_EXPONENT)?,
        },
        Law::Voce => FlowLaw::Voce {
            initial_yield: given.stress("initial_yield_mpa")?,
            saturation_increment: Stress::from_mpa(
                given.number("saturation_increment_mpa", STRESS)?,
            ),
            rate: given.number("rate", VOCE_RATE)?,
        },
        Law::RambergOsgood => FlowLaw::RambergOsgood {
            proof_strength: given.stress("proof_strength_mpa")?,
            exponent: given.number("exponent", RAMBERG_OSGOOD_EXPONENT)?,
        },
    })
}

/// A limit the core found broken, named as the question names it: numbers of the law by their path.
pub fn refuse(error: LimitError) -> Refusal {
    let field = error.limit.field;
    let of_the_law = LAWS.iter().any(|(_, law)| law.keys().contains(&field));
    Refusal::OutOfLimits {
        field: format!("{}{field}", if of_the_law { PATH } else { "" }),
        given: error.given,
        limit: error.limit,
    }
}

/// The keys of a question that holds a law and nothing else.
const LAW_ALONE: &[&str] = &["flow"];

/// A law as typed in one go: its name, then its numbers as `key=value`.
pub fn from_words(words: &str) -> Result<FlowLaw, Refusal> {
    let mut words = words.split_whitespace();
    let mut law = Map::new();
    law.insert("law".to_owned(), Value::from(words.next().unwrap_or_default()));
    for word in words {
        let (key, number) = word.split_once('=').unwrap_or((word, ""));
        let value = number.parse::<f64>().map_or_else(|_| Value::from(number), Value::from);
        law.insert(key.to_owned(), value);
    }
    let line = Line::read(&json!({ "flow": law }).to_string())?;
    line.check()?;
    let patterns = KnownPatterns::built_in();
    flow_law(&Inputs::new("the metal", LAW_ALONE, line.fields(), &patterns)?)
}
