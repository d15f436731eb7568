//! What was learned, kept between requests and brought up to date when a trial changes.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};

use linkwright_answers::pool::PortablePrior;
use linkwright_store::{StoreError, View};
use linkwright_trials::{Learned, TrialRow};

use super::jobs::Jobs;
use super::lessons::{Lessons, lessons};
use super::newest::Newest;
use super::others::KeptPrior;
use crate::state::locked;

/// What the trials on record teach now.
#[derive(Clone, Debug)]
pub(crate) struct Taught {
    /// The trials as they were read.
    pub(crate) lessons: Arc<Lessons>,
    /// What they teach.
    pub(crate) learned: Arc<Learned>,
    /// What other workshops' trials taught before them.
    pub(crate) others: Arc<PortablePrior>,
    /// Coils for jobs that were asked for, for as long as they teach the same.
    pub(super) jobs: Arc<Jobs>,
    /// Tells apart what was learned at different times.
    pub(crate) number: u64,
    /// Whether it is what was known before the last change, and the rest is being learned.
    pub(crate) is_former: bool,
}

impl Taught {
    /// What no trial teaches: geometry alone.
    pub(crate) fn nothing() -> Taught {
        let others = PortablePrior::geometry();
        let learned = Learned::fit(&[], &others.prior);
        Taught::of(Arc::default(), learned, Arc::new(others), 0)
    }

    /// The same trials under another belief, for a comparison.
    pub(crate) fn believing(&self, learned: Learned) -> Taught {
        Taught { learned: Arc::new(learned), jobs: Arc::default(), ..self.clone() }
    }

    /// What to know about it beside how many coils there are, in sentences.
    pub(crate) fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if let Some(Newest { of_each, on_record }) = self.lessons.newest {
            let coils = if of_each == 1 { "coil".to_owned() } else { format!("{of_each} coils") };
            notes.push(format!(
                "Of {on_record} coils on record it learns from the newest {coils} of each wire, rod \
                 and blade; what it says was tried counts those."
            ));
        }
        if self.is_former {
            notes.push(
                "This is what was known before the last entry. It is learning from that one too, \
                 and the page follows by itself."
                    .to_owned(),
            );
        }
        notes
    }

    fn of(
        lessons: Arc<Lessons>,
        learned: Learned,
        others: Arc<PortablePrior>,
        number: u64,
    ) -> Taught {
        let learned = Arc::new(learned);
        Taught { lessons, learned, others, jobs: Arc::default(), number, is_former: false }
    }
}

/// Coils that are learned from at most: seconds of work and some tens of MB, whatever is on record.
const COILS_MOST: usize = 4_000;

/// With more trials than this on record nobody waits for the learning: it takes more than a quarter
/// of a second.
const AT_ONCE_MOST: u32 = 2_000;

/// Name of what was learned among what was worked out from the records.
const NAME: &str = "what the trials teach";

/// The last thing learned, from which learning one more trial begins.
#[derive(Debug, Default)]
pub(crate) struct Kept {
    last: Mutex<Option<Taught>>,
    others: KeptPrior,
    /// Held while learning.
    learning: Mutex<()>,
    /// How often something was learned.
    times: AtomicU64,
}

impl Kept {
    /// What the trials on record teach, learned now if need be. After one more trial the settings
    /// that were likely before are kept and weighed anew, which takes milliseconds; other changes
    /// are learned afresh.
    pub(crate) fn learned_now(&self, view: &View<'_>) -> Result<Arc<Taught>, StoreError> {
        view.worked_out(NAME, || {
            // Only one request learns at a time; the others find it done.
            let _turn = locked(&self.learning);
            let lessons = Arc::new(lessons(view, COILS_MOST)?);
            let coils = &lessons.coils;
            let others = self.others.in_use(view)?;
            let former = locked(&self.last).clone().filter(|former| former.others == others);
            let taught = match former {
                Some(former) if former.lessons.coils == *coils => Taught { lessons, ..former },
                Some(former) if is_little_more(&former.lessons, &lessons) => {
                    let learned = former.learned.refit_with(coils);
                    Taught::of(lessons, learned, others, self.next())
                }
                _ => {
                    let learned = Learned::fit(coils, &others.prior);
                    Taught::of(lessons, learned, others, self.next())
                }
            };
            *locked(&self.last) = Some(taught.clone());
            Ok(taught)
        })
    }

    /// The same without waiting long: where learning takes its time, `beside` is to see to it, and
    /// this is what was known before the last change; `None` if that is nothing yet.
    pub(crate) fn at_hand(
        &self,
        view: &View<'_>,
        beside: impl FnOnce(),
    ) -> Result<Option<Arc<Taught>>, StoreError> {
        if let Some(taught) = view.already_worked_out(NAME)? {
            return Ok(Some(taught));
        }
        if !view.has_more_trials_than(AT_ONCE_MOST)? {
            return self.learned_now(view).map(Some);
        }
        beside();
        let former = locked(&self.last).clone();
        Ok(former.map(|former| Arc::new(Taught { is_former: true, ..former })))
    }

    fn next(&self) -> u64 {
        1 + self.times.fetch_add(1, Ordering::Relaxed)
    }
}

/// Whether only coils at the end are new, and few of them; where the newest of each cell are learned
/// from, as many old ones may have made room for them.
fn is_little_more(former: &Lessons, now: &Lessons) -> bool {
    let few = 1 + former.coils.len() / 20;
    if former.coils.is_empty() || now.coils.len() > former.coils.len() + few {
        return false;
    }
    match (former.newest, now.newest) {
        (None, None) => {
            now.coils.len() > former.coils.len() && now.coils.starts_with(&former.coils)
        }
        _ => new_coils(&former.coils, &now.coils).is_some_and(|new| new <= few),
    }
}

/// How many coils are new among those now, both oldest first; `None` if more went than came.
fn new_coils(former: &[TrialRow], now: &[TrialRow]) -> Option<usize> {
    const GONE_IN_A_ROW_MOST: usize = 8;
    let (mut before, mut new) = (former, 0);
    for coil in now {
        let ahead = &before[..before.len().min(GONE_IN_A_ROW_MOST)];
        match ahead.iter().position(|former| former == coil) {
            Some(gone) => before = &before[gone + 1..],
            None => new += 1,
        }
    }
    (now.len() >= former.len()).then_some(new)
}
