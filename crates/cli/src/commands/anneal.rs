//! Whether to anneal before winding, said beside the coil.

use linkwright_calc::metal::anneal::{AboutToWind, Verdict, advice};
use linkwright_calc::wind::{Mandrel, WireState};
use linkwright_calc::wire::Wire;

use crate::commands::lot::KnownMetal;
use crate::printout::Printout;

/// Adds the advice with its reason and what to watch.
pub fn advise(printout: &mut Printout, known: &KnownMetal, wire: Wire, mandrel: Mandrel) {
    let advice = advice(AboutToWind {
        metal: &known.metal,
        temper: &known.temper,
        wire,
        mandrel,
        annealed: known.fit.state() == WireState::Annealed,
    });
    printout.words("anneal", "anneal", format!("{}: {}", word(advice.verdict), advice.reason));
    printout.cautions(&advice.cautions);
}

const fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Anneal => "advised",
        Verdict::NotNeeded => "not needed",
        Verdict::NoRuleHeld => "no rule held",
        Verdict::BuyAnnealed => "buy it annealed",
        _ => "see the reason",
    }
}
