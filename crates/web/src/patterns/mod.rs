//! The patterns known in this workshop: those that come with the program, and its own.

pub(crate) mod tried;

use std::collections::BTreeMap;
use std::sync::Arc;

use linkwright_answers::chain::{KnownPatterns, OwnKnown, Solver};
use linkwright_store::records::KeptPattern;
use linkwright_store::{LineInFull, StoreError, View};
use tokio::sync::Semaphore;

use crate::error::PageError;

/// Steps after which a pattern that no table knows is given up: six rings a repeat take some six thousand,
/// of 1.2 to 1.7 ms each on a busy machine, and a page takes no more than a minute.
const STEPS_MOST: u32 = 12_000;

/// The solver works on one question of a page at a time, and no page that needs no answer waits for it.
static SOLVING: Semaphore = Semaphore::const_new(1);

/// The patterns that an order, a page or a question may name.
///
/// # Errors
/// If the file cannot be read.
pub fn known_patterns(view: &View<'_>) -> Result<Arc<KnownPatterns>, StoreError> {
    view.worked_out("patterns known here", || {
        let mut known = KnownPatterns::built_in().solved_by((*solver(view)).clone());
        for saved in view.all::<KeptPattern>()? {
            known.add(known_of(&saved.record));
        }
        for (name, at) in view.own_patterns_gone()? {
            let gone = format!(
                "is not there any more, it was removed or renamed on {}: choose another, or bring it in \
                 again under Chain, own patterns",
                at.date()
            );
            known.tell_gone(name, gone);
        }
        Ok(known)
    })
}

/// The text of every pattern of one's own, by its key.
pub(crate) fn own_texts(view: &View<'_>) -> Result<Arc<BTreeMap<String, String>>, StoreError> {
    view.worked_out("texts of own patterns", || {
        let all = view.all::<KeptPattern>()?.into_iter();
        Ok(all.map(|kept| (kept.record.name, kept.record.text)).collect())
    })
}

/// Whether the pattern of one's own in which an order's line is linked is another than when the line was
/// last changed.
pub(crate) fn is_changed_since_ordered(
    view: &View<'_>,
    line: &LineInFull,
) -> Result<bool, StoreError> {
    let Some(name) = &line.line.pattern else { return Ok(false) };
    let texts = own_texts(view)?;
    let Some(now) = texts.get(name) else { return Ok(false) };
    Ok(view.own_pattern_as_ordered(line.id, name)?.is_some_and(|then| then != *now))
}

fn known_of(kept: &KeptPattern) -> OwnKnown {
    let own = tried::stands(&kept.name, &kept.text, kept.start.as_deref());
    OwnKnown {
        called: kept.name.clone(),
        found: match own {
            Ok(own) => Ok((own.pattern, Some(kept.aspect_ratio_min))),
            Err(error) => Err(error.said()),
        },
    }
}

/// What solves patterns on the spot, and remembers what it solved for as long as the program runs.
pub(crate) fn solver(view: &View<'_>) -> Arc<Solver> {
    view.for_good("solver of patterns", || Solver::giving_up_after(STEPS_MOST))
}

/// Does work of the solver off the threads that serve, when its turn has come. Whoever asked may hang up:
/// the turn is given back only when the work is done.
pub(crate) async fn one_at_a_time<T: Send + 'static>(
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, PageError> {
    let turn = SOLVING.acquire().await.map_err(|error| PageError::Inside(Box::new(error)))?;
    let outcome = tokio::task::spawn_blocking(move || {
        let outcome = work();
        drop(turn);
        outcome
    });
    Ok(outcome.await?)
}
