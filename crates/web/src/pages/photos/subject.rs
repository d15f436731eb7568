//! What a photo may be of, and where that stands.

use linkwright_store::records::{Batch, Blade, RingOrder, Run, Trial, WireLot};
use linkwright_store::{Id, Record, StoreError, View};

use crate::error::PageError;

/// A record that photos are shown with.
pub(super) struct Subject {
    /// Its table.
    pub(super) table: &'static str,
    /// Its number.
    pub(super) number: i64,
    /// What it is called, such as "blade small, thin".
    pub(super) title: String,
    /// Its page.
    pub(super) address: String,
}

impl Subject {
    /// The record of this number in a table, if photos may be of it and it is there.
    pub(super) fn find(view: &View<'_>, table: &str, number: i64) -> Result<Subject, PageError> {
        let found = Subject::of::<RingOrder>(view, table, number, "/orders", |order| order.name)
            .or_else(|| {
                Subject::of::<WireLot>(view, table, number, "/workshop/lots", |lot| lot.name)
            })
            .or_else(|| {
                Subject::of::<Blade>(view, table, number, "/workshop/blades", |one| one.name)
            })
            .or_else(|| {
                Subject::of::<Trial>(view, table, number, "/trials", |trial| {
                    format!("{} on {}", trial.wire_typed, trial.rod_typed)
                })
            })
            .or_else(|| Subject::of::<Run>(view, table, number, "/runs", |run| run.name))
            .or_else(|| Subject::of::<Batch>(view, table, number, "/rings", |batch| batch.code));
        Ok(found.ok_or(PageError::NotFound { what: "record that photos can be of" })??)
    }

    fn of<T: Record>(
        view: &View<'_>,
        table: &str,
        number: i64,
        pages: &str,
        name: impl FnOnce(T) -> String,
    ) -> Option<Result<Subject, StoreError>> {
        (table == T::TABLE).then(|| {
            let record = view.get(Id::<T>::new(number))?;
            Ok(Subject {
                table: T::TABLE,
                number,
                title: format!("{} {}", T::NAME, name(record)),
                address: format!("{pages}/{number}"),
            })
        })
    }
}
