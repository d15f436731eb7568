//! A table kept between its upload and its import, so that every step works without scripts.

use rusqlite::{OptionalExtension, params};
use time::Duration;

use crate::act::Act;
use crate::error::StoreError;
use crate::moment::Moment;
use crate::spreadsheet::Tables;
use crate::store::Store;
use crate::view::View;

/// A table as it was sent.
#[derive(Clone, Debug)]
pub struct Staged {
    /// Name of the file.
    pub name: String,
    /// What is in it.
    pub tables: Tables,
}

const DROP: &str = "delete from import_staging where id = ?1";

impl Store {
    /// Keeps a table for the steps that follow and says under which number; tables older than a day
    /// go. This is no record and cannot be undone.
    ///
    /// # Errors
    /// If nothing could be saved.
    pub fn stage(&self, now: Moment, staged: &Staged) -> Result<i64, StoreError> {
        let content = serde_json::to_string(&staged.tables).map_err(|error| {
            StoreError::Corrupt { record: "table".to_owned(), what: error.to_string() }
        })?;
        let day_ago = Moment::at(now.utc() - Duration::days(1));
        self.beside_records(|connection| {
            connection.execute("delete from import_staging where made_at < ?1", [day_ago])?;
            connection.execute(
                "insert into import_staging (made_at, name, content) values (?1, ?2, ?3)",
                params![now, staged.name, content],
            )?;
            Ok(connection.last_insert_rowid())
        })
    }

    /// Drops a table that is not wanted any more.
    ///
    /// # Errors
    /// If nothing could be saved.
    pub fn drop_staged(&self, number: i64) -> Result<(), StoreError> {
        self.beside_records(|connection| connection.execute(DROP, [number]))?;
        Ok(())
    }
}

impl View<'_> {
    /// A table that was kept.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if it has gone.
    pub fn staged(&self, number: i64) -> Result<Staged, StoreError> {
        let query = "select name, content from import_staging where id = ?1";
        let found: Option<(String, String)> = self
            .connection
            .prepare_cached(query)?
            .query_row([number], |row| Ok((row.get(0)?, row.get(1)?)))
            .optional()?;
        let (name, content) = found.ok_or(StoreError::NotFound { record: "table", number })?;
        let tables = serde_json::from_str(&content).map_err(|error| StoreError::Corrupt {
            record: "import_staging".to_owned(),
            what: error.to_string(),
        })?;
        Ok(Staged { name, tables })
    }
}

impl Act<'_> {
    /// Drops a table together with the import that used it.
    ///
    /// # Errors
    /// If the file cannot be written.
    pub fn drop_staged(&self, number: i64) -> Result<(), StoreError> {
        self.connection.execute(DROP, [number])?;
        Ok(())
    }
}
