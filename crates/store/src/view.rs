//! Reading: one consistent look at the data file.

use rusqlite::{Connection, OptionalExtension, Params};

use crate::error::StoreError;
use crate::id::Id;
use crate::record::{Record, Saved, columns};

/// One consistent look at the data file; what is saved meanwhile does not show in it.
pub struct View<'a> {
    pub(crate) connection: &'a Connection,
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
        let query = format!("select {} from {} {clause}", columns::<T>(), T::TABLE);
        let mut statement = self.connection.prepare_cached(&query)?;
        let found = statement.query_map(given, Saved::from_row)?.collect::<Result<_, _>>()?;
        Ok(found)
    }

    /// The first record a clause of SQL picks.
    pub(crate) fn one<T: Record>(
        &self,
        clause: &str,
        given: impl Params,
    ) -> Result<Option<Saved<T>>, StoreError> {
        let query = format!("select {} from {} {clause}", columns::<T>(), T::TABLE);
        let mut statement = self.connection.prepare_cached(&query)?;
        Ok(statement.query_row(given, Saved::from_row).optional()?)
    }
}
