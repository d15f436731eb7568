//! Changing: everything one action does is saved together or not at all.

use std::ops::Deref;

use rusqlite::{ToSql, Transaction};

use crate::error::StoreError;
use crate::for_good::ForGood;
use crate::id::Id;
use crate::record::Record;
use crate::view::View;

/// An action under way; it reads like a [`View`] and sees its own changes.
pub struct Act<'a> {
    view: View<'a>,
}

impl<'a> Deref for Act<'a> {
    type Target = View<'a>;

    fn deref(&self) -> &View<'a> {
        &self.view
    }
}

impl<'a> Act<'a> {
    pub(crate) fn new(transaction: &'a Transaction<'_>, for_good: &'a ForGood) -> Act<'a> {
        let for_good = Some(for_good);
        Act { view: View { connection: transaction, worked_out: None, for_good } }
    }

    /// Adds a record and says its number.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if a rule of its table stands against it.
    pub fn add<T: Record>(&self, record: &T) -> Result<Id<T>, StoreError> {
        let marks: Vec<String> = (1..=T::COLUMNS.len()).map(|at| format!("?{at}")).collect();
        let statement = format!(
            "insert into {} ({}) values ({})",
            T::TABLE,
            T::COLUMNS.join(", "),
            marks.join(", ")
        );
        let values = record.values();
        self.connection.prepare_cached(&statement)?.execute(values.as_slice())?;
        Ok(Id::new(self.connection.last_insert_rowid()))
    }

    /// Puts a record in the place of the one with this number; its former value is kept.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is none, [`StoreError::Conflict`] if a rule of its table
    /// stands against it.
    pub fn change<T: Record>(&self, id: Id<T>, record: &T) -> Result<(), StoreError> {
        let settings: Vec<String> =
            T::COLUMNS.iter().zip(1..).map(|(column, at)| format!("{column} = ?{at}")).collect();
        let statement = format!(
            "update {} set {} where id = ?{}",
            T::TABLE,
            settings.join(", "),
            T::COLUMNS.len() + 1
        );
        let mut values: Vec<&dyn ToSql> = record.values();
        values.push(&id);
        let changed = self.connection.prepare_cached(&statement)?.execute(values.as_slice())?;
        found::<T>(id, changed)
    }

    /// Takes a record out of sight; its former value is kept.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is none, [`StoreError::Conflict`] if others refer to it.
    pub fn remove<T: Record>(&self, id: Id<T>) -> Result<(), StoreError> {
        let statement = format!("delete from {} where id = ?1", T::TABLE);
        let removed = self.connection.prepare_cached(&statement)?.execute([id])?;
        found::<T>(id, removed)
    }
}

fn found<T: Record>(id: Id<T>, rows: usize) -> Result<(), StoreError> {
    match rows {
        0 => Err(StoreError::NotFound { record: T::NAME, number: id.number() }),
        _ => Ok(()),
    }
}
