//! Answers kept for a while: a page, its picture and its paper ask the same within a second.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use linkwright_answers::chain::{ChainAnswer, ChainAsked, ChainError, Steps, answer_corrected};
use linkwright_calc::quantity::Force;
use linkwright_linkage::answer::{Correction, Drawn, LastRing, RingMetal, TightestBend, UnderLoad};
use linkwright_linkage::solve::Way;
use tokio::sync::Semaphore;

use crate::error::PageError;

/// Steps of the solver after which a page gives up. Patterns in rings of any proportion take a few
/// thousand.
const STEPS_MOST: u32 = 20_000;
/// Answers kept.
const KEPT: usize = 64;

/// An answer and the pattern in place.
pub(super) struct Answered {
    pub(super) answer: ChainAnswer,
    /// `None` where it is not possible.
    pub(super) drawn: Option<Drawn>,
    /// Its still picture, once it was drawn, and whether that is seen aslant.
    pub(super) still: OnceLock<(Option<String>, bool)>,
}

type Outcome = Result<Arc<Answered>, String>;

/// What takes longer to work out.
#[derive(Default)]
pub(super) struct Handling {
    /// The tightest bends found, over the face and edgewise.
    pub(super) bends: Vec<TightestBend>,
    /// Room for the last ring.
    pub(super) last_ring: Option<LastRing>,
    /// The chain pulled, where the metal's strength is on record.
    pub(super) under_load: Option<UnderLoad>,
}

/// The pull that is told of: about a kilogram hung on the chain. Own choice.
const LOAD_N: f64 = 10.0;

static ANSWERS: Kept<Outcome> = Kept::new();
static HANDLINGS: Kept<Result<Arc<Handling>, String>> = Kept::new();

/// The solver works on one question at a time, and no page that needs no answer waits for it.
static SOLVING: Semaphore = Semaphore::const_new(1);

/// Outcomes by their questions, the last asked first.
struct Kept<T>(Mutex<VecDeque<(String, T)>>);

impl<T: Clone> Kept<T> {
    const fn new() -> Kept<T> {
        Kept(Mutex::new(VecDeque::new()))
    }

    fn of(&self, key: &str) -> Option<T> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().find(|(of, _)| of == key).map(|(_, outcome)| outcome.clone())
    }

    fn or(&self, key: String, work: impl FnOnce() -> T) -> T {
        if let Some(outcome) = self.of(&key) {
            return outcome;
        }
        let outcome = work();
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_front((key, outcome.clone()));
        kept.truncate(KEPT);
        outcome
    }
}

fn key(asked: &ChainAsked, correction: &Correction) -> String {
    let metal = asked.metal.as_ref().map(|metal| (&metal.name, metal.density));
    let name = asked.pattern.name();
    format!("{name} {:?} {:?} {metal:?} {correction:?}", asked.rings, asked.piece)
}

/// Answers a question beside the pages, and keeps what it comes to, with how the chain handles in a metal
/// if that is wanted.
pub(super) async fn made_ready(
    asked: ChainAsked,
    correction: Correction,
    handled: Option<Option<RingMetal>>,
) -> Result<(), PageError> {
    let key = key(&asked, &correction);
    let is_known = |metal: Option<RingMetal>| HANDLINGS.of(&format!("{key} {metal:?}")).is_some();
    if ANSWERS.of(&key).is_some() && handled.is_none_or(is_known) {
        return Ok(());
    }
    let turn = SOLVING.acquire().await.map_err(|error| PageError::Inside(Box::new(error)))?;
    tokio::task::spawn_blocking(move || {
        let found = answered(&asked, &correction);
        if let (Some(metal), Ok(found)) = (handled, &found) {
            drop(handling(&asked, &correction, metal, found));
        }
    })
    .await?;
    drop(turn);
    Ok(())
}

/// Answers a question, or says in a sentence why not.
pub(super) fn answered(asked: &ChainAsked, correction: &Correction) -> Outcome {
    ANSWERS.or(key(asked, correction), || worked_out(asked, correction))
}

/// How a chain handles, or in a sentence why that is not known.
pub(super) fn handling(
    asked: &ChainAsked,
    correction: &Correction,
    metal: Option<RingMetal>,
    found: &Answered,
) -> Result<Arc<Handling>, String> {
    HANDLINGS.or(format!("{} {metal:?}", key(asked, correction)), || {
        let linked = &found.answer.linked;
        let mut watch = Steps::of(STEPS_MOST);
        let mut bends = Vec::new();
        for way in [Way::OverFace, Way::Edgewise] {
            bends.extend(linked.tightest_bend(way, &mut watch).map_err(|_| too_long())?);
        }
        let last_ring = linked.last_ring(&mut watch).map_err(|_| too_long())?;
        let pulled = found
            .drawn
            .as_ref()
            .zip(metal)
            .map(|(drawn, metal)| linked.under_load(drawn, metal, Force::from_n(LOAD_N)));
        let under_load = pulled.transpose().map_err(|error| error.to_string())?.flatten();
        Ok(Arc::new(Handling { bends, last_ring, under_load }))
    })
}

fn worked_out(asked: &ChainAsked, correction: &Correction) -> Outcome {
    let mut watch = Steps::of(STEPS_MOST);
    let answer = answer_corrected(asked, correction, &mut watch).map_err(|error| said(&error))?;
    let drawn = answer.linked.drawn(&mut watch).map_err(|_| too_long())?;
    Ok(Arc::new(Answered { answer, drawn, still: OnceLock::new() }))
}

fn said(error: &ChainError) -> String {
    use linkwright_linkage::answer::QuestionError;
    match error {
        ChainError::Question(QuestionError::Halt(_)) => too_long(),
        other => other.to_string(),
    }
}

fn too_long() -> String {
    format!(
        "no answer was found within {STEPS_MOST} steps; take rings nearer to the pattern's own \
         proportion, or ask the command `linkwright chain`, which does not give up"
    )
}
