//! What was learned, kept between requests and brought up to date when a trial changes.

use std::sync::{Arc, Mutex, PoisonError};

use linkwright_answers::pool::PortablePrior;
use linkwright_store::{StoreError, View};
use linkwright_trials::Learned;

use super::jobs::Jobs;
use super::others::KeptPrior;
use super::{Lessons, lessons};

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
}

impl Taught {
    /// What no trial teaches: geometry alone.
    pub(crate) fn nothing() -> Taught {
        let others = PortablePrior::geometry();
        let learned = Learned::fit(&[], &others.prior);
        Taught::of(Arc::default(), learned, Arc::new(others))
    }

    /// The same trials under another belief, for a comparison.
    pub(crate) fn believing(&self, learned: Learned) -> Taught {
        Taught::of(Arc::clone(&self.lessons), learned, Arc::clone(&self.others))
    }

    fn of(lessons: Arc<Lessons>, learned: Learned, others: Arc<PortablePrior>) -> Taught {
        Taught { lessons, learned: Arc::new(learned), others, jobs: Arc::default() }
    }
}

/// The last thing learned, from which learning one more trial begins.
#[derive(Debug, Default)]
pub(crate) struct Kept {
    last: Mutex<Option<Taught>>,
    others: KeptPrior,
}

impl Kept {
    /// What the trials on record teach. After one more trial the settings that were likely before
    /// are kept and weighed anew, which takes milliseconds; other changes are learned afresh.
    pub(crate) fn taught(&self, view: &View<'_>) -> Result<Arc<Taught>, StoreError> {
        view.worked_out("what the trials teach", || {
            // Only one request learns at a time; the others find it done.
            let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
            let lessons = Arc::new(lessons(view)?);
            let coils = &lessons.coils;
            let others = self.others.in_use(view)?;
            let former = last.take().filter(|former| former.others == others);
            let taught = match former {
                Some(former) if former.lessons.coils == *coils => Taught { lessons, ..former },
                Some(former) if is_one_more(&former.lessons, &lessons) => {
                    let learned = former.learned.refit_with(coils);
                    Taught::of(lessons, learned, others)
                }
                _ => {
                    let learned = Learned::fit(coils, &others.prior);
                    Taught::of(lessons, learned, others)
                }
            };
            *last = Some(taught.clone());
            Ok(taught)
        })
    }
}

/// Whether only coils at the end are new, and few of them.
fn is_one_more(former: &Lessons, now: &Lessons) -> bool {
    let few = former.coils.len() + 1 + former.coils.len() / 20;
    !former.coils.is_empty()
        && now.coils.len() > former.coils.len()
        && now.coils.len() <= few
        && now.coils.starts_with(&former.coils)
}
