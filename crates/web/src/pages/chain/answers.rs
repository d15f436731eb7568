//! Answers kept for a while: a page, its picture and its paper ask the same within a second.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use linkwright_answers::chain::{ChainAnswer, ChainAsked, ChainError, answer_with};
use linkwright_linkage::answer::{Drawn, TightestBend};
use linkwright_linkage::solve::{Halt, Watch, Way};
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
}

type Outcome = Result<Arc<Answered>, String>;

/// What takes longer to work out.
#[derive(Default)]
pub(super) struct Handling {
    /// The tightest bends found, over the face and edgewise.
    pub(super) bends: Vec<TightestBend>,
}

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

fn key(asked: &ChainAsked) -> String {
    let metal = asked.metal.as_ref().map(|metal| (&metal.name, metal.density));
    format!("{} {:?} {:?} {metal:?}", asked.pattern.name(), asked.rings, asked.piece)
}

/// Answers a question beside the pages, and keeps what it comes to, with how the chain handles if that
/// is wanted.
pub(super) async fn made_ready(asked: ChainAsked, with_handling: bool) -> Result<(), PageError> {
    let key = key(&asked);
    if ANSWERS.of(&key).is_some() && (!with_handling || HANDLINGS.of(&key).is_some()) {
        return Ok(());
    }
    let turn = SOLVING.acquire().await.map_err(|error| PageError::Inside(Box::new(error)))?;
    tokio::task::spawn_blocking(move || {
        let found = answered(&asked);
        if let (true, Ok(found)) = (with_handling, &found) {
            drop(handling(&asked, found));
        }
    })
    .await?;
    drop(turn);
    Ok(())
}

/// Answers a question, or says in a sentence why not.
pub(super) fn answered(asked: &ChainAsked) -> Outcome {
    ANSWERS.or(key(asked), || worked_out(asked))
}

/// How a chain handles, or in a sentence why that is not known.
pub(super) fn handling(asked: &ChainAsked, found: &Answered) -> Result<Arc<Handling>, String> {
    HANDLINGS.or(key(asked), || {
        let mut watch = Steps(STEPS_MOST);
        let mut bends = Vec::new();
        for way in [Way::OverFace, Way::Edgewise] {
            let bend = found.answer.linked.tightest_bend(way, &mut watch);
            bends.extend(bend.map_err(|_| too_long())?);
        }
        Ok(Arc::new(Handling { bends }))
    })
}

/// Gives up after so many steps, counted and not timed, so that the same question has the same answer.
struct Steps(u32);

impl Watch for Steps {
    fn tick(&mut self) -> Result<(), Halt> {
        self.0 = self.0.checked_sub(1).ok_or(Halt::Cancelled)?;
        Ok(())
    }
}

fn worked_out(asked: &ChainAsked) -> Outcome {
    let mut watch = Steps(STEPS_MOST);
    let answer = answer_with(asked, &mut watch).map_err(|error| said(&error))?;
    let drawn = answer.linked.drawn(&mut watch).map_err(|_| too_long())?;
    Ok(Arc::new(Answered { answer, drawn }))
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
