//! Answers kept for a while: a page, its picture and its paper ask the same within a second.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use linkwright_answers::chain::{ChainAnswer, ChainError, Steps, answer_by};
use linkwright_calc::quantity::Force;
use linkwright_calc::ring::RingMetal;
use linkwright_linkage::answer::{Drawn, LastRing, TightestBend, UnderLoad};
use linkwright_linkage::solve::Way;
use linkwright_linkage::table;

use super::question::Question;
use crate::error::PageError;
use crate::patterns::one_at_a_time;

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

fn key(question: &Question) -> String {
    let Question { chain: asked, correction, .. } = question;
    let metal = asked.metal.as_ref().map(|metal| (&metal.name, metal.density));
    // One's own may be replaced by another of the same key.
    let pattern = match table::entry(&asked.pattern) {
        Some(entry) => entry.name.to_owned(),
        None => format!("{:?}", asked.pattern.spec()),
    };
    format!("{pattern} {:?} {:?} {metal:?} {correction:?}", asked.rings, asked.piece)
}

/// Answers a question beside the pages, and keeps what it comes to, with how the chain handles if that is
/// wanted.
pub(super) async fn made_ready(question: Question, with_handling: bool) -> Result<(), PageError> {
    let is_known = |key: &str| HANDLINGS.of(&handling_key(key, question.ring_metal)).is_some();
    let key = key(&question);
    if ANSWERS.of(&key).is_some() && (!with_handling || is_known(&key)) {
        return Ok(());
    }
    // What the table has is read in no time, and does not wait behind what is being solved.
    if !with_handling && is_in_table(&question) {
        tokio::task::spawn_blocking(move || drop(answered(&question))).await?;
        return Ok(());
    }
    one_at_a_time(move || {
        let found = answered(&question);
        if let (true, Ok(found)) = (with_handling, &found) {
            drop(handling(&question, found));
        }
    })
    .await
}

/// Whether the table knows the pattern in these rings: one ring is given, and others follow its proportions.
fn is_in_table(question: &Question) -> bool {
    question.chain.rings.len() == 1 && table::entry(&question.chain.pattern).is_some()
}

/// Answers a question, or says in a sentence why not.
pub(super) fn answered(question: &Question) -> Outcome {
    ANSWERS.or(key(question), || worked_out(question))
}

fn handling_key(key: &str, metal: Option<RingMetal>) -> String {
    format!("{key} {metal:?}")
}

/// How a chain handles, or in a sentence why that is not known.
pub(super) fn handling(question: &Question, found: &Answered) -> Result<Arc<Handling>, String> {
    let metal = question.ring_metal;
    HANDLINGS.or(handling_key(&key(question), metal), || {
        let linked = &found.answer.linked;
        let steps = steps_for(question);
        let mut watch = Steps::of(steps);
        let mut bends = Vec::new();
        for way in [Way::OverFace, Way::Edgewise] {
            bends.extend(linked.tightest_bend(way, &mut watch).map_err(|_| too_long(steps))?);
        }
        let last_ring = linked.last_ring(&mut watch).map_err(|_| too_long(steps))?;
        let pulled = found
            .drawn
            .as_ref()
            .zip(metal)
            .map(|(drawn, metal)| linked.under_load(drawn, metal, Force::from_n(LOAD_N)));
        let under_load = pulled.transpose().map_err(|error| error.to_string())?.flatten();
        Ok(Arc::new(Handling { bends, last_ring, under_load }))
    })
}

fn worked_out(question: &Question) -> Outcome {
    let asked = &question.chain;
    let steps = steps_for(question);
    let mut watch = Steps::of(steps);
    let answer = answer_by(asked, &question.solver)
        .and_then(|plain| plain.corrected(asked, &question.correction))
        .map_err(|error| said(&error, steps))?;
    let drawn = answer.linked.drawn(&mut watch).map_err(|_| too_long(steps))?;
    Ok(Arc::new(Answered { answer, drawn, still: OnceLock::new() }))
}

fn said(error: &ChainError, steps: u32) -> String {
    use linkwright_linkage::answer::QuestionError;
    match error {
        ChainError::Question(QuestionError::Halt(_)) => too_long(steps),
        other => other.to_string(),
    }
}

/// Steps after which a page gives up. Patterns of the program in rings of any proportion take a few
/// thousand, and how they bend some more.
fn steps_for(question: &Question) -> u32 {
    const OF_THE_PROGRAM: u32 = 20_000;
    if table::entry(&question.chain.pattern).is_some() {
        return OF_THE_PROGRAM;
    }
    question.solver.steps_most(question.chain.pattern.spec().rings.len()).unwrap_or(u32::MAX)
}

fn too_long(steps: u32) -> String {
    format!(
        "no answer was found within {steps} steps; take rings nearer to the pattern's own \
         proportion, or ask the command `linkwright chain`, which does not give up"
    )
}
