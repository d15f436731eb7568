//! What was worked out from the records, kept until a record changes.

use std::any::Any;
use std::collections::HashMap;
use std::sync::{Arc, Mutex};

use rusqlite::OptionalExtension;

use crate::error::StoreError;
use crate::moment::Moment;
use crate::store::locked;
use crate::view::View;

/// Results kept at most; all go when one more comes.
const KEPT_MOST: usize = 64;

type AnyResult = Arc<dyn Any + Send + Sync>;

/// The results of one state of the records.
#[derive(Debug, Default)]
pub(crate) struct WorkedOut {
    of: Mutex<(State, HashMap<String, AnyResult>)>,
}

/// Names a state of the records: the last change, and the moment of its action, since the numbers
/// begin anew when an invented workshop is removed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct State {
    change: i64,
    action_at: Option<Moment>,
}

impl View<'_> {
    /// What `work` comes to, which must depend on nothing but the records and `name`: worked out
    /// once for as long as no record changes, whoever looks.
    ///
    /// # Errors
    /// Those of `work`, of which none is kept, and if the file cannot be read.
    pub fn worked_out<T: Send + Sync + 'static, E: From<StoreError>>(
        &self,
        name: &str,
        work: impl FnOnce() -> Result<T, E>,
    ) -> Result<Arc<T>, E> {
        let Some(kept) = self.worked_out else { return work().map(Arc::new) };
        let state = self.state().map_err(E::from)?;
        if let Some(result) = kept.result(&state, name) {
            return Ok(result);
        }
        let result = Arc::new(work()?);
        kept.keep(state, name, Arc::clone(&result) as AnyResult);
        Ok(result)
    }

    /// The same where it was worked out already for the records as they are.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn already_worked_out<T: Send + Sync + 'static>(
        &self,
        name: &str,
    ) -> Result<Option<Arc<T>>, StoreError> {
        let Some(kept) = self.worked_out else { return Ok(None) };
        Ok(kept.result(&self.state()?, name))
    }

    fn state(&self) -> Result<State, StoreError> {
        let mut last =
            self.connection.prepare_cached("select at_utc from action order by id desc limit 1")?;
        let action_at = last.query_row([], |row| row.get(0)).optional()?;
        Ok(State { change: self.change_count()?, action_at })
    }
}

impl WorkedOut {
    fn result<T: Send + Sync + 'static>(&self, state: &State, name: &str) -> Option<Arc<T>> {
        let of = locked(&self.of);
        let result = of.1.get(name).filter(|_| of.0 == *state)?;
        Arc::clone(result).downcast().ok()
    }

    fn keep(&self, state: State, name: &str, result: AnyResult) {
        let mut of = locked(&self.of);
        if of.0 != state || of.1.len() >= KEPT_MOST {
            *of = (state, HashMap::new());
        }
        of.1.insert(name.to_owned(), result);
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;
    use std::sync::Arc;

    use crate::records::MetalOverlay;
    use crate::{Moment, Store, StoreError, View};

    fn metal(name: &str) -> MetalOverlay {
        MetalOverlay { metal: name.to_owned(), entry: "x".to_owned() }
    }

    fn now() -> Moment {
        Moment::parse("2026-11-25T08:30:00Z").expect("a moment")
    }

    #[test]
    fn a_result_is_worked_out_once_for_each_state_of_the_records() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let times = Cell::new(0);
        let names = |view: &View<'_>| {
            view.worked_out("names", || {
                times.set(times.get() + 1);
                let all = view.all::<MetalOverlay>()?;
                Ok::<_, StoreError>(all.into_iter().map(|one| one.record.metal).collect::<Vec<_>>())
            })
        };
        let read = || store.read(names).expect("read");
        let already = || store.read(|view| view.already_worked_out::<Vec<String>>("names"));
        assert_eq!(already().expect("read"), None);
        assert!(read().is_empty() && read().is_empty());
        assert!(already().expect("read").is_some());
        assert_eq!(times.get(), 1);
        store.act(now(), "Added", |act| act.add(&metal("a"))).expect("saved");
        assert_eq!(already().expect("read"), None);
        assert_eq!((read().len(), read().len(), times.get()), (1, 1, 2));
        store.undo_last(now()).expect("undone");
        assert_eq!((read().len(), times.get()), (0, 3));
        // Nothing was changed, so nothing is worked out anew.
        store.remember("theme", "dark").expect("kept");
        assert_eq!((read().len(), times.get()), (0, 3));
    }

    #[test]
    fn an_action_under_way_neither_sees_nor_leaves_a_kept_result() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let count = |view: &View<'_>| view.worked_out("count", || view.count::<MetalOverlay>());
        assert_eq!(*store.read(count).expect("read"), 0);
        let failed = store.act(now(), "Added", |act| {
            act.add(&metal("a"))?;
            assert_eq!(*count(act)?, 1);
            Err::<(), _>(StoreError::NoRoom)
        });
        assert!(failed.is_err());
        assert_eq!(*store.read(count).expect("read"), 0);
    }

    #[test]
    fn a_failure_is_not_kept_and_another_kind_under_the_same_name_is_no_answer() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        store
            .read(|view| {
                let failed = view.worked_out::<u8, _>("x", || Err(StoreError::NoRoom));
                assert!(failed.is_err());
                assert_eq!(*view.worked_out("x", || Ok::<_, StoreError>(1_u8))?, 1);
                let other: Arc<String> =
                    view.worked_out("x", || Ok::<_, StoreError>("two".to_owned()))?;
                assert_eq!(*other, "two");
                Ok::<_, StoreError>(())
            })
            .expect("read");
    }
}
