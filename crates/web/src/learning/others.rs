//! What the loaded files of other workshops teach.

use std::sync::{Arc, Mutex};

use crate::state::locked;
use linkwright_answers::pool::{PortablePrior, read_workshop};
use linkwright_store::records::OtherWorkshop;
use linkwright_store::{Saved, StoreError, View};
use linkwright_trials::Pool;

/// The last prior worked out, with the files it came from: other records change far more often.
#[derive(Debug, Default)]
pub(super) struct KeptPrior {
    last: Mutex<Option<(Vec<String>, Arc<PortablePrior>)>>,
}

impl KeptPrior {
    /// The prior of the files this workshop learns from.
    pub(super) fn in_use(&self, view: &View<'_>) -> Result<Arc<PortablePrior>, StoreError> {
        let files = view.all::<OtherWorkshop>()?;
        let used: Vec<Saved<OtherWorkshop>> =
            files.into_iter().filter(|file| file.record.in_use).collect();
        let contents: Vec<&str> = used.iter().map(|file| file.record.content.as_str()).collect();
        let mut last = locked(&self.last);
        if let Some((_, prior)) = last.as_ref().filter(|(known, _)| *known == contents) {
            return Ok(Arc::clone(prior));
        }
        let prior = Arc::new(prior_of(&used)?);
        *last = Some((contents.into_iter().map(str::to_owned).collect(), Arc::clone(&prior)));
        Ok(prior)
    }
}

/// What some loaded files teach together; geometry alone if there are none.
pub(crate) fn prior_of(files: &[Saved<OtherWorkshop>]) -> Result<PortablePrior, StoreError> {
    let mut pool = Pool::default();
    for file in files {
        let workshop = read_workshop(file.record.content.as_bytes());
        pool.add(workshop.map_err(|error| StoreError::Corrupt {
            record: "file of another workshop".to_owned(),
            what: format!("number {}: {error}", file.id.number()),
        })?);
    }
    Ok(PortablePrior::of(&pool))
}
