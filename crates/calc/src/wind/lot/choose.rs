//! Which mandrel, and whether to anneal, for a ring of a wanted size.

use super::fit::LotFit;
use super::predict::PredictedRing;
use super::prior::WireState;
use super::verdict::Verdict;
use crate::basis::Answer;
use crate::limits::{INSIDE_DIAMETER, LimitError, TOLERANCE};
use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wire::Wire;

/// Drill shanks come in steps of a tenth of a millimetre: common practice, no source.
const SHANK_STEPS_PER_MM: f64 = 10.0;

/// Below this chance of a ring within the tolerance the smaller miss decides. Own choice.
const LEAST_CHANCE: f64 = 0.01;

/// The open coil wanted; a closed ring is turned into an open one before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilTarget {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter of the coil, open.
    pub inside_diameter: Length,
    /// How far off is still good, either way.
    pub tolerance: Length,
}

/// What is known of the wire as it came, and annealed at the bench if that may be done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LotStates<'lot> {
    /// The wire as it came.
    pub as_bought: &'lot LotFit,
    /// The same wire softened; none if that is not to be considered.
    pub annealed: Option<&'lot LotFit>,
}

/// One mandrel with the wire in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The mandrel.
    pub mandrel: Mandrel,
    /// The wire as bought or annealed.
    pub state: WireState,
    /// The ring to expect.
    pub ring: Answer<PredictedRing>,
    /// Ring to expect less ring wanted; below nothing if it comes out small.
    pub miss: Length,
    /// Whether the ring to expect lies within the tolerance.
    pub within_tolerance: bool,
    /// Chance that a ring lies within the tolerance.
    pub chance: f64,
}

/// The rod that would hit the size, for the wire in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct RodWanted {
    /// The wire as bought or annealed.
    pub state: WireState,
    /// The rod; none if no rod gives the size.
    pub mandrel: Option<Mandrel>,
    /// The drill shanks next to it in steps of 0.1 mm, best first.
    pub shanks: Vec<Candidate>,
}

/// All that can be wound on, best first, and what it comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct MandrelChoice {
    /// Owned mandrels with the wire in each state, best first.
    pub candidates: Vec<Candidate>,
    /// The odd rod that would hit, for each state.
    pub rods_wanted: Vec<RodWanted>,
    /// The choice in a sentence.
    pub verdict: Verdict,
}

/// Ranks the owned mandrels for a wanted coil, and names the odd rod that would hit.
///
/// A candidate is accepted if the ring to expect lies within the tolerance. Accepted ones come
/// first, then by the chance of a ring within the tolerance where it is 1 % or more, then by the
/// smaller miss, then wire as bought before annealed. Mandrels on which the wire takes no set are left out.
///
/// # Units
/// Lengths; chance a share of one.
/// # Validity
/// As [`LotFit::predict`].
/// # Errors
/// [`LimitError`] naming `coil_inside_diameter_mm` or `tolerance_mm`.
/// # Source
/// Own rule.
///
/// ```
/// use linkwright_calc::metal::{Band, Verified};
/// use linkwright_calc::quantity::Length;
/// use linkwright_calc::wind::{
///     CoilTarget, LotFit, LotPrior, LotStates, Mandrel, Verdict, WireState, choose_mandrel,
/// };
/// use linkwright_calc::wire::Wire;
/// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
/// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
/// let lot = LotFit::new(&prior, &[]);
/// let owned = [3.0, 3.5, 4.0].map(|mm| Mandrel::new(Length::from_mm(mm)).unwrap());
/// let choice = choose_mandrel(
///     &CoilTarget {
///         wire: Wire::new(Length::from_mm(0.81)).unwrap(),
///         inside_diameter: Length::from_mm(3.5),
///         tolerance: Length::from_mm(0.05),
///     },
///     &owned,
///     LotStates { as_bought: &lot, annealed: None },
/// ).unwrap();
/// assert!(matches!(choice.verdict, Verdict::Shank { .. }));
/// assert_eq!(choice.candidates[0].mandrel.diameter().mm(), 3.5);
/// ```
pub fn choose_mandrel(
    target: &CoilTarget,
    owned: &[Mandrel],
    lot: LotStates<'_>,
) -> Result<MandrelChoice, LimitError> {
    INSIDE_DIAMETER.named("coil_inside_diameter_mm").check(target.inside_diameter.mm())?;
    TOLERANCE.check(target.tolerance.mm())?;
    let states: Vec<&LotFit> = std::iter::once(lot.as_bought).chain(lot.annealed).collect();
    let mut candidates: Vec<Candidate> = states
        .iter()
        .flat_map(|fit| owned.iter().filter_map(|&mandrel| candidate(target, fit, mandrel)))
        .collect();
    candidates.sort_by(best_first);
    let rods_wanted = states
        .iter()
        .map(|fit| rod_wanted(target, fit))
        .collect::<Result<Vec<RodWanted>, LimitError>>()?;
    let verdict = Verdict::of(&candidates, &rods_wanted);
    Ok(MandrelChoice { candidates, rods_wanted, verdict })
}

/// A mandrel with the wire in one state; none if the wire takes no set on it.
fn candidate(target: &CoilTarget, fit: &LotFit, mandrel: Mandrel) -> Option<Candidate> {
    let ring = fit.predict(target.wire, mandrel)?;
    let miss = ring.value.inside_diameter - target.inside_diameter;
    let chance = ring.value.chance_between(
        target.inside_diameter - target.tolerance,
        target.inside_diameter + target.tolerance,
    );
    // A ring on the very edge counts as good, whatever the last digit says.
    let within_tolerance = miss.mm().abs() <= target.tolerance.mm() + 1e-9;
    Some(Candidate { mandrel, state: fit.state(), ring, miss, within_tolerance, chance })
}

fn best_first(a: &Candidate, b: &Candidate) -> std::cmp::Ordering {
    b.within_tolerance
        .cmp(&a.within_tolerance)
        .then(worth_trying(b).total_cmp(&worth_trying(a)))
        .then(a.miss.mm().abs().total_cmp(&b.miss.mm().abs()))
        .then(a.state.cmp(&b.state))
}

/// The chance, or nothing if it is too small to tell one hopeless mandrel from another.
fn worth_trying(candidate: &Candidate) -> f64 {
    if candidate.chance < LEAST_CHANCE { 0.0 } else { candidate.chance }
}

fn rod_wanted(target: &CoilTarget, fit: &LotFit) -> Result<RodWanted, LimitError> {
    let mandrel = fit.rod_for(target.wire, target.inside_diameter)?;
    let mut shanks: Vec<Candidate> = mandrel.map_or_else(Vec::new, |rod| {
        let steps = rod.diameter().mm() * SHANK_STEPS_PER_MM;
        // A rod on a step has no neighbour to choose between.
        let mut sizes = vec![(steps - 1e-6).floor(), (steps + 1e-6).ceil()];
        if (steps - steps.round()).abs() < 1e-6 {
            sizes = vec![steps.round()];
        }
        sizes
            .into_iter()
            .filter_map(|steps| Mandrel::new(Length::from_mm(steps / SHANK_STEPS_PER_MM)).ok())
            .filter_map(|shank| candidate(target, fit, shank))
            .collect()
    });
    shanks.sort_by(best_first);
    Ok(RodWanted { state: fit.state(), mandrel, shanks })
}
