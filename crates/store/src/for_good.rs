//! What rests on no record, kept for as long as the file is open.

use std::any::Any;
use std::collections::HashMap;
use std::sync::{Arc, Mutex};

use crate::store::locked;
use crate::view::View;

type Anything = Arc<dyn Any + Send + Sync>;

/// Things by their names.
#[derive(Debug, Default)]
pub(crate) struct ForGood(Mutex<HashMap<&'static str, Anything>>);

impl View<'_> {
    /// Something that depends on no record, such as a memory of sums that were done: made when it is
    /// first asked for, and the same for every look and every action while the file is open.
    ///
    /// A name stands for one kind of thing; for another kind, something fresh is made each time.
    pub fn for_good<T: Send + Sync + 'static>(
        &self,
        name: &'static str,
        make: impl FnOnce() -> T,
    ) -> Arc<T> {
        let Some(kept) = self.for_good else { return Arc::new(make()) };
        let mut kept = locked(&kept.0);
        if let Some(thing) = kept.get(name) {
            return Arc::clone(thing).downcast().unwrap_or_else(|_| Arc::new(make()));
        }
        let thing = Arc::new(make());
        kept.insert(name, Arc::clone(&thing) as Anything);
        thing
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;

    use crate::records::MetalOverlay;
    use crate::{Moment, Store, StoreError, View};

    #[test]
    fn what_rests_on_no_record_outlives_changes_and_is_seen_by_actions_too() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let count = |view: &View<'_>| {
            let counter = view.for_good("counter", || Mutex::new(0));
            let mut counter = counter.lock().expect("not poisoned");
            *counter += 1;
            Ok::<_, StoreError>(*counter)
        };
        assert_eq!(store.read(count).expect("read"), 1);
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let metal = MetalOverlay { metal: "a".to_owned(), entry: "x".to_owned() };
        let in_act = store.act(now, "Added", |act| {
            act.add(&metal)?;
            count(act)
        });
        assert_eq!(in_act.expect("saved"), 2);
        assert_eq!(store.read(count).expect("read"), 3);
        let other = store
            .read(|view| Ok::<_, StoreError>(view.for_good("counter", || "another kind").len()));
        assert_eq!(other.expect("read"), "another kind".len());
    }
}
