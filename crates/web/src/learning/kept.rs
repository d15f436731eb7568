//! What was learned, kept between requests and brought up to date when a trial changes.

use std::sync::{Arc, Mutex, PoisonError};

use linkwright_store::{StoreError, View};
use linkwright_trials::{Learned, Prior};

use super::{Lessons, lessons};

/// What the trials on record teach now.
#[derive(Clone, Debug)]
pub(crate) struct Taught {
    /// The trials as they were read.
    pub(crate) lessons: Arc<Lessons>,
    /// What they teach.
    pub(crate) learned: Arc<Learned>,
}

/// The last thing learned, and the state of the file it came from.
#[derive(Debug, Default)]
pub(crate) struct Kept {
    last: Mutex<Option<(i64, Taught)>>,
}

impl Kept {
    /// What the trials on record teach. After one more trial the settings that were likely before
    /// are kept and weighed anew, which takes milliseconds; other changes are learned afresh.
    pub(crate) fn taught(&self, view: &View<'_>) -> Result<Taught, StoreError> {
        let changes = view.change_count()?;
        // Only one request learns at a time; the others find it done.
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((at, taught)) = last.as_ref()
            && *at == changes
        {
            return Ok(taught.clone());
        }
        let lessons = Arc::new(lessons(view)?);
        let taught = match last.take() {
            Some((_, former)) if former.lessons.coils == lessons.coils => {
                Taught { lessons, learned: former.learned }
            }
            Some((_, former)) if is_one_more(&former.lessons, &lessons) => {
                Taught { learned: Arc::new(former.learned.refit_with(&lessons.coils)), lessons }
            }
            _ => Taught {
                learned: Arc::new(Learned::fit(&lessons.coils, &Prior::geometry())),
                lessons,
            },
        };
        *last = Some((changes, taught.clone()));
        Ok(taught)
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
