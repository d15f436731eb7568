//! Every kind of record as plain rows, for programs that read along.

use rusqlite::params;
use serde_json::{Map, Value};

use crate::error::StoreError;
use crate::schema::{RECORD_TABLES, columns_of};
use crate::view::View;

/// The tables whose rows are records, in the order they refer to each other.
#[must_use]
pub fn record_tables() -> &'static [&'static str] {
    RECORD_TABLES
}

impl View<'_> {
    /// Up to `count` rows of a table after number `after`, each with all its columns by name; `None`
    /// if no kind of record has that table.
    ///
    /// # Errors
    /// If the file cannot be read or a row is no JSON.
    pub fn rows(
        &self,
        table: &str,
        after: i64,
        count: u32,
    ) -> Result<Option<Vec<Map<String, Value>>>, StoreError> {
        // The name in the statement is ours, never the caller's.
        let Some(table) = RECORD_TABLES.iter().find(|known| **known == table) else {
            return Ok(None);
        };
        let columns: Vec<String> = columns_of(self.connection, table)?
            .iter()
            .map(|column| format!("'{column}', {column}"))
            .collect();
        let query = format!(
            "select json_object({}) from {table} where id > ?1 order by id limit ?2",
            columns.join(", ")
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let mut found = Vec::new();
        let mut rows = statement.query(params![after, count])?;
        while let Some(row) = rows.next()? {
            let text: String = row.get(0)?;
            let object = serde_json::from_str(&text).map_err(|error| StoreError::Corrupt {
                record: (*table).to_owned(),
                what: error.to_string(),
            })?;
            found.push(object);
        }
        Ok(Some(found))
    }
}
