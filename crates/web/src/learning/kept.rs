//! What was learned, kept between requests and brought up to date when a trial changes.

use std::sync::{Arc, Mutex, PoisonError};

use linkwright_store::{StoreError, View};
use linkwright_trials::{Learned, Prior};

use super::jobs::Jobs;
use super::{Lessons, lessons};

/// What the trials on record teach now.
#[derive(Clone, Debug)]
pub(crate) struct Taught {
    /// The trials as they were read.
    pub(crate) lessons: Arc<Lessons>,
    /// What they teach.
    pub(crate) learned: Arc<Learned>,
    /// Coils for jobs that were asked for, for as long as they teach the same.
    pub(super) jobs: Arc<Jobs>,
}

impl Taught {
    /// What no trial teaches: geometry alone.
    pub(crate) fn nothing() -> Taught {
        Taught::of(Arc::default(), Arc::new(Learned::fit(&[], &Prior::geometry())))
    }

    fn of(lessons: Arc<Lessons>, learned: Arc<Learned>) -> Taught {
        Taught { lessons, learned, jobs: Arc::default() }
    }
}

/// The last thing learned, from which learning one more trial begins.
#[derive(Debug, Default)]
pub(crate) struct Kept {
    last: Mutex<Option<Taught>>,
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
            let taught = match last.take() {
                Some(former) if former.lessons.coils == *coils => Taught { lessons, ..former },
                Some(former) if is_one_more(&former.lessons, &lessons) => {
                    let learned = former.learned.refit_with(coils);
                    Taught::of(lessons, Arc::new(learned))
                }
                _ => {
                    let learned = Learned::fit(coils, &Prior::geometry());
                    Taught::of(lessons, Arc::new(learned))
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
