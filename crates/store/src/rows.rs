//! Every kind of record as plain rows, for programs that read along.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use rusqlite::types::ValueRef;
use rusqlite::{Row, params};
use serde_json::{Map, Value};

use crate::error::StoreError;
use crate::schema::RECORD_TABLES;
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
    /// If the file cannot be read.
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
        let query = format!("select * from {table} where id > ?1 order by id limit ?2");
        let mut statement = self.connection.prepare_cached(&query)?;
        let names: Vec<String> = statement.column_names().map(str::to_owned).collect();
        let mut found = Vec::new();
        let mut rows = statement.query(params![after, count])?;
        while let Some(row) = rows.next()? {
            found.push(object(&names, row)?);
        }
        Ok(Some(found))
    }
}

/// A row with all its columns by name; bytes are written in base64.
pub(crate) fn object(names: &[String], row: &Row<'_>) -> rusqlite::Result<Map<String, Value>> {
    let named = names.iter().enumerate();
    named.map(|(at, name)| Ok((name.clone(), as_json(row.get_ref(at)?)))).collect()
}

fn as_json(value: ValueRef<'_>) -> Value {
    match value {
        ValueRef::Null => Value::Null,
        ValueRef::Integer(whole) => Value::from(whole),
        ValueRef::Real(real) => Value::from(real),
        ValueRef::Text(text) => Value::from(String::from_utf8_lossy(text)),
        ValueRef::Blob(bytes) => Value::from(STANDARD.encode(bytes)),
    }
}
