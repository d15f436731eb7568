//! Answers kept for a while: a page, its picture and its paper ask the same within a second.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use linkwright_answers::chain::{ChainAnswer, ChainAsked, ChainError, answer_with};
use linkwright_linkage::answer::Drawn;
use linkwright_linkage::solve::{Halt, Watch};

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

static ANSWERS: Mutex<VecDeque<(String, Outcome)>> = Mutex::new(VecDeque::new());

/// Gives up after so many steps, counted and not timed, so that the same question has the same answer.
struct Steps(u32);

impl Watch for Steps {
    fn tick(&mut self) -> Result<(), Halt> {
        self.0 = self.0.checked_sub(1).ok_or(Halt::Cancelled)?;
        Ok(())
    }
}

/// Answers a question, or says in a sentence why not.
pub(super) fn answered(asked: &ChainAsked) -> Outcome {
    let metal = asked.metal.as_ref().map(|metal| (&metal.name, metal.density));
    let key = format!("{} {:?} {:?} {metal:?}", asked.pattern.name(), asked.rings, asked.piece);
    let kept = |answers: &VecDeque<(String, Outcome)>| {
        answers.iter().find(|(of, _)| *of == key).map(|(_, outcome)| outcome.clone())
    };
    if let Some(outcome) = kept(&ANSWERS.lock().unwrap_or_else(PoisonError::into_inner)) {
        return outcome;
    }
    let outcome = worked_out(asked);
    let mut answers = ANSWERS.lock().unwrap_or_else(PoisonError::into_inner);
    answers.push_front((key.clone(), outcome.clone()));
    answers.truncate(KEPT);
    outcome
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
