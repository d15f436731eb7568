//! `count`, `exact_count_limit`, `odds_of_good_rings` and `coils_needed`.

use linkwright_calc::count::{
    CoilsQuery, CountError, GoodRate, RateSharing, SampleQuery, Weighing, chance_of_at_least,
    coils_needed, count_by_weight, exact_count_limit,
};
use linkwright_calc::limits::{BETA, COVERAGE, MASS, RING_MASS_CV, RINGS, SHARE, TURNS};
use linkwright_calc::quantity::Mass;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static COUNT: Ask = Ask {
    name: "count",
    keys: &[
        "net_mass_g",
        "sample_rings",
        "sample_mass_g",
        "net_mass_uncertainty_g",
        "sample_mass_uncertainty_g",
        "ring_mass_cv",
    ],
    answer: answer_count,
};

pub static EXACT_COUNT_LIMIT: Ask = Ask {
    name: "exact_count_limit",
    keys: &[
        "sample_rings",
        "sample_mass_g",
        "net_mass_uncertainty_g",
        "sample_mass_uncertainty_g",
        "ring_mass_cv",
        "k",
        "limit",
    ],
    answer: answer_exact_count_limit,
};

pub static ODDS_OF_GOOD_RINGS: Ask = Ask {
    name: "odds_of_good_rings",
    keys: &["turns", "good_rings", "beta_a", "beta_b"],
    answer: answer_odds_of_good_rings,
};

pub static COILS_NEEDED: Ask = Ask {
    name: "coils_needed",
    keys: &[
        "good_rings",
        "turns_per_coil",
        "lost_per_coil",
        "beta_a",
        "beta_b",
        "confidence",
        "rate",
    ],
    answer: answer_coils_needed,
};

const RATES: [(&str, RateSharing); 2] =
    [("shared", RateSharing::Shared), ("per_coil", RateSharing::PerCoil)];

const BY_WEIGHT: &str = "propagation of independent uncertainties; docs/theory/counting.md";
const ODDS: &str = "beta-binomial; docs/theory/counting.md";

fn answer_count(inputs: &Inputs) -> Result<Reply, Refusal> {
    let net = mass(inputs, "net_mass_g")?;
    let counted =
        count_by_weight(&weighing(inputs, net)?).map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new()
        .number("rings", counted.rings)
        .number("rings_uncertainty", counted.uncertainty)
        .source(BY_WEIGHT))
}

fn answer_exact_count_limit(inputs: &Inputs) -> Result<Reply, Refusal> {
    // The lot is not weighed yet: its mass follows from the count that is asked for.
    let sample = mass(inputs, "sample_mass_g")?;
    let query = SampleQuery {
        weighing: weighing(inputs, sample)?,
        k: inputs.number("k", COVERAGE)?,
        limit: inputs.number("limit", RINGS)?,
    };
    let rings = exact_count_limit(&query).map_err(|error| refuse(inputs, error))?;
    let reply = Reply::new().value("rings", rings).source(BY_WEIGHT);
    Ok(match rings {
        Some(_) => reply,
        None => reply.caution("not even one ring is counted to this limit; weigh a larger sample"),
    })
}

fn weighing(inputs: &Inputs, net: Mass) -> Result<Weighing, Refusal> {
    Ok(Weighing {
        net,
        net_uncertainty: mass(inputs, "net_mass_uncertainty_g")?,
        sample_rings: inputs.whole("sample_rings", RINGS)?,
        sample: mass(inputs, "sample_mass_g")?,
        sample_uncertainty: mass(inputs, "sample_mass_uncertainty_g")?,
        ring_mass_cv: inputs.number("ring_mass_cv", RING_MASS_CV)?,
    })
}

fn answer_odds_of_good_rings(inputs: &Inputs) -> Result<Reply, Refusal> {
    let turns = inputs.whole("turns", TURNS)?;
    let good_rings = inputs.whole("good_rings", RINGS)?;
    let chance = chance_of_at_least(good_rings, turns, rate(inputs)?)
        .map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new().number("probability", chance).source(ODDS))
}

fn answer_coils_needed(inputs: &Inputs) -> Result<Reply, Refusal> {
    let coils = coils_needed(&CoilsQuery {
        good_rings: inputs.whole("good_rings", RINGS)?,
        turns_per_coil: inputs.whole("turns_per_coil", TURNS)?,
        lost_per_coil: inputs.whole("lost_per_coil", TURNS)?,
        rate: rate(inputs)?,
        confidence: inputs.number("confidence", SHARE)?,
        sharing: inputs.one_of("rate", &RATES)?,
    })
    .map_err(|error| refuse(inputs, error))?;
    Ok(Reply::new().value("coils", coils).source(ODDS))
}

fn rate(inputs: &Inputs) -> Result<GoodRate, Refusal> {
    let (a, b) = (inputs.number("beta_a", BETA)?, inputs.number("beta_b", BETA)?);
    GoodRate::new(a, b).map_err(|error| inputs.bench(error.limit.field, error))
}

fn mass(inputs: &Inputs, key: &'static str) -> Result<Mass, Refusal> {
    Ok(Mass::from_g(inputs.number(key, MASS)?))
}

/// The key to change for each thing that can be wrong with a count.
fn refuse(inputs: &Inputs, error: CountError) -> Refusal {
    let key = match error {
        CountError::Limit(error) => error.limit.field,
        CountError::NothingLeft { .. } => "lost_per_coil",
        _ => "good_rings",
    };
    inputs.bench(key, error)
}
