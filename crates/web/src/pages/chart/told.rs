//! A decision as sentences a jeweller reads.

use linkwright_trials::BladeWorth;

use super::believed::percent;
use super::bench::ChartBench;
use super::decided::Decided;

/// What to do in a place, and why it may be close.
pub(super) fn what_to_do(bench: &ChartBench, place: &Decided) -> Vec<String> {
    let decision = &place.decision;
    let called = |kind: usize| bench.kinds[kind].called.as_str();
    let Some(choice) = decision.choice else {
        return vec![
            "Do not cut this here: no blade brings what a coil costs.".to_owned(),
            format!("Chance that this is right: {}.", percent(decision.chance_none)),
        ];
    };
    let mut told = vec![format!(
        "Use {}; chance that it is the best blade here: {}.",
        called(choice),
        percent(decision.blades[choice].chance_best)
    )];
    if let Some(close) = decision.close {
        told.push(format!(
            "{} brings more on average, but not clearly: the blade changes only when another is \
             better with more than 60 %.",
            called(close)
        ));
    }
    if decision.chance_none >= 0.1 {
        told.push(format!(
            "Chance that it would be better not to cut this here: {}.",
            percent(decision.chance_none)
        ));
    }
    told
}

/// What one blade costs and brings in a place; only its chance where nobody said what work costs.
pub(super) fn money(bench: &ChartBench, place: &Decided, worth: &BladeWorth) -> Vec<String> {
    let chance = format!("chance that it is the best here: {}", percent(worth.chance_best));
    let band = |amounts: [Option<String>; 3]| {
        let [mean, low, high] = amounts;
        Some(format!("{} ({} to {})", mean?, low?, high?))
    };
    let three = |mean: f64, [low, high]: [f64; 2]| [mean, low, high];
    let ring = three(worth.ring_cost, worth.ring_cost_80);
    let ring = band(ring.map(|minor| bench.pricing.amount_a_ring(minor)));
    let coil = three(worth.net_mean, worth.net_80);
    let coil = band(coil.map(|minor| bench.pricing.amount(minor)));
    let turns = place.money.turns;
    [
        ring.map(|ring| format!("a good ring costs {ring}")),
        coil.map(|coil| format!("a coil of {turns} turns brings {coil} over its cost")),
        Some(chance),
    ]
    .into_iter()
    .flatten()
    .collect()
}
