//! What a chain is like in the hand, where that was asked for.

use linkwright_answers::chain::{ChainAnswer, InFull, InFullError};
use linkwright_answers::refusal::Refusal;
use linkwright_calc::quantity::Force;
use linkwright_calc::ring::{Joint, RingMetal};
use linkwright_linkage::solve::Patient;

use super::Args;
use crate::typed;

/// Worked out, if it was asked for.
pub fn worked_out(args: &Args, answered: &ChainAnswer) -> Result<Option<InFull>, Refusal> {
    if !args.in_full {
        return Ok(None);
    }
    let pull = match args.pull_n {
        None => None,
        Some(newtons) => Some((metal(args, answered)?, Force::from_n(newtons))),
    };
    InFull::of(answered, pull, &mut Patient).map(Some).map_err(|error| match error {
        InFullError::Limit(_) => Refusal::bench("--pull-n", args.pull_n.unwrap_or(f64::NAN), error),
        _ => Refusal::bench("--in-full", "", error),
    })
}

/// Strength and stiffness of the rings.
fn metal(args: &Args, answered: &ChainAnswer) -> Result<RingMetal, Refusal> {
    let catalogue = typed::catalogue(args.overlay.as_deref())?;
    let metal = typed::metal(&catalogue, args.metal.as_deref().unwrap_or_default())?;
    let name = args.temper.as_deref().unwrap_or_default();
    let temper = typed::temper(&metal, name, answered.rings[0].ring.wire())?.value;
    let joint = if args.soldered { Joint::Soldered } else { Joint::Touching };
    let rings = RingMetal::of(&metal, &temper, joint);
    Ok(rings.map_err(|error| Refusal::bench("--temper", name, error))?.value)
}
