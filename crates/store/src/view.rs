//! Reading: one consistent look at the data file.

use rusqlite::{Connection, Params, Row};

use crate::error::StoreError;
use crate::for_good::ForGood;
use crate::id::Id;
use crate::record::{Record, Saved, columns};
use crate::worked_out::WorkedOut;

/// One consistent look at the data file; what is saved meanwhile does not show in it.
pub struct View<'a> {
    pub(crate) connection: &'a Connection,
    /// Where results are kept; not for an action under way, nor for a look from outside.
    pub(crate) worked_out: Option<&'a WorkedOut>,
    /// Where what rests on no record is kept; not for a look from outside.
    pub(crate) for_good: Option<&'a ForGood>,
}

impl View<'_> {
    /// The record with this number.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is none.
    pub fn get<T: Record>(&self, id: Id<T>) -> Result<T, StoreError> {
        self.one::<T>("where id = ?1", [id])?
            .map(|saved| saved.record)
            .ok_or(StoreError::NotFound { record: T::NAME, number: id.number() })
    }

    /// All records of a kind, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn all<T: Record>(&self) -> Result<Vec<Saved<T>>, StoreError> {
        self.some::<T>("order by id", [])
    }

    /// How many records of a kind there are.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn count<T: Record>(&self) -> Result<u64, StoreError> {
        let query = format!("select count(*) from {}", T::TABLE);
        let count: i64 = self.connection.prepare_cached(&query)?.query_row([], |row| row.get(0))?;
        Ok(u64::try_from(count).unwrap_or(0))
    }

    /// The records a clause of SQL picks and orders.
    pub(crate) fn some<T: Record>(
        &self,
        clause: &str,
        given: impl Params,
    ) -> Result<Vec<Saved<T>>, StoreError> {
        let mut found = Vec::new();
        self.each(clause, given, |saved| {
            found.push(saved);
            Ok::<_, StoreError>(())
        })?;
        Ok(found)
    }

    /// The same one by one, so that no more than one is in memory.
    pub(crate) fn each<T: Record, E: From<StoreError>>(
        &self,
        clause: &str,
        given: impl Params,
        mut take: impl FnMut(Saved<T>) -> Result<(), E>,
    ) -> Result<(), E> {
        let database = |error| E::from(StoreError::from(error));
        let query = format!("select {} from {} {clause}", columns::<T>(), T::TABLE);
        let mut statement = self.connection.prepare_cached(&query).map_err(database)?;
        let mut rows = statement.query(given).map_err(database)?;
        while let Some(row) = rows.next().map_err(database)? {
            take(Saved::from_row(row).map_err(|error| unreadable::<T>(row, &error))?)?;
        }
        Ok(())
    }

    /// The first record a clause of SQL picks.
    pub(crate) fn one<T: Record>(
        &self,
        clause: &str,
        given: impl Params,
    ) -> Result<Option<Saved<T>>, StoreError> {
        let query = format!("select {} from {} {clause}", columns::<T>(), T::TABLE);
        let mut statement = self.connection.prepare_cached(&query)?;
        let mut rows = statement.query(given)?;
        rows.next()?
            .map(|row| Saved::from_row(row).map_err(|error| unreadable::<T>(row, &error)))
            .transpose()
    }
}

/// A row that is there but not in the form its kind of record has.
fn unreadable<T: Record>(row: &Row<'_>, error: &rusqlite::Error) -> StoreError {
    let number: i64 = row.get("id").unwrap_or_default();
    StoreError::Corrupt { record: T::NAME.to_owned(), what: format!("number {number}: {error}") }
}
